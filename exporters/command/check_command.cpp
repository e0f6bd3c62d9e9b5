#include <filesystem>
#include <iostream>

#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/hand_text.hpp"
#include "command/in_place.hpp"
#include "command/pages.hpp"
#include "command/player_option.hpp"
#include "command/terminal.hpp"
#include "command/tolerance_text.hpp"
#include "files/output_folder.hpp"
#include "fit/sign.hpp"
#include "paper/place_pictures.hpp"
#include "tube/check_girth.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  bool json = false;
  std::string tube;
  std::string hand;
};

namespace fs = std::filesystem;

/// A picture of every place where a rule is broken or asks for a look.
void write_places(const Job& job, const fs::path& out, std::ostream& said) {
  std::vector<MarkedPlace> places;
  for (const Finding& finding : job.findings) {
    if (!finding.passes) places.push_back({finding.place, title_of(finding), finding.sentence});
  }
  if (places.empty()) return;
  const Drawing drawing = place_pictures(job.fit.tube(), job.instrument, places);
  for (const std::string& name : write_pages(out, drawing, job.instrument.id + "-places")) {
    said << "  The places as pictures: " << (out / name).string() << "\n";
  }
}

std::string reminder_text(const TubeFit& fit) {
  const std::string reminder = check_girth_reminder(girth_movements(fit));
  return reminder.empty() ? "" : wrapped("look: " + reminder, 2);
}

int run(const Options& options) {
  const Documents documents = gather_for(options.hand, options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"nothing-to-check",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  const Shop shop = documents.shop_or_default();
  JsonValue list = JsonValue::array();
  bool sound = true;
  for (const Job& job : jobs) {
    sound = sound && acceptable(job.findings, job.instrument.sign);
    const JobTolerance tolerance = tolerance_of(job, shop);
    const WireList wires = plan_wires(job.fit.tube(), job.instrument, shop);
    if (options.json) {
      JsonValue json = check_json(job.instrument, job.findings, balance_of(job));
      if (job.key_layout->value.hand_size) {
        json.set("hands", comfort_json(job.fit.tube(), job.key_layout->value, job.instrument));
      }
      list.push(json.set("tolerance", tolerance_json(tolerance)).set("wires", wires_json(wires, shop.wires)));
    } else {
      std::cout << check_text(job.instrument, job.findings, balance_of(job)) << known_text(job.fit)
                << reminder_text(job.fit) << tolerance_text(tolerance)
                << comfort_text(job.fit.tube(), job.key_layout->value, job.instrument)
                << wires_text(wires, shop.wires) << "\n";
    }
    if (!options.out.empty()) write_places(job, options.out, options.json ? std::cerr : std::cout);
  }
  if (options.json) std::cout << to_text(list);
  return sound ? done : rule_failed;
}

}  // namespace

Command check_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* check = add_command(app, *options, "check", "Hold placements against the rules",
                                "culmwright check tube.json layout.json placement.json");
  add_hand_option(check, options->hand);
  check->add_flag("--json", options->json, "for programs");
  check->add_option("--tube", options->tube, "only this tube");
  return {check, [options] { return run(*options); }};
}

}  // namespace culmwright::command
