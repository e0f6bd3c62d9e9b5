#include <algorithm>
#include <filesystem>
#include <iostream>

#include "base/words.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/parts.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
};

namespace fs = std::filesystem;

std::string joined(const std::vector<std::string>& words) {
  return listed(words, ", ");
}

std::string set_by(const GuidePlan& plan) {
  if (plan.stop != StopKind::pegs) return words_of(plan.stop);
  std::vector<std::string> pegs;
  for (const GuidePeg& peg : plan.pegs) pegs.push_back(peg.id);
  return "pegs in " + joined(pegs);
}

std::string table_of(const std::vector<GuidePlan>& plans) {
  TextTable table({"guide", "after", "holes", "from at", "to at", "set by", "turn by", "arm"});
  for (const GuidePlan& plan : plans) {
    std::vector<std::string> holes;
    for (const GuideHole& hole : plan.holes) holes.push_back(hole.id);
    table.row({std::to_string(plan.number), joined(plan.after), joined(holes), fixed_text(plan.at.from, 1),
               fixed_text(plan.at.to, 1), set_by(plan),
               plan.sighting_line ? plan.sighting_line->name : "skin marks",
               fixed_text(plan.sighting_arm(), 0)});
  }
  return table.text();
}

std::string notes_of(const std::vector<GuidePlan>& plans) {
  std::string text;
  for (const GuidePlan& plan : plans) {
    for (const std::string& note : plan.notes) text += wrapped(plan.name + ": " + note, 2);
  }
  return text;
}

/// The files of one instrument's guides and their record; false when one was refused.
bool write_guides(const Job& job, const Shop& shop, const std::vector<GuidePlan>& plans,
                  const fs::path& out) {
  Progress progress;
  const std::vector<MadePart> parts = make_guides(
      job, shop, plans, [&](const std::string& what) { progress.say(job.instrument.id + ": " + what); });
  JsonValue guides = JsonValue::array();
  bool sound = true;
  for (const MadePart& part : parts) {
    if (part.refused) std::cerr << wrapped(job.instrument.id + ": " + *part.refused, 2);
    sound = sound && !part.refused;
    guides.push(part.record);
  }
  if (!sound) return false;
  OutputFolder folder(out / job.instrument.id);
  add_parts(folder, parts);
  folder.add("guides.json", to_text(guides));
  folder.commit();
  return true;
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"nothing-to-guide",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  const Shop shop = documents.shop_or_default();
  int code = done;
  for (const Job& job : jobs) {
    std::cout << job.instrument.id << " on " << job.instrument.tube_id << "\n";
    try {
      const std::vector<GuidePlan> plans = plan_guides(job.fit.tube(), job.instrument, shop);
      std::cout << table_of(plans) << notes_of(plans) << "\n";
      if (!options.out.empty() && !acceptable(job.findings)) {
        std::cout << "  It breaks a rule, so nothing is written: see the command check.\n";
        code = std::max<int>(code, rule_failed);
      } else if (!options.out.empty() && !write_guides(job, shop, plans, options.out)) {
        code = solid_refused;
      }
    } catch (const GeometryError& error) {
      std::cout << wrapped(error.what(), 2);
      code = solid_refused;
    }
  }
  return code;
}

}  // namespace

Command guide_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* guide = add_command(
      app, *options, "guide", "Drill guides in the order of drilling; with --out also their files",
      "culmwright guide tube.json layout.json placement.json shop.json --out guides");
  guide->add_option("--tube", options->tube, "only this tube");
  return {guide, [options] { return run(*options); }};
}

}  // namespace culmwright::command
