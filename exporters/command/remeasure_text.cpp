#include "command/remeasure_text.hpp"

#include <algorithm>

#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

std::string measured(const std::optional<double>& value, const std::optional<double>& error) {
  if (!error) return "";
  return value ? with_error(*value, *error, 1) : "± " + number(*error, 1);
}

/// In a first placement nothing stood anywhere before.
std::string places_text(const Remeasured& remeasured) {
  const bool first = remeasured.placement.revisions.size() == 1;
  TextTable table({"measured", "along", "from line", first ? "" : "moved"});
  for (const MeasuredPlace& place : remeasured.places) {
    const std::string moved = place.moved.empty() ? "no" : place.moved;
    table.row({place.id, measured(place.along, place.along_error), measured(place.around, place.around_error),
               first ? "" : moved});
  }
  return table.text();
}

std::string readings_text(const Remeasured& remeasured) {
  TextTable table({"reading", "", "error", "settled", "off by"});
  for (const SettledReading& reading : remeasured.readings) {
    const double off = reading.distance - reading.settled;
    table.row({std::to_string(reading.number), reading.words, number(reading.error, 1),
               number(reading.settled, 1), number(off, 1) + (reading.left_out ? ", left out" : "")});
  }
  return table.text();
}

std::string without_words(const std::vector<Contradiction>& contradictions) {
  std::string words;
  for (const Contradiction& found : contradictions) words += " --without " + std::to_string(found.number);
  return words;
}

}  // namespace

std::string remeasure_text(const Remeasured& remeasured) {
  std::string text;
  if (remeasured.contradictions.empty()) text += places_text(remeasured);
  const bool some_left_out = std::any_of(remeasured.readings.begin(), remeasured.readings.end(),
                                         [](const SettledReading& reading) { return reading.left_out; });
  if (remeasured.more_than_needed > 0 || some_left_out || !remeasured.contradictions.empty()) {
    text += readings_text(remeasured);
  }
  for (const Contradiction& found : remeasured.contradictions) {
    text += wrapped("Contradiction: " + found.sentence, 2);
  }
  if (!remeasured.contradictions.empty()) {
    text += wrapped("Nothing was written. Measure again, or leave out what is wrong:" +
                        without_words(remeasured.contradictions),
                    2);
  }
  for (const std::string& remark : remeasured.remarks) text += wrapped(remark, 2);
  return text;
}

JsonValue remeasure_json(const Remeasured& remeasured) {
  JsonValue places = JsonValue::array();
  for (const MeasuredPlace& place : remeasured.places) {
    JsonValue one = JsonValue::object();
    one.set("id", place.id);
    if (place.along) one.set("along", *place.along);
    if (place.along_error) one.set("along_error", *place.along_error);
    if (place.around) one.set("around", *place.around);
    if (place.around_error) one.set("around_error", *place.around_error);
    places.push(one.set("moved", place.moved));
  }
  JsonValue readings = JsonValue::array();
  for (const SettledReading& reading : remeasured.readings) {
    readings.push(JsonValue::object()
                      .set("reading", reading.number)
                      .set("words", reading.words)
                      .set("distance", reading.distance)
                      .set("error", reading.error)
                      .set("settled", reading.settled)
                      .set("left_out", reading.left_out));
  }
  JsonValue contradictions = JsonValue::array();
  for (const Contradiction& found : remeasured.contradictions) {
    JsonValue suspects = JsonValue::array();
    for (const int number : found.suspects) suspects.push(number);
    JsonValue against = JsonValue::array();
    for (const int number : found.against) against.push(number);
    contradictions.push(JsonValue::object()
                            .set("reading", found.number)
                            .set("suspects", std::move(suspects))
                            .set("against", std::move(against))
                            .set("others_say", found.others_say)
                            .set("times", found.times)
                            .set("sentence", found.sentence));
  }
  JsonValue remarks = JsonValue::array();
  for (const std::string& remark : remeasured.remarks) remarks.push(remark);
  return JsonValue::object()
      .set("places", std::move(places))
      .set("readings", std::move(readings))
      .set("contradictions", std::move(contradictions))
      .set("remarks", std::move(remarks));
}

}  // namespace culmwright::command
