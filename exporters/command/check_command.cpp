#include <filesystem>
#include <iostream>

#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "files/output_folder.hpp"
#include "paper/place_pictures.hpp"
#include "svg.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

/// A picture of every place where a rule is broken or asks for a look.
void write_places(const Job& job, const fs::path& out) {
  std::vector<MarkedPlace> places;
  for (const Finding& finding : job.findings) {
    if (!finding.passes) places.push_back({finding.place, title_of(finding), finding.sentence});
  }
  if (places.empty()) return;
  const Drawing drawing = place_pictures(job.fit.tube(), job.instrument, places);
  for (std::size_t i = 0; i < drawing.pages.size(); ++i) {
    const std::string sheet = drawing.pages.size() == 1 ? "" : "-sheet-" + std::to_string(i + 1);
    const std::string name = job.instrument.id + "-places" + sheet + ".svg";
    write_output_file(out / name, to_svg(drawing.pages[i]));
    std::cout << "  The places as pictures: " << (out / name).string() << "\n";
  }
}

}  // namespace

int run_check(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"nothing-to-check",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  JsonValue list = JsonValue::array();
  bool sound = true;
  for (const Job& job : jobs) {
    sound = sound && acceptable(job.findings);
    if (options.json) {
      list.push(check_json(job.instrument, job.findings, balance_of(job)));
    } else {
      std::cout << check_text(job.instrument, job.findings, balance_of(job)) << "\n";
    }
    if (!options.out.empty()) write_places(job, options.out);
  }
  if (options.json) std::cout << to_text(list);
  return sound ? done : rule_failed;
}

}  // namespace culmwright::command
