#include <cmath>
#include <filesystem>
#include <iostream>

#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/pages.hpp"
#include "command/terminal.hpp"
#include "files/sign_state.hpp"
#include "fit/assemble.hpp"
#include "fit/compare.hpp"
#include "paper/compare_overlay.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

struct Options : FileOptions {
  std::vector<int> revisions;
  std::string tube;
  bool json = false;
};

/// One of the two that are compared.
struct Side {
  Placement placement;
  Instrument instrument;
  std::vector<Finding> findings;
  std::optional<Balance> balance;
};

Side side_of(const Job& job, Placement placement) {
  Side side;
  side.instrument = assemble(job.fit.tube(), job.key_layout->value, placement);
  side.instrument.sign = sign_mark(placement, job.tube->value, job.key_layout->value, job.shop);
  side.findings = check(job.fit, job.key_layout->value, side.instrument);
  side.balance = balance_of(job.fit, job.key_layout->value, side.instrument);
  side.placement = std::move(placement);
  return side;
}

[[noreturn]] void refuse(std::string found, std::string allowed) {
  throw InputError({{"what-to-compare",
                     {},
                     std::move(found),
                     std::move(allowed),
                     "Name the files and, of one placement, --revisions and two numbers"}});
}

struct Pair {
  Side was;
  Side now;
};

/// Two revisions of the only placement (without numbers: the last two), or the two placements, earlier first.
Pair pair_of(const std::vector<Job>& jobs, const std::vector<int>& revisions) {
  if (jobs.size() == 2) {
    if (!revisions.empty()) refuse("two placements and --revisions", "one of the two");
    if (jobs[0].tube->value.id != jobs[1].tube->value.id) {
      refuse("placements on " + jobs[0].tube->value.id + " and on " + jobs[1].tube->value.id,
             "two placements on one tube");
    }
    return {side_of(jobs[0], jobs[0].placement->value), side_of(jobs[1], jobs[1].placement->value)};
  }
  if (jobs.size() != 1) {
    refuse(std::to_string(jobs.size()) + " placements", "one placement or two");
  }
  const Placement& placement = jobs[0].placement->value;
  if (revisions.empty() && placement.revision() == 1) {
    refuse("a placement with one revision", "a placement with two revisions, or two placements");
  }
  const int now = revisions.empty() ? placement.revision() : revisions[1];
  const int was = revisions.empty() ? now - 1 : revisions[0];
  return {side_of(jobs[0], as_of(placement, was)), side_of(jobs[0], as_of(placement, now))};
}

std::string name_of(const Side& side) {
  return side.instrument.id + ", revision " + std::to_string(side.instrument.revision);
}

std::string heading_of(const Pair& pair) {
  if (pair.was.instrument.id != pair.now.instrument.id)
    return name_of(pair.was) + ", to " + name_of(pair.now);
  return pair.now.instrument.id + ", revision " + std::to_string(pair.was.instrument.revision) + " to " +
         std::to_string(pair.now.instrument.revision);
}

/// What is no move of a key or part.
std::vector<std::string> other_differences(const Compared& compared) {
  std::vector<std::string> words;
  if (compared.turned_end_for_end) words.push_back("The mouth end is the other end of the tube.");
  if (compared.mouth_cut != 0.0) words.push_back("Mouth cut: " + move_words(compared.mouth_cut, 0.0) + ".");
  if (compared.foot_cut != 0.0) words.push_back("Foot cut: " + move_words(compared.foot_cut, 0.0) + ".");
  if (compared.facing.radians() != 0.0) {
    words.push_back("The played front: turned " + number(std::abs(compared.facing.degrees()), 1) +
                    "° to the player's " + (compared.facing.radians() > 0.0 ? "left." : "right."));
  }
  for (const std::string& id : compared.gone) words.push_back(id + " is only in the earlier one.");
  for (const std::string& id : compared.added) words.push_back(id + " is only in the later one.");
  return words;
}

std::string moved_table(const Compared& compared) {
  if (compared.moved.empty()) return "  Every key and part stands where it stood.\n";
  TextTable table({"moved", "along", "around"});
  for (const Moved& moved : compared.moved) {
    table.row({moved.id, moved.along == 0.0 ? "" : move_words(moved.along, 0.0),
               moved.around == 0.0 ? "" : move_words(0.0, moved.around)});
  }
  return table.text();
}

std::string room_words(const std::optional<Finding>& finding) {
  return finding ? margin_words(*finding) + (finding->passes ? "" : " " + verdict(*finding))
                 : "nothing to see";
}

std::string rules_table(const Compared& compared) {
  if (compared.rules.empty()) return "";
  TextTable table({"room left by the rule", "was", "is", "keys"});
  for (const RuleChange& change : compared.rules) {
    const Finding& any = change.now ? *change.now : *change.was;
    std::string ids;
    for (const std::string& id : any.ids) ids += (ids.empty() ? "" : ", ") + id;
    table.row({rule_title(any), room_words(change.was), room_words(change.now), ids});
  }
  return table.text();
}

std::string balance_change(const Pair& pair) {
  if (!pair.was.balance || !pair.now.balance) return "";
  std::string words = "Centre of gravity " + number(pair.was.balance->along.value, 1) + ", now " +
                      number(pair.now.balance->along.value, 1) + " from the mouth cut";
  if (pair.was.balance->torque && pair.now.balance->torque) {
    words += "; about the thumb rest " + number(pair.was.balance->torque->value, 0) + ", now " +
             number(pair.now.balance->torque->value, 0) + " N·mm, positive when the foot sinks";
  }
  return wrapped(words + ".", 2);
}

JsonValue side_json(const Side& side) {
  return JsonValue::object()
      .set("placement", side.instrument.id)
      .set("revision", side.instrument.revision)
      .set("sign", sign_json(side.instrument.sign));
}

JsonValue compared_json(const Pair& pair, const Compared& compared) {
  JsonValue moved = JsonValue::array();
  for (const Moved& one : compared.moved) {
    moved.push(JsonValue::object()
                   .set("id", one.id)
                   .set("toward_foot", one.along)
                   .set("to_players_left", one.around));
  }
  JsonValue rules = JsonValue::array();
  for (const RuleChange& change : compared.rules) {
    JsonValue json = JsonValue::object().set("rule", change.rule);
    if (change.was) json.set("was", finding_json(*change.was));
    if (change.now) json.set("is", finding_json(*change.now));
    rules.push(std::move(json));
  }
  JsonValue gone = JsonValue::array();
  for (const std::string& id : compared.gone) gone.push(id);
  JsonValue added = JsonValue::array();
  for (const std::string& id : compared.added) added.push(id);
  JsonValue json = JsonValue::object();
  json.set("was", side_json(pair.was))
      .set("is", side_json(pair.now))
      .set("moved", std::move(moved))
      .set("gone", std::move(gone))
      .set("added", std::move(added))
      .set("turned_end_for_end", compared.turned_end_for_end)
      .set("mouth_cut_toward_foot", compared.mouth_cut)
      .set("foot_cut_toward_foot", compared.foot_cut)
      .set("facing_to_players_left_deg", compared.facing.degrees())
      .set("rules", std::move(rules));
  if (pair.was.balance) json.set("balance_was", balance_json(*pair.was.balance));
  if (pair.now.balance) json.set("balance_is", balance_json(*pair.now.balance));
  return json;
}

void write_overlay(const Job& job, const Pair& pair, const Compared& compared, const Options& options) {
  std::vector<OverlayMove> moves;
  for (const Moved& moved : compared.moved) {
    moves.push_back({moved.id, move_words(moved.along, moved.around)});
  }
  const PaperSize paper = job.shop != nullptr ? job.shop->paper.size : Shop{}.paper.size;
  const Drawing drawing = compare_overlay(job.fit.tube(), pair.was.instrument, pair.now.instrument, moves,
                                          heading_of(pair), other_differences(compared), paper);
  const std::string stem = pair.now.instrument.id + "-compared";
  for (const std::string& name : write_pages(options.out, drawing, stem)) {
    (options.json ? std::cerr : std::cout)
        << "  Laid over each other: " << (fs::path(options.out) / name).string() << "\n";
  }
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  const Pair pair = pair_of(jobs, options.revisions);
  const Job& job = jobs.back();
  const Compared compared =
      compare(job.fit.tube(), pair.was.instrument, pair.was.findings, pair.now.instrument, pair.now.findings);
  if (options.json) {
    std::cout << to_text(compared_json(pair, compared));
  } else {
    for (const Side* side : {&pair.was, &pair.now}) {
      std::cout << name_of(*side) << ", " << sign_words(side->instrument.sign) << "\n";
    }
    std::cout << moved_table(compared);
    for (const std::string& words : other_differences(compared)) std::cout << wrapped(words, 2);
    std::cout << rules_table(compared) << balance_change(pair);
  }
  if (!options.out.empty()) write_overlay(job, pair, compared, options);
  return done;
}

}  // namespace

Command compare_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* compare = add_command(app, *options, "compare", "Two revisions, or two placements on one tube",
                                  "culmwright compare tube.json layout.json placement.json --revisions 2 5 "
                                  "--out compared");
  compare->add_option("--revisions", options->revisions, "the earlier and the later; else the last two")
      ->expected(2);
  compare->add_flag("--json", options->json, "for programs");
  compare->add_option("--tube", options->tube, "only this tube");
  return {compare, [options] { return run(*options); }};
}

}  // namespace culmwright::command
