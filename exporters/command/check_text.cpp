#include "command/check_text.hpp"

#include <algorithm>

#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

const Rule& rule_of(const Finding& finding) {
  const auto& list = rules();
  const auto it =
      std::find_if(list.begin(), list.end(), [&](const Rule& rule) { return rule.id == finding.rule; });
  require(it != list.end(), "a finding of a rule that is not listed");
  return *it;
}

std::string in_unit(double value, Unit unit) {
  switch (unit) {
    case Unit::millimetre:
      return number(value, 1) + " mm";
    case Unit::degree:
      return number(value, 1) + "°";
    case Unit::share:
      return number(100.0 * value, 1) + " %";
    case Unit::count:
      break;
  }
  return number(value, 0);
}

std::string verdict(const Finding& finding) {
  if (finding.passes) return "ok";
  return finding.severity == Severity::hard ? "FAILS" : "look";
}

}  // namespace

std::string check_text(const Instrument& instrument, const std::vector<Finding>& findings) {
  std::string text = instrument.id + ": " + instrument.layout_id + " on " + instrument.tube_id +
                     ", revision " + std::to_string(instrument.revision) +
                     (instrument.draft ? " (DRAFT)" : "") + "\n";
  TextTable keys({"key", "at", "around", "along", "from line", "hole", "wall", "tilt"});
  for (const PlacedKey& key : instrument.keys) {
    keys.row({key.key.id, number(key.place.at, 1), number(key.place.around, 1), number(key.along, 1),
              number(key.around, 1), number(key.key.hole_diameter, 1), number(key.wall, 1),
              number(key.tilt.degrees(), 1) + "°"});
  }
  text += keys.text() + "\n";
  TextTable table({"rule", "value", "limit", "margin", ""});
  for (const Finding& finding : findings) {
    const Rule& rule = rule_of(finding);
    table.row({rule.title, in_unit(finding.value, rule.unit), in_unit(finding.limit, rule.unit),
               in_unit(finding.margin, rule.unit), verdict(finding)});
  }
  text += table.text();
  for (const Finding& finding : findings) {
    if (!finding.passes) text += wrapped(verdict(finding) + ": " + finding.sentence, 2);
  }
  return text;
}

JsonValue finding_json(const Finding& finding) {
  JsonValue ids = JsonValue::array();
  for (const std::string& id : finding.ids) ids.push(id);
  JsonValue nodes = JsonValue::array();
  for (int node : finding.nodes) nodes.push(node);
  return JsonValue::object()
      .set("rule", finding.rule)
      .set("severity", finding.severity == Severity::hard ? "hard" : "warning")
      .set("passes", finding.passes)
      .set("value", finding.value)
      .set("limit", finding.limit)
      .set("margin", finding.margin)
      .set("concerns", std::move(ids))
      .set("nodes", std::move(nodes))
      .set("at", finding.place.at)
      .set("around", finding.place.around)
      .set("sentence", finding.sentence);
}

JsonValue check_json(const Instrument& instrument, const std::vector<Finding>& findings) {
  JsonValue list = JsonValue::array();
  for (const Finding& finding : findings) list.push(finding_json(finding));
  return JsonValue::object()
      .set("placement", instrument.id)
      .set("tube", instrument.tube_id)
      .set("key_layout", instrument.layout_id)
      .set("revision", instrument.revision)
      .set("acceptable", acceptable(findings))
      .set("rules", std::move(list));
}

}  // namespace culmwright::command
