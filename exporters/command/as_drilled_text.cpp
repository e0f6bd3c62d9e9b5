#include "command/as_drilled_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "command/check_text.hpp"
#include "command/terminal.hpp"
#include "fit/sign.hpp"
#include "plan/guide_plan.hpp"

namespace culmwright::command {

namespace {

const char* state_words(DrilledState state) {
  switch (state) {
    case DrilledState::pilot:
      return "pilot";
    case DrilledState::finished:
      return "finished";
    case DrilledState::extra:
      break;
  }
  return "extra";
}

std::string size_words(double along, double around) {
  const bool round = std::abs(along - around) < 0.05;
  return round ? number(along, 1) : number(along, 1) + " x " + number(around, 1);
}

std::string wanted_words(const DrilledDeparture& one) {
  return one.wanted ? size_words(one.wanted_along, one.wanted_around) : "none";
}

std::string place_words(const DrilledDeparture& one) {
  if (!one.wanted) return "at " + number(one.is.at, 1) + ", around " + number(one.is.around, 1);
  return one.hole.at ? out_by_words(one) : "not measured: as placed";
}

std::string wall_words(const DrilledDeparture& one) {
  if (!one.hole.wall) return "";
  return number(*one.hole.wall, 1) + " (" + number(*one.wall_before, 1) + ")";
}

std::string holes_text(const Job& job) {
  TextTable table({"hole", "", "wanted", "came out", "wall", "chip", "out by"});
  for (const DrilledDeparture& one : job.drilled) {
    table.row({one.hole.id, state_words(one.hole.state), wanted_words(one),
               size_words(one.hole.across_along, one.hole.across_around), wall_words(one),
               one.hole.chip_out > 0.0 ? number(one.hole.chip_out, 1) : "", place_words(one)});
  }
  return table.text();
}

bool any_wall(const Job& job) {
  return std::any_of(job.drilled.begin(), job.drilled.end(),
                     [](const DrilledDeparture& one) { return one.hole.wall.has_value(); });
}

/// What the readings through the holes say of the walls that are still to be drilled.
std::string walls_text(const Job& job) {
  if (!any_wall(job)) {
    return wrapped("No wall was read yet: a hook gauge through the first pilot tells the depth of the rest.",
                   2);
  }
  std::string text = wrapped("In brackets: the wall that the survey expected.", 2);
  double least = 1e300;
  double greatest = -1e300;
  double error = 0.0;
  int count = 0;
  for (const PlacedKey& key : job.instrument.keys) {
    if (key.drilled) continue;
    least = std::min(least, key.wall);
    greatest = std::max(greatest, key.wall);
    error = std::max(error, job.fit.wall_sigma(key.place.at, key.theta));
    ++count;
  }
  if (count == 0) return text;
  const bool alike = number(least, 1) == number(greatest, 1);
  const std::string walls = count == 1 ? "the wall at the hole to come is "
                                       : "the walls at the " + std::to_string(count) + " holes to come are ";
  return text + wrapped("The tube was calculated anew with what was read: " + walls + number(least, 1) +
                            (alike ? "" : " to " + number(greatest, 1)) + " now, known to " +
                            number(error, 1) + " or better.",
                        2);
}

/// Broken rules that drilling has to do with, and those left to the maker.
std::vector<const Finding*> told(const Job& job) {
  std::vector<const Finding*> list;
  for (const Finding& finding : job.findings) {
    if (!finding.passes && accepted_for(finding, job.instrument.sign.accepted) == nullptr) {
      list.push_back(&finding);
    }
  }
  return list;
}

bool mends_by_moving(const Job& job, const Finding& finding) {
  const auto to_come = [&](const std::string& id) { return !is_drilled(job.instrument, id); };
  return finding.severity == Severity::hard && std::any_of(finding.ids.begin(), finding.ids.end(), to_come);
}

std::string follows_text(const Job& job) {
  std::string text;
  for (const std::string& sentence : job.instrument.sign.drilled) text += wrapped(sentence, 2);
  if (job.instrument.sign.state == SignState::no_longer_signed) {
    text += wrapped("It is " + sign_words(job.instrument.sign) + ".", 2) + changed_text(job.instrument.sign);
  }
  text += walls_text(job);
  bool move = false;
  for (const Finding* finding : told(job)) {
    text += wrapped(verdict(*finding) + ": " + finding->sentence, 2);
    move = move || mends_by_moving(job, *finding);
  }
  if (move) {
    text += wrapped(
        "Before the next hole: propose with the same files places the rest anew around what is "
        "drilled, or says what would make room.",
        2);
  }
  return text;
}

/// "stop 17.4 from its tip, at the top of the bush".
std::string stop_words(const DepthStop& stop) {
  return "depth stop " + number(stop.length, 1) + " above the tip, " +
         (stop.from_top ? "against the guide's boss or bush" : "against the skin");
}

std::string line_text(const StepLine& line) {
  std::string words = line.id.empty() ? line.what : line.id + ": " + line.what;
  if (line.stop) words += ", " + stop_words(*line.stop);
  if (line.wall) words += ", wall " + number(*line.wall, 1);
  return wrapped("- " + words, 4);
}

std::string step_text(const DrillingStep& step) {
  std::string text;
  for (const StepLine& line : step.lines) {
    if (!line.done) text += line_text(line);
    if (line.done) continue;
    for (const std::string& remark : line.remarks) text += wrapped(remark, 6);
  }
  return text;
}

/// A step that turns a drill; what comes before and after it is not known from the as-drilled document.
bool is_drilling(const DrillingStep& step) {
  return step.stage == Stage::pilot || step.stage == Stage::open_up || step.stage == Stage::cut_openings;
}

std::string next_text(const WhatIsNext& next) {
  if (!next.schedule) return wrapped("look: What is next cannot be planned: " + next.refused, 2);
  std::string text;
  bool first = true;
  for (const DrillingStep& step : next.schedule->steps) {
    if (!is_drilling(step) || step.done()) continue;
    text += wrapped((first ? "Next: " : "Then: ") + step.title + ".", 2) + step_text(step);
    first = false;
  }
  if (first) return wrapped("Every hole is finished: deburr, seal, measure, then the cups.", 2);
  return text;
}

JsonValue hole_json(const DrilledDeparture& one) {
  JsonValue json = JsonValue::object();
  json.set("id", one.hole.id)
      .set("state", state_words(one.hole.state))
      .set("across_along", one.hole.across_along)
      .set("across_around", one.hole.across_around)
      .set("at", one.is.at)
      .set("around", one.is.around)
      .set("place_measured", one.hole.at.has_value())
      .set("chip_out", one.hole.chip_out);
  if (one.wanted) {
    json.set("wanted_along", one.wanted_along)
        .set("wanted_around", one.wanted_around)
        .set("wanted_at", one.wanted->at)
        .set("wanted_around_the_tube", one.wanted->around)
        .set("out_toward_foot", one.along)
        .set("out_to_players_left", one.around);
  }
  if (one.hole.wall) json.set("wall", *one.hole.wall).set("wall_expected", *one.wall_before);
  return json;
}

JsonValue line_json(const StepLine& line) {
  JsonValue json = JsonValue::object();
  json.set("id", line.id).set("what", line.what).set("done", line.done);
  if (line.stop) json.set("stop", line.stop->length).set("stop_from_top", line.stop->from_top);
  if (line.wall) json.set("wall", *line.wall);
  if (line.room) json.set("room", *line.room);
  return json;
}

JsonValue steps_json(const WhatIsNext& next) {
  JsonValue steps = JsonValue::array();
  if (!next.schedule) return steps;
  for (const DrillingStep& step : next.schedule->steps) {
    if (!is_drilling(step) || step.done()) continue;
    JsonValue lines = JsonValue::array();
    for (const StepLine& line : step.lines) lines.push(line_json(line));
    steps.push(
        JsonValue::object().set("id", step.id).set("title", step.title).set("lines", std::move(lines)));
  }
  return steps;
}

JsonValue to_come_json(const Job& job) {
  JsonValue list = JsonValue::array();
  for (const PlacedKey& key : job.instrument.keys) {
    if (key.drilled) continue;
    list.push(JsonValue::object()
                  .set("id", key.key.id)
                  .set("wall", key.wall)
                  .set("wall_sigma", job.fit.wall_sigma(key.place.at, key.theta)));
  }
  return list;
}

}  // namespace

WhatIsNext what_is_next(const Job& job, const Shop& shop) {
  WhatIsNext next;
  try {
    std::vector<GuidePlan> guides = plan_guides(job.fit.tube(), job.instrument, shop);
    next.schedule = drilling_schedule(drill_bench(job.fit, job.instrument, shop, std::move(guides)));
  } catch (const GeometryError& error) {
    next.refused = error.what();
  }
  return next;
}

std::string as_drilled_text(const Job& job, const WhatIsNext& next) {
  const AsDrilled& drilled = job.as_drilled->value;
  return job.instrument.id + ": " + job.instrument.layout_id + " on " + job.instrument.tube_id +
         ", drilled to revision " + std::to_string(drilled.revision) +
         (drilled.date.empty() ? "" : ", measured " + drilled.date) + "\n" + holes_text(job) + "\n" +
         follows_text(job) + "\n" + next_text(next);
}

JsonValue as_drilled_json(const Job& job, const WhatIsNext& next) {
  JsonValue holes = JsonValue::array();
  for (const DrilledDeparture& one : job.drilled) holes.push(hole_json(one));
  JsonValue says = JsonValue::array();
  for (const std::string& sentence : job.instrument.sign.drilled) says.push(sentence);
  JsonValue json = JsonValue::object();
  json.set("placement", job.instrument.id)
      .set("tube", job.instrument.tube_id)
      .set("drilled_revision", job.as_drilled->value.revision)
      .set("holes", std::move(holes))
      .set("says", std::move(says))
      .set("to_come", to_come_json(job))
      .set("next", steps_json(next));
  if (!next.refused.empty()) json.set("refused", next.refused);
  return json.set("check", check_json(job.instrument, job.findings, balance_of(job)));
}

}  // namespace culmwright::command
