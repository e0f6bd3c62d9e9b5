#include <algorithm>
#include <filesystem>
#include <iostream>

#include "base/words.hpp"
#include "command/commands.hpp"
#include "command/cup_part.hpp"
#include "command/gather.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "fit/sign.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

struct Options : FileOptions {
  std::string tube;
  std::vector<std::string> only;
  bool json = false;
};

/// The cups of one instrument as planned; a key whose cup is refused has the reason instead.
struct Planned {
  std::string key;
  std::optional<CupPlan> plan;
  std::string refused;
};

void check_only(const Job& job, const std::vector<std::string>& only) {
  std::vector<std::string> ids;
  for (const PlacedKey& key : job.instrument.keys) ids.push_back(key.key.id);
  for (const std::string& id : only) {
    if (std::find(ids.begin(), ids.end(), id) != ids.end()) continue;
    const std::optional<std::string> nearest = nearest_word(id, ids);
    throw InputError({{"unknown-id",
                       {},
                       "--only " + id,
                       "a key of " + job.instrument.id + ": " + listed(ids, ", "),
                       nearest ? "Did you mean \"" + *nearest + "\"?" : ""}});
  }
}

std::vector<Planned> planned(const Job& job, const Shop& shop, const std::vector<std::string>& only) {
  std::vector<Planned> list;
  for (const PlacedKey& key : job.instrument.keys) {
    if (!only.empty() && std::find(only.begin(), only.end(), key.key.id) == only.end()) continue;
    list.push_back({key.key.id, std::nullopt, ""});
    try {
      list.back().plan = cup_of(key, job, shop);
    } catch (const GeometryError& error) {
      list.back().refused = error.what();
    }
  }
  return list;
}

std::string times(double length, double width) {
  const bool round = std::abs(length - width) < 5e-3;
  return round ? fixed_text(length, 1) : fixed_text(length, 1) + " × " + fixed_text(width, 1);
}

std::string table_of(const std::vector<Planned>& list) {
  TextTable table({"key", "kind", "hole", "flange", "spigot", "wall", "printed"});
  for (const Planned& one : list) {
    if (!one.plan) {
      table.row({one.key, "refused", "", "", "", "", ""});
      continue;
    }
    const CupPlan& plan = *one.plan;
    table.row({one.key, name_of(plan.kind),
               fixed_text(2.0 * plan.hole.least, 2) + (plan.hole.measured ? " m" : ""),
               plan.flush ? "flush" : times(plan.flange.length, plan.flange.width),
               plan.spigot_radius > 0.0
                   ? fixed_text(2.0 * plan.spigot_radius, 2) + " × " + fixed_text(plan.spigot_length, 1)
                   : "",
               fixed_text(plan.wall, 1), support_words(plan)});
  }
  return table.text();
}

/// Notes that stand for several keys are said once.
std::string notes_of(const std::vector<Planned>& list) {
  std::vector<std::pair<std::string, std::vector<std::string>>> notes;
  const auto add = [&](const std::string& note, const std::string& key) {
    const auto same =
        std::find_if(notes.begin(), notes.end(), [&](const auto& n) { return n.first == note; });
    if (same == notes.end()) {
      notes.push_back({note, {key}});
    } else {
      same->second.push_back(key);
    }
  };
  std::string refusals;
  bool measured = false;
  for (const Planned& one : list) {
    if (!one.plan) refusals += wrapped(one.refused, 2);
    if (!one.plan) continue;
    measured = measured || one.plan->hole.measured;
    for (const std::string& note : one.plan->notes) {
      if (note.rfind("printed touch", 0) != 0) add(note, one.key);
    }
  }
  std::string text = refusals;
  if (measured) text += "  m: as it came out, the caliper's error taken off\n";
  for (const auto& [note, keys] : notes) text += wrapped(listed(keys, ", ") + ": " + note, 2);
  return text;
}

JsonValue json_of(const Job& job, const std::vector<Planned>& list) {
  JsonValue cups = JsonValue::array();
  for (const Planned& one : list) {
    if (one.plan) {
      cups.push(cup_json(*one.plan).set("notes", strings(one.plan->notes)));
    } else {
      cups.push(JsonValue::object().set("key", one.key).set("refused", one.refused));
    }
  }
  return JsonValue::object()
      .set("instrument", job.instrument.id)
      .set("tube", job.instrument.tube_id)
      .set("revision", job.instrument.revision)
      .set("cups", std::move(cups));
}

/// The files of one instrument's cups and their record; false when one was refused.
bool write_cups(const Job& job, const Shop& shop, const Options& options) {
  Progress progress;
  const std::vector<MadePart> parts =
      make_all(cup_tasks(job, shop, options.only),
               [&](const std::string& what) { progress.say(job.instrument.id + ": " + what); });
  JsonValue records = JsonValue::array();
  bool sound = true;
  for (const MadePart& part : parts) {
    if (part.refused) std::cerr << wrapped(job.instrument.id + ": " + *part.refused, 2);
    sound = sound && !part.refused;
    records.push(part.record);
  }
  if (!sound) return false;
  OutputFolder folder(fs::path(options.out) / job.instrument.id);
  add_parts(folder, parts);
  folder.add("cups.json", to_text(records));
  folder.commit();
  return true;
}

int run_job(const Job& job, const Shop& shop, const Options& options, JsonValue& json) {
  std::ostream& words = options.json ? std::cerr : std::cout;
  check_only(job, options.only);
  const std::vector<Planned> list = planned(job, shop, options.only);
  const bool all =
      std::all_of(list.begin(), list.end(), [](const Planned& one) { return one.plan.has_value(); });
  if (options.json) {
    json.push(json_of(job, list));
  } else {
    words << job.instrument.id << " on " << job.instrument.tube_id << "\n"
          << table_of(list) << notes_of(list) << "\n";
  }
  if (options.out.empty()) return all ? done : solid_refused;
  if (!acceptable(job.findings, job.instrument.sign)) {
    words << "  It breaks a rule, so nothing is written: see the command check.\n";
    return rule_failed;
  }
  return all && write_cups(job, shop, options) ? done : solid_refused;
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"nothing-to-make",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  const Shop shop = documents.shop_or_default();
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
      app, *options, "cups", "Key cups, sized to the holes as they came out; with --out also their files",
      "culmwright cups tube.json layout.json placement.json as-drilled.json --out cups");
  cups->add_option("--tube", options->tube, "only this tube");
  cups->add_option("--only", options->only, "only these keys");
  cups->add_flag("--json", options->json, "for programs");
  return {cups, [options] { return run(*options); }};
}

}  // namespace culmwright::command
