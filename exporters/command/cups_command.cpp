#include <algorithm>
#include <filesystem>
#include <iostream>

#include "base/words.hpp"
#include "command/bed_plates.hpp"
#include "command/commands.hpp"
#include "command/cup_part.hpp"
#include "command/cups_text.hpp"
#include "command/fit_gauge_part.hpp"
#include "command/fitted_parts.hpp"
#include "command/gather.hpp"
#include "command/in_place.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "fit/sign.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

struct Options : FileOptions {
  std::string tube;
  std::vector<std::string> only;
  bool fit_gauge = false;
  bool json = false;
};

bool chosen(const std::vector<std::string>& only, const std::string& id) {
  return only.empty() || std::find(only.begin(), only.end(), id) != only.end();
}

void check_only(const Job& job, const std::vector<std::string>& only) {
  std::vector<std::string> ids;
  for (const PlacedKey& key : job.instrument.keys) ids.push_back(key.key.id);
  for (const PlacedPart& part : job.instrument.parts) {
    if (is_fitted_part(part.part)) ids.push_back(part.part.id);
  }
  for (const std::string& id : only) {
    if (std::find(ids.begin(), ids.end(), id) != ids.end()) continue;
    const std::optional<std::string> nearest = nearest_word(id, ids);
    throw InputError({{"unknown-id",
                       {},
                       "--only " + id,
                       "a key or printed part of " + job.instrument.id + ": " + listed(ids, ", "),
                       nearest ? "Did you mean \"" + *nearest + "\"?" : ""}});
  }
}

template <class Plan, class F>
Planned<Plan> planned(const std::string& id, const F& plan) {
  try {
    return {id, plan(), ""};
  } catch (const GeometryError& error) {
    return {id, std::nullopt, error.what()};
  }
}

/// One instrument's cups and fitted parts: as planned, then as made where all could be planned.
struct Parts {
  std::vector<Planned<CupPlan>> cups;
  std::vector<Planned<FittedPlan>> fitted;
  std::vector<MadePart> made;
  std::vector<Clearance> clearances;
  WireList wires;
  bool sound = true;
};

void plan_parts(const Job& job, const Shop& shop, const Options& options, Parts& parts) {
  for (const PlacedKey& key : job.instrument.keys) {
    if (!chosen(options.only, key.key.id)) continue;
    parts.cups.push_back(planned<CupPlan>(key.key.id, [&] { return cup_of(key, job, shop); }));
    parts.sound = parts.sound && parts.cups.back().plan;
  }
  for (const PlacedPart& part : job.instrument.parts) {
    if (!is_fitted_part(part.part) || !chosen(options.only, part.part.id)) continue;
    parts.fitted.push_back(planned<FittedPlan>(part.part.id, [&] { return fitted_of(part, job, shop); }));
    parts.sound = parts.sound && parts.fitted.back().plan;
  }
}

/// Built through the gate and held against one another; what was refused is said.
void make_planned(const Job& job, const Shop& shop, const Options& options, Parts& parts) {
  Progress progress;
  std::vector<PartTask> tasks = cup_tasks(job, shop, options.only);
  for (PartTask& task : fitted_tasks(job, shop, options.only)) tasks.push_back(std::move(task));
  parts.made = make_all(std::move(tasks),
                        [&](const std::string& what) { progress.say(job.instrument.id + ": " + what); });
  for (const MadePart& part : parts.made) {
    if (part.refused) std::cerr << wrapped(job.instrument.id + ": " + *part.refused, 2);
    parts.sound = parts.sound && !part.refused;
  }
  parts.clearances = clearances_of(parts.made, job, shop);
  for (const Clearance& one : parts.clearances) parts.sound = parts.sound && !one.fails;
}

Parts parts_of(const Job& job, const Shop& shop, const Options& options) {
  Parts parts;
  plan_parts(job, shop, options, parts);
  if (parts.sound) make_planned(job, shop, options, parts);
  parts.wires = plan_wires(job.fit.tube(), job.instrument, shop);
  return parts;
}

JsonValue json_of(const Job& job, const Shop& shop, const Parts& parts) {
  JsonValue cups = JsonValue::array();
  for (const Planned<CupPlan>& one : parts.cups) {
    cups.push(one.plan ? cup_json(*one.plan).set("notes", strings(one.plan->notes))
                       : JsonValue::object().set("key", one.id).set("refused", one.refused));
  }
  JsonValue fitted = JsonValue::array();
  for (const Planned<FittedPlan>& one : parts.fitted) {
    fitted.push(one.plan ? fitted_json(*one.plan).set("notes", strings(one.plan->notes))
                         : JsonValue::object().set("id", one.id).set("refused", one.refused));
  }
  return JsonValue::object()
      .set("instrument", job.instrument.id)
      .set("tube", job.instrument.tube_id)
      .set("revision", job.instrument.revision)
      .set("cups", std::move(cups))
      .set("fitted", std::move(fitted))
      .set("clearances", clearances_json(parts.clearances))
      .set("wires", wires_json(parts.wires, shop.wires));
}

std::string text_of(const Job& job, const Shop& shop, const Parts& parts) {
  return job.instrument.id + " on " + job.instrument.tube_id + "\n" + cups_text(parts.cups) +
         fitted_text(parts.fitted) + clearances_text(parts.clearances) + wires_text(parts.wires, shop.wires) +
         "\n";
}

JsonValue records_of(const std::vector<MadePart>& made, const std::string& folder) {
  JsonValue records = JsonValue::array();
  for (const MadePart& part : made) {
    if (part.stem.rfind(folder, 0) == 0) records.push(part.record);
  }
  return records;
}

/// The files of one instrument, on plates too, and their records. Precondition: all are sound.
void write_parts(const Job& job, const Shop& shop, const Parts& parts, const fs::path& out) {
  OutputFolder folder(out / job.instrument.id);
  add_parts(folder, parts.made);
  add_parts(folder, bed_plates(parts.made, shop, job.instrument.id));
  folder.add("cups.json", to_text(records_of(parts.made, "cups/")));
  folder.add("fitted.json", to_text(records_of(parts.made, "fitted/")));
  folder.commit();
}

int run_job(const Job& job, const Shop& shop, const Options& options, JsonValue& json) {
  check_only(job, options.only);
  const Parts parts = parts_of(job, shop, options);
  if (options.json) {
    json.push(json_of(job, shop, parts));
  } else {
    std::cout << text_of(job, shop, parts);
  }
  if (options.out.empty()) return parts.sound ? done : solid_refused;
  if (!acceptable(job.findings, job.instrument.sign)) {
    (options.json ? std::cerr : std::cout)
        << "  It breaks a rule, so nothing is written: see the command check.\n";
    return rule_failed;
  }
  if (!parts.sound) return solid_refused;
  write_parts(job, shop, parts, options.out);
  return done;
}

int make_gauge(const Shop& shop, const Options& options) {
  const FitGauge gauge = plan_fit_gauge(shop);
  const std::string words = gauge_words(gauge);
  std::cout << words;
  if (options.out.empty()) return done;
  const MadePart part = gauge_part(gauge);
  if (part.refused) {
    std::cerr << wrapped(*part.refused, 2);
    return solid_refused;
  }
  OutputFolder folder(fs::path(options.out) / part.stem);
  add_parts(folder, {part});
  folder.add("how-to-read.txt", words);
  folder.commit();
  return done;
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const Shop shop = documents.shop_or_default();
  if (options.fit_gauge) return make_gauge(shop, options);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"nothing-to-make",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  JsonValue json = JsonValue::array();
  int code = done;
  for (const Job& job : jobs) code = std::max(code, run_job(job, shop, options, json));
  if (options.json) std::cout << to_text(json);
  return code;
}

}  // namespace

Command cups_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* cups = add_command(
      app, *options, "cups",
      "Key cups, sized to the holes as they came out, and the parts that sit on the tube; with --out also "
      "their files",
      "culmwright cups tube.json layout.json placement.json as-drilled.json --out cups");
  cups->add_option("--tube", options->tube, "only this tube");
  cups->add_option("--only", options->only, "only these keys and parts");
  cups->add_flag("--fit-gauge", options->fit_gauge,
                 "a gauge to print, by which the shop's fits are found, and how to read it; takes the shop's "
                 "document");
  cups->add_flag("--json", options->json, "for programs");
  return {cups, [options] { return run(*options); }};
}

}  // namespace culmwright::command
