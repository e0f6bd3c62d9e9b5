#include <algorithm>
#include <filesystem>
#include <iostream>
#include <optional>

#include "base/words.hpp"
#include "command/commands.hpp"
#include "command/depth_sleeves.hpp"
#include "command/gather.hpp"
#include "command/guide_part.hpp"
#include "command/parts.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "fit/sign.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
};

namespace fs = std::filesystem;

std::string joined(const std::vector<std::string>& words) {
  return listed(words, ", ");
}

/// Filled to the full; what a sparse filling saves is the printer's affair.
std::string mass_of(const GuidePlan& plan, const Shop& shop) {
  return fixed_text(expectation_of(plan).volume * shop.filament.density, 0);
}

std::string table_of(const std::vector<GuidePlan>& plans, const Shop& shop) {
  TextTable table({"guide", "holes", "long", "set by", "sights apart", "g"});
  std::string lines;
  for (const GuidePlan& plan : plans) {
    std::vector<std::string> holes;
    for (const GuideHole& hole : plan.holes) holes.push_back(hole.id);
    table.row({std::to_string(plan.number), std::to_string(holes.size()), fixed_text(plan.at.length(), 0),
               set_by(plan), fixed_text(plan.sighting_arm(), 0), mass_of(plan, shop)});
    lines += wrapped(plan.name + ": " + joined(holes) +
                         (plan.after.empty() ? "" : "; after " + joined(plan.after)) + "; turned by the " +
                         (plan.sighting_line ? plan.sighting_line->name : "skin marks"),
                     2);
  }
  return table.text() + lines;
}

std::string depths_of(const std::vector<GuidePlan>& plans, const Job& job) {
  TextTable table({"hole", "guide", "drill", "opened to", "stop at", "through by", "far wall"});
  for (const GuidePlan& plan : plans) {
    for (const GuideHole& hole : plan.holes) {
      const DrillingDepth depth = depth_of(job, hole);
      const double opened = 2.0 * hole.drilling.radius;
      table.row({hole.id, std::to_string(plan.number), number_text(hole.drill()),
                 opened > hole.drill() + 1e-9 ? number_text(opened) : "", fixed_text(depth.stop_at, 1),
                 fixed_text(depth.through, 1), fixed_text(depth.far_wall, 1)});
    }
  }
  return "  Depths from the top of the bush, or of the boss where there is none:\n" + table.text();
}

std::string text_of(const std::vector<std::string>& notes, const std::string& name) {
  std::string text;
  for (const std::string& note : notes) text += wrapped(name + ": " + note, 2);
  return text;
}

/// The records of sound parts; what was refused is said, and none come back.
std::optional<JsonValue> records_of(const std::vector<MadePart>& parts, const Job& job) {
  JsonValue records = JsonValue::array();
  bool sound = true;
  for (const MadePart& part : parts) {
    if (part.refused) std::cerr << wrapped(job.instrument.id + ": " + *part.refused, 2);
    sound = sound && !part.refused;
    records.push(part.record);
  }
  return sound ? std::optional(std::move(records)) : std::nullopt;
}

/// The files of one instrument's guides and depth sleeves, and their records; false when one was refused.
bool write_guides(const Job& job, const Shop& shop, const std::vector<GuidePlan>& plans,
                  const DepthSleeves& sleeves, const fs::path& out) {
  Progress progress;
  const auto say = [&](const std::string& what) { progress.say(job.instrument.id + ": " + what); };
  const std::vector<MadePart> guides = make_guides(job, shop, plans, say);
  const std::vector<MadePart> stops = make_all(sleeve_tasks(job, sleeves), say);
  const std::optional<JsonValue> guide_records = records_of(guides, job);
  const std::optional<JsonValue> stop_records = records_of(stops, job);
  if (!guide_records || !stop_records) return false;
  OutputFolder folder(out / job.instrument.id);
  add_parts(folder, guides);
  add_parts(folder, stops);
  folder.add("guides.json", to_text(*guide_records));
  folder.add("sleeves.json", to_text(*stop_records));
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
      const DepthSleeves sleeves = sleeves_of(job, shop, plans);
      std::cout << table_of(plans, shop) << depths_of(plans, job) << sleeves_text(sleeves);
      for (const GuidePlan& plan : plans) std::cout << text_of(notes_of(plan, job, shop), plan.name);
      std::cout << "\n";
      if (!options.out.empty() && !acceptable(job.findings, job.instrument.sign)) {
        std::cout << "  It breaks a rule, so nothing is written: see the command check.\n";
        code = std::max<int>(code, rule_failed);
      } else if (!options.out.empty() && !write_guides(job, shop, plans, sleeves, options.out)) {
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
