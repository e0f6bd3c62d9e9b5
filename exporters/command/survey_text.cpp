#include "command/survey_text.hpp"

#include <cmath>

#include "command/terminal.hpp"
#include "tube/check_girth.hpp"

namespace culmwright::command {

namespace {

JsonValue figure(const Figure& figure) {
  return JsonValue::object().set("value", figure.value).set("sigma", figure.sigma);
}

std::string station_table(const SurveyReport& report) {
  TextTable table({"at", "girth", "diameter", "ovality", "wall"});
  for (const StationFigures& station : report.stations) {
    table.row({number(station.at, 1), with_error(station.girth.value, station.girth.sigma, 1),
               number(station.diameter(), 2), number(station.ovality(), 4),
               with_error(station.wall.value, station.wall.sigma, 1)});
  }
  return table.text();
}

/// Where the belly lies is said only of a bow that stands out from its error.
std::string bow_words(const SurveyReport& report) {
  const std::string figure = with_error(report.bow_offset.value, report.bow_offset.sigma, 2) + " mm";
  if (report.bow_offset.value < 2.0 * report.bow_offset.sigma) return figure + ", straight within its error";
  return figure + " at " + number(report.bow_at, 0) + ", belly toward " +
         number(report.bow_facing.degrees(), 0) + "° (" + number(report.bow, 4) + " of the length)";
}

std::string piece_lines(const TubeFit& fit, const SurveyReport& report) {
  const Survey& survey = fit.survey();
  std::string text;
  const auto line = [&](const std::string& what, const std::string& value) {
    text += "  " + what + std::string(what.size() < 18 ? 18 - what.size() : 1, ' ') + value + "\n";
  };
  line("length", number(survey.length, 1));
  line("taper", with_error(report.taper.value, report.taper.sigma, 4) +
                    (std::abs(report.taper.value) < 2.0 * report.taper.sigma ? ", straight within its error"
                     : report.taper.value >= 0.0                             ? ", thicker at A"
                                                                             : ", thicker at B"));
  line("bow", bow_words(report));
  std::string internodes;
  for (const Internode& internode : report.internodes) {
    internodes += (internodes.empty() ? "" : " | ") + number(internode.length(), 0);
  }
  line("internodes, A to B", internodes);
  line("volume", with_error(report.volume.value / 1000.0, report.volume.sigma / 1000.0, 1) + " cm³");
  if (report.mass_g) line("mass", number(*report.mass_g, 1) + " g");
  if (report.density) {
    line("density", with_error(report.density->value, report.density->sigma, 2) + " g/cm³");
  }
  if (report.centre_of_gravity) {
    line("balances at",
         with_error(report.centre_of_gravity->value, report.centre_of_gravity->sigma, 1) + " mm");
  }
  return text;
}

}  // namespace

std::string survey_text(const TubeFit& fit, const SurveyReport& report) {
  const Survey& survey = fit.survey();
  std::string text = survey.id + "\n" + piece_lines(fit, report) + "\n" + station_table(report) + "\n";
  if (!fit.orders_left_out().empty()) {
    std::string orders;
    for (int order : fit.orders_left_out()) orders += (orders.empty() ? "" : ", ") + std::to_string(order);
    text += wrapped(
        "Lobes of order " + orders + " do not stand out from the readings' errors and are left out.", 2);
  }
  for (const SurveyRemark& remark : report.remarks) text += wrapped("Look: " + remark.text, 2);
  for (const GirthMovement& movement : girth_movements(fit)) {
    text += wrapped((movement.moved() || movement.on_node ? "Look: " : "") + movement_sentence(movement), 2);
  }
  text += wrapped("A hole's place is known to " + number(report.next.hole_error_now, 2) + " mm" +
                      (report.next.good_enough ? "; fingers accept " : "; fingers accept only ") +
                      number(accepted_by_fingers, 1) + ".",
                  2);
  if (report.next.text.empty()) {
    text += "  No single reading more would help much.\n";
  } else {
    text += wrapped("What would help most: " + report.next.text + " (to " +
                        number(report.next.hole_error_after, 2) + " mm).",
                    2);
    if (!report.next.without_plates.empty()) {
      text += wrapped("Without survey plates: " + report.next.without_plates + " (to " +
                          number(report.next.hole_error_without_plates, 2) + " mm).",
                      2);
    }
  }
  const std::string reminder = check_girth_reminder(girth_movements(fit));
  return reminder.empty() ? text : text + wrapped(reminder, 2);
}

JsonValue survey_json(const TubeFit& fit, const SurveyReport& report) {
  const Survey& survey = fit.survey();
  JsonValue stations = JsonValue::array();
  for (const StationFigures& station : report.stations) {
    stations.push(JsonValue::object()
                      .set("at", station.at)
                      .set("girth", figure(station.girth))
                      .set("greatest_width", station.greatest)
                      .set("least_width", station.least)
                      .set("ovality", station.ovality())
                      .set("wall", figure(station.wall)));
  }
  JsonValue internodes = JsonValue::array();
  for (const Internode& internode : report.internodes) {
    internodes.push(JsonValue::object().set("from_at", internode.from_at).set("to_at", internode.to_at));
  }
  JsonValue remarks = JsonValue::array();
  for (const SurveyRemark& remark : report.remarks) {
    remarks.push(
        JsonValue::object().set("code", remark.code).set("pointer", remark.pointer).set("text", remark.text));
  }
  JsonValue girths = JsonValue::array();
  for (const GirthMovement& movement : girth_movements(fit)) {
    girths.push(JsonValue::object()
                    .set("at", movement.at)
                    .set("girth", movement.read)
                    .set("expected", movement.expected)
                    .set("sigma", movement.sigma)
                    .set("moved", movement.moved()));
  }
  JsonValue left_out = JsonValue::array();
  for (int order : fit.orders_left_out()) left_out.push(order);
  JsonValue json = JsonValue::object();
  json.set("tube", survey.id)
      .set("length", survey.length)
      .set("taper", figure(report.taper))
      .set("bow", report.bow)
      .set("bow_offset", figure(report.bow_offset))
      .set("bow_at", report.bow_at)
      .set("bow_facing_deg", report.bow_facing.degrees())
      .set("internodes", std::move(internodes))
      .set("volume_mm3", figure(report.volume));
  if (report.mass_g) json.set("mass_g", *report.mass_g);
  if (report.density) json.set("density_g_cm3", figure(*report.density));
  if (report.centre_of_gravity) json.set("centre_of_gravity_at", figure(*report.centre_of_gravity));
  json.set("stations", std::move(stations))
      .set("orders_left_out", std::move(left_out))
      .set("remarks", std::move(remarks))
      .set("check_girths", std::move(girths))
      .set("hole_error", report.next.hole_error_now)
      .set("next_reading", report.next.text)
      .set("hole_error_after_it", report.next.hole_error_after);
  if (!report.next.without_plates.empty()) {
    json.set("next_reading_without_plates", report.next.without_plates)
        .set("hole_error_after_that", report.next.hole_error_without_plates);
  }
  return json;
}

}  // namespace culmwright::command
