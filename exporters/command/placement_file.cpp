#include "command/placement_file.hpp"

#include <filesystem>
#include <fstream>

#include "files/output_folder.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

/// The placement's own file is the maker's: it is written beside itself and put in place by renaming.
void replace_file(const fs::path& file, const std::string& bytes) {
  const fs::path beside = file.string() + ".new";
  {
    std::ofstream out(beside, std::ios::binary);
    out << bytes;
    out.flush();
    if (!out) {
      throw InputError({{"cannot-write",
                         {file.string(), 0, 0, ""},
                         "a disk or folder that refuses the new file",
                         "a folder that may be written to",
                         ""}});
    }
  }
  fs::rename(beside, file);
}

}  // namespace

const Job& only_job(const std::vector<Job>& jobs) {
  if (jobs.size() == 1) return jobs.front();
  throw InputError({{"one-placement",
                     {},
                     std::to_string(jobs.size()) + " placements among the files",
                     "one placement, with its tube and its key layout",
                     "Name the files, or a workshop and --tube"}});
}

std::string write_changed(const Loaded<Placement>& read, const Placement& changed, const std::string& out) {
  const fs::path file = out.empty() ? fs::path(read.locations.file) : fs::path(out) / (changed.id + ".json");
  const std::string text = placement_to_json(changed);
  // Throws: nothing is written that could not be read again.
  read_placement_text(text, file.string() + ", as it would be written");
  if (out.empty()) {
    replace_file(file, text);
  } else {
    write_output_file(file, text);
  }
  return file.string();
}

}  // namespace culmwright::command
