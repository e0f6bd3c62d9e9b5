#include "command/check_text.hpp"

#include <algorithm>
#include <cmath>

#include "command/terminal.hpp"
#include "fit/sign.hpp"
#include "tube/survey_report.hpp"

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

/// Of a signed placement also "accepted".
std::string verdict(const Finding& finding, const SignMark& mark) {
  const bool accepted =
      !finding.passes && mark.signed_off() && accepted_for(finding, mark.accepted) != nullptr;
  return accepted ? "accepted" : command::verdict(finding);
}

std::string sentence_of(const Finding& finding, const SignMark& mark) {
  std::string words = verdict(finding, mark) + ": " + finding.sentence;
  if (mark.signed_off()) {
    if (const Accepted* accepted = accepted_for(finding, mark.accepted)) {
      words += " Accepted by " + mark.by + ": " + accepted->why + ".";
    }
  }
  return words;
}

/// Newtons and millimetres of what the thumb feels, in words.
std::string torque_words(const Balance& balance, const Instrument& instrument) {
  std::string words;
  const double torque = balance.torque->value;
  words += with_error(std::abs(torque), balance.torque->sigma, 0) + " N·mm about the thumb rest, " +
           (torque > 0.0 ? "the foot sinks" : "the mouth sinks");
  if (balance.neutral_along) words += "; neutral with the rest at " + number(*balance.neutral_along, 0);
  if (balance.ballast_g) {
    const bool at_mouth = *balance.ballast_end == instrument.mouth_end;
    words +=
        ", or with " + number(*balance.ballast_g, 0) + " g at the " + (at_mouth ? "mouth" : "foot") + " end";
  }
  if (balance.roll) {
    words += ". Roll " + number(std::abs(balance.roll->torque), 1) + " N·mm toward the player's " +
             (balance.roll->torque > 0.0 ? "left" : "right") +
             (balance.roll->stable ? "" : ", and left alone it would roll over");
  }
  return words;
}

std::string balance_text(const Balance& balance, const Instrument& instrument) {
  std::string words = "Balance: " + with_error(balance.mass_g.value, balance.mass_g.sigma, 1) +
                      " g, centre of gravity " + with_error(balance.along.value, balance.along.sigma, 1) +
                      " from the mouth cut";
  if (balance.torque) words += "; " + torque_words(balance, instrument);
  return wrapped(words + ".", 2);
}

}  // namespace

std::string check_text(const Instrument& instrument, const std::vector<Finding>& findings,
                       const std::optional<Balance>& balance) {
  std::string text = instrument.id + ": " + instrument.layout_id + " on " + instrument.tube_id +
                     ", revision " + std::to_string(instrument.revision) + ", " +
                     sign_words(instrument.sign) + "\n" + changed_text(instrument.sign);
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
               in_unit(finding.margin, rule.unit), verdict(finding, instrument.sign)});
  }
  text += table.text();
  if (balance) text += balance_text(*balance, instrument);
  for (const Finding& finding : findings) {
    if (!finding.passes) text += wrapped(sentence_of(finding, instrument.sign), 2);
  }
  return text;
}

std::string known_text(const TubeFit& fit) {
  const double error = hole_error(fit);
  if (error <= accepted_by_fingers) return "";
  return wrapped("look: The survey knows a hole's place to " + number(error, 2) +
                     " mm only; fingers accept " + number(accepted_by_fingers, 1) +
                     ". The command survey says which reading helps most.",
                 2);
}

std::string verdict(const Finding& finding) {
  if (finding.passes) return "ok";
  return finding.severity == Severity::hard ? "FAILS" : "look";
}

std::string changed_text(const SignMark& mark) {
  constexpr std::size_t most = 8;
  std::string text;
  for (std::size_t i = 0; i < mark.what_changed.size() && i < most; ++i) {
    text += wrapped(mark.what_changed[i], 2);
  }
  if (mark.what_changed.size() > most) {
    text += "  And " + std::to_string(mark.what_changed.size() - most) + " more changes.\n";
  }
  return text;
}

const std::string& rule_title(const Finding& finding) {
  return rule_of(finding).title;
}

std::string margin_words(const Finding& finding) {
  return in_unit(finding.margin, rule_of(finding).unit);
}

std::string title_of(const Finding& finding) {
  return rule_of(finding).title + ": " + verdict(finding);
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

JsonValue balance_json(const Balance& balance) {
  JsonValue items = JsonValue::array();
  for (const MassItem& item : balance.items) {
    items.push(JsonValue::object()
                   .set("what", item.what)
                   .set("mass_g", item.mass_g)
                   .set("centre", JsonValue::array({item.centre.x, item.centre.y, item.centre.z})));
  }
  JsonValue json = JsonValue::object();
  json.set("mass_g", balance.mass_g.value)
      .set("mass_sigma_g", balance.mass_g.sigma)
      .set("along_from_mouth", balance.along.value)
      .set("along_sigma", balance.along.sigma);
  if (balance.torque) {
    json.set("torque_n_mm", balance.torque->value).set("torque_sigma_n_mm", balance.torque->sigma);
  }
  if (balance.neutral_along) json.set("neutral_rest_along", *balance.neutral_along);
  if (balance.ballast_g) {
    json.set("ballast_g", *balance.ballast_g).set("ballast_end", *balance.ballast_end == End::a ? "A" : "B");
  }
  if (balance.roll) {
    json.set("roll_arm", balance.roll->arm)
        .set("roll_torque_n_mm", balance.roll->torque)
        .set("roll_stable", balance.roll->stable);
  }
  return json.set("items", std::move(items));
}

JsonValue sign_json(const SignMark& mark) {
  constexpr const char* states[] = {"draft", "signed off", "no longer signed"};
  JsonValue json = JsonValue::object();
  json.set("state", states[static_cast<int>(mark.state)]);
  if (mark.state == SignState::draft) return json;
  json.set("by", mark.by).set("date", mark.date);
  JsonValue accepted = JsonValue::array();
  for (const Accepted& one : mark.accepted) {
    JsonValue ids = JsonValue::array();
    for (const std::string& id : one.ids) ids.push(id);
    accepted.push(JsonValue::object().set("rule", one.rule).set("concerns", ids).set("why", one.why));
  }
  json.set("accepted", std::move(accepted));
  JsonValue changed = JsonValue::array();
  for (const std::string& sentence : mark.what_changed) changed.push(sentence);
  return json.set("changed", std::move(changed));
}

JsonValue check_json(const Instrument& instrument, const std::vector<Finding>& findings,
                     const std::optional<Balance>& balance) {
  JsonValue list = JsonValue::array();
  for (const Finding& finding : findings) list.push(finding_json(finding));
  JsonValue json = JsonValue::object();
  json.set("placement", instrument.id)
      .set("tube", instrument.tube_id)
      .set("key_layout", instrument.layout_id)
      .set("revision", instrument.revision)
      .set("sign", sign_json(instrument.sign))
      .set("acceptable", acceptable(findings, instrument.sign));
  if (balance) json.set("balance", balance_json(*balance));
  return json.set("rules", std::move(list));
}

}  // namespace culmwright::command
