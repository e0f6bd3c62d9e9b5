#include "command/tolerance_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

constexpr double seldom_seats = 0.95;

std::string plus_minus(double value) {
  return "± " + number(value, 1);
}

/// What the survey is to blame for, of all holes together.
double survey_share(const ToleranceReport& report) {
  double survey = 0.0;
  double all = 0.0;
  for (std::size_t i = 0; i < report.holes.size(); ++i) {
    survey += report.from_survey[i] * report.from_survey[i];
    all += report.holes[i].rms * report.holes[i].rms;
  }
  return all > 0.0 ? survey / all : 0.0;
}

std::string help_words(const NextReading& next) {
  std::string words = "Of single readings the best is: " + next.text + " (from " +
                      number(next.hole_error_now, 2) + " to " + number(next.hole_error_after, 2) +
                      " mm in the mean).";
  if (!next.without_plates.empty()) {
    words += " Without survey plates: " + next.without_plates + " (to " +
             number(next.hole_error_without_plates, 2) + " mm).";
  }
  return words;
}

std::string list_of(const ReadingSet& set) {
  std::string words;
  for (const std::string& reading : set.readings) words += (words.empty() ? "" : "; ") + reading;
  return words;
}

std::string reach_words(const ReadingSet& set) {
  return "the worst hole then comes out within " + number(set.worst, 1) + " mm";
}

/// The fewest readings that would do, or how far the best would go.
std::string set_words(const ToleranceReport& report) {
  const ReadingSet& set = report.set;
  const ReadingSet& without = report.set_without_plates;
  if (set.readings.empty()) return "";
  std::string words =
      set.enough ? "What would do, in the fewest steps: " + list_of(set) + " (" + reach_words(set) + ")."
                 : "No set of readings brings them all there. The best of up to " +
                       std::to_string(most_in_set) + ": " + list_of(set) + " (" + reach_words(set) + ").";
  if (set.on_plates && !without.readings.empty()) {
    words += " Without survey plates: " + list_of(without) + " (" + reach_words(without) + ").";
  }
  if (!set.enough) {
    words += " The rest is printing and setting: measure the first pilot before the next.";
  }
  return words;
}

std::string wide_text(const ToleranceReport& report) {
  const auto wide = std::count_if(report.holes.begin(), report.holes.end(), too_wide);
  if (wide == 0) return "";
  std::string text = "look: " + std::to_string(wide) + " of " + std::to_string(report.holes.size()) +
                     " holes may come out farther from their places than the " +
                     number(accepted_by_fingers, 1) + " mm that fingers accept. ";
  const std::string set = set_words(report);
  if (!set.empty()) {
    text += set;
    if (!report.next.text.empty() && report.set.readings.size() > 1) text += " " + help_words(report.next);
  } else if (!report.next.text.empty()) {
    text += help_words(report.next);
  } else if (survey_share(report) > 0.5) {
    text += "The survey is to blame for most of it, but no single reading more would help much.";
  } else {
    text +=
        "Printing and setting the guides is to blame for most of it: set stop and sighting corners with "
        "care, and measure the first pilot before the next.";
  }
  return wrapped(text, 2);
}

std::string rocking_text(const ToleranceReport& report) {
  std::vector<int> guides;
  for (const HoleTolerance& hole : report.holes) {
    if (hole.seats < seldom_seats && (guides.empty() || guides.back() != hole.guide))
      guides.push_back(hole.guide);
  }
  std::string text;
  for (const int guide : guides) {
    text += wrapped("look: Guide " + std::to_string(guide) +
                        " may rock or not go on where the tube is not quite as surveyed: try it on the tube "
                        "before its neighbours are drilled.",
                    2);
  }
  return text;
}

}  // namespace

JobTolerance tolerance_of(const Job& job, const Shop& shop) {
  JobTolerance tolerance;
  try {
    const std::vector<GuidePlan> plans = plan_guides(job.fit.tube(), job.instrument, shop);
    tolerance.report = tolerance_report(job.fit, plans, tolerance_options(shop));
  } catch (const GeometryError& error) {
    tolerance.refused = error.what();
  }
  return tolerance;
}

std::string tolerance_text(const JobTolerance& tolerance) {
  if (!tolerance.refused.empty()) {
    return wrapped("look: How true the holes will come out is not known: " + tolerance.refused, 2);
  }
  const ToleranceReport& report = tolerance.report;
  if (report.holes.empty()) return "";
  TextTable table({"drilled", "guide", "along", "around", "in all", "tilt", ""});
  for (const HoleTolerance& hole : report.holes) {
    table.row({hole.id, std::to_string(hole.guide), plus_minus(hole.along), plus_minus(hole.around),
               number(hole.radial, 1), number(hole.tilt.degrees(), 1) + "°", too_wide(hole) ? "look" : "ok"});
  }
  return "\n" + table.text() +
         wrapped("95 of 100 holes come out within this; fingers accept " + number(accepted_by_fingers, 1) +
                     " mm in all.",
                 2) +
         wide_text(report) + rocking_text(report);
}

JsonValue set_json(const ReadingSet& set) {
  JsonValue readings = JsonValue::array();
  for (const std::string& reading : set.readings) readings.push(reading);
  return JsonValue::object()
      .set("readings", std::move(readings))
      .set("worst_radial_95_after", set.worst)
      .set("within_fingers", set.enough);
}

JsonValue tolerance_json(const JobTolerance& tolerance) {
  JsonValue json = JsonValue::object();
  json.set("accepted_by_fingers", accepted_by_fingers);
  if (!tolerance.refused.empty()) return json.set("refused", tolerance.refused);
  const ToleranceReport& report = tolerance.report;
  JsonValue holes = JsonValue::array();
  for (std::size_t i = 0; i < report.holes.size(); ++i) {
    const HoleTolerance& hole = report.holes[i];
    holes.push(JsonValue::object()
                   .set("id", hole.id)
                   .set("guide", hole.guide)
                   .set("along_95", hole.along)
                   .set("around_95", hole.around)
                   .set("radial_95", hole.radial)
                   .set("tilt_95_deg", hole.tilt.degrees())
                   .set("root_mean_square", hole.rms)
                   .set("from_survey", report.from_survey[i])
                   .set("seats_share", hole.seats)
                   .set("within_fingers", !too_wide(hole)));
  }
  json.set("holes", std::move(holes));
  if (!report.next.text.empty()) {
    json.set("next_reading", report.next.text)
        .set("hole_error", report.next.hole_error_now)
        .set("hole_error_after_it", report.next.hole_error_after);
  }
  if (!report.set.readings.empty()) json.set("reading_set", set_json(report.set));
  if (report.set.on_plates && !report.set_without_plates.readings.empty()) {
    json.set("reading_set_without_plates", set_json(report.set_without_plates));
  }
  return json;
}

}  // namespace culmwright::command
