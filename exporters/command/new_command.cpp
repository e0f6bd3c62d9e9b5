#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <utility>

#include "base/problem.hpp"
#include "command/commands.hpp"
#include "command/printed.hpp"
#include "command/starters.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

struct Options {
  std::string folder;
  std::string piece = "piece-01";
  std::string instrument = "instrument-01";
  std::string survey = "bench";
};

using Files = std::vector<std::pair<std::string, std::string>>;  ///< name below the folder, and text

const std::string& starter(const std::string& name) {
  const auto found = std::find_if(starters().begin(), starters().end(),
                                  [&](const Starter& candidate) { return candidate.name == name; });
  if (found == starters().end()) throw std::logic_error("no starter document " + name);
  return found->text;
}

/// The value of the first string under that key, exchanged.
std::string with_value(std::string text, const std::string& key, const std::string& value) {
  const std::string head = "\"" + key + "\": \"";
  const std::size_t start = text.find(head);
  if (start == std::string::npos) throw std::logic_error("a starter document has no " + key);
  const std::size_t first = start + head.size();
  return text.replace(first, text.find('"', first) - first, value);
}

/// The starter's readings are of an invented piece: until they are replaced the piece is put aside, so that
/// nobody drills by them.
std::string tube_text(const std::string& name, const std::string& piece) {
  std::string text = with_value(starter(name), "id", piece);
  const std::string aside =
      "\"verdict\": \"aside\",  // take these two lines out when the readings below are your own\n"
      "  \"verdict_note\": \"still the readings of the starter document\",\n";
  const std::size_t verdict = text.find("  \"verdict\":");
  if (verdict != std::string::npos) {
    const std::size_t end = text.find('\n', verdict) + 1;
    return text.replace(verdict, end - verdict, "  " + aside);
  }
  return text.insert(text.find("  \"material\""), "  " + aside);
}

std::string workshop_text(const Options& options) {
  return "{\n  \"format\": \"culmwright workshop\",\n  \"version\": 1,\n  \"id\": \"workshop\",\n"
         "  // File names are counted from this folder. Every piece is a document of its own; add yours "
         "here.\n"
         "  \"tubes\": [ \"tubes/" +
         file_name(options.piece) + ".json\" ],\n  \"key_layouts\": [ \"key-layouts/" +
         file_name(options.instrument) +
         ".json\" ],\n  \"shop\": \"shop.json\",\n"
         "  // A placement says where this key layout goes on that piece: copy the proposal you like to "
         "placements/.\n"
         "  \"placements\": []\n}\n";
}

Files first_files(const Options& options) {
  Files files = {{"workshop.json", workshop_text(options)},
                 {"shop.json", starter("shop.json")},
                 {"key-layouts/" + file_name(options.instrument) + ".json",
                  with_value(starter("key_layout.json"), "id", options.instrument)}};
  return files;
}

Files piece_files(const Options& options) {
  const std::string name = options.survey == "quick"    ? "tube_quick.json"
                           : options.survey == "plates" ? "tube_on_plates.json"
                                                        : "tube.json";
  std::string text = tube_text(name, options.piece);
  Files files;
  if (options.survey == "plates") {
    const std::string table = file_name(options.piece) + "-stations.csv";
    text = with_value(text, "stations_csv", table);
    files.push_back({"tubes/" + table, starter("tube_stations.csv")});
  }
  files.push_back({"tubes/" + file_name(options.piece) + ".json", text});
  return files;
}

/// Nothing is written over: all that stands in the way is named, and nothing is written then.
void write_all(const fs::path& folder, const Files& files) {
  std::vector<Problem> problems;
  for (const auto& [name, text] : files) {
    if (!fs::exists(folder / name)) continue;
    problems.push_back({"file-exists",
                        {(folder / name).string(), 0, 0, ""},
                        "there already",
                        "a name that is free",
                        "Say another --piece or --instrument, or another folder"});
  }
  if (!problems.empty()) throw InputError(problems);
  for (const auto& [name, text] : files) {
    std::error_code failed;
    fs::create_directories((folder / name).parent_path(), failed);
    std::ofstream file(folder / name, std::ios::binary);
    file << text;
    file.close();
    if (!file) {
      throw InputError({{"not-written",
                         {(folder / name).string(), 0, 0, ""},
                         "the disk refuses",
                         "a folder that can be written to",
                         "Say another folder"}});
    }
  }
}

void say_what_next(const Options& options, const Files& files, bool first) {
  for (const auto& [name, text] : files)
    std::cout << "  " << (fs::path(options.folder) / name).string() << "\n";
  const std::string tube =
      (fs::path(options.folder) / ("tubes/" + file_name(options.piece) + ".json")).string();
  const std::string workshop = (fs::path(options.folder) / "workshop.json").string();
  std::cout << "\nNext:\n";
  if (!first) {
    std::cout << wrapped(
        "- Add \"tubes/" + file_name(options.piece) + ".json\" to the tubes in " + workshop + ".", 2);
  }
  std::cout
      << wrapped(
             "1. Measure the piece and type your readings over those in " + tube +
                 "; each field is explained there. Then take out its verdict. Until then the piece counts as "
                 "put aside. (`culmwright survey --form --out " +
                 options.folder + "` prints a form; `--ask` asks for one reading at a time.)",
             2)
      << "  2. culmwright survey " << tube << "\n"
      << "  3. culmwright propose " << workshop << " --out "
      << (fs::path(options.folder) / "proposals").string() << "\n"
      << "  4. culmwright make " << workshop << " --out " << (fs::path(options.folder) / "made").string()
      << "\n";
}

int run(const Options& options) {
  const bool first = !fs::exists(fs::path(options.folder) / "workshop.json");
  Files files = first ? first_files(options) : Files{};
  for (auto& file : piece_files(options)) files.push_back(std::move(file));
  write_all(options.folder, files);
  say_what_next(options, files, first);
  return done;
}

}  // namespace

Command new_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* starting = app.add_subcommand(
      "new", "A workshop to start from, with notes that explain each field; or one more piece in it");
  starting->add_option("FOLDER", options->folder, "of the workshop; made where there is none")->required();
  starting->add_option("--piece", options->piece, "what the piece is called (piece-01)");
  starting->add_option("--instrument", options->instrument, "what the key layout is called (instrument-01)");
  starting
      ->add_option("--survey", options->survey,
                   "how the piece is measured: bench (calipers and tape, the default), plates, or quick")
      ->check(CLI::IsMember({"bench", "plates", "quick"}));
  starting->footer("Example:\n  culmwright new my-workshop --piece culm-01 --instrument alto");
  return {starting, [options] { return run(*options); }};
}

}  // namespace culmwright::command
