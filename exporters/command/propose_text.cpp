#include "command/propose_text.hpp"

#include "command/check_text.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

std::string proposal_text(int number_of, const Proposal& proposal) {
  const Instrument& instrument = proposal.instrument;
  std::string text =
      std::to_string(number_of) + "  " + instrument.id + ", " + number(proposal.score, 1) + " points\n";
  text += wrapped(proposal.character, 3);
  text += wrapped("mouth cut at " + number(instrument.mouth_cut_at, 1) + ", foot cut at " +
                      number(instrument.foot_cut_at, 1) + ", facing " +
                      number(instrument.facing.degrees(), 1) + "°",
                  3);
  TextTable terms({"", "amount", "", "weight", "points"});
  for (const ScoreTerm& term : proposal.terms) {
    terms.row(
        {term.name, number(term.value, 2), term.unit, number(term.weight, 3), number(term.points(), 2)});
  }
  text += terms.text();
  for (const std::string& remark : proposal.remarks) text += wrapped("Look: " + remark, 3);
  return text + "\n";
}

std::string refusal_text(const Refusal& refusal) {
  std::string text = wrapped(refusal.sentence, 2);
  if (!refusal.demands.empty()) text += "  These cannot all be kept:\n";
  for (const std::string& demand : refusal.demands) text += wrapped("- " + demand, 4);
  if (!refusal.relaxations.empty()) text += "  Any one of these would do:\n";
  for (const std::string& relaxation : refusal.relaxations) text += wrapped("- " + relaxation, 4);
  return text + "\n";
}

JsonValue strings(const std::vector<std::string>& list) {
  JsonValue json = JsonValue::array();
  for (const std::string& text : list) json.push(text);
  return json;
}

JsonValue proposal_json(const Proposal& proposal) {
  JsonValue terms = JsonValue::array();
  for (const ScoreTerm& term : proposal.terms) {
    terms.push(JsonValue::object()
                   .set("name", term.name)
                   .set("value", term.value)
                   .set("unit", term.unit)
                   .set("weight", term.weight)
                   .set("points", term.points()));
  }
  JsonValue keys = JsonValue::array();
  for (const PlacedKey& key : proposal.instrument.keys) {
    keys.push(
        JsonValue::object().set("id", key.key.id).set("at", key.place.at).set("around", key.place.around));
  }
  return JsonValue::object()
      .set("placement", proposal.instrument.id)
      .set("character", proposal.character)
      .set("score", proposal.score)
      .set("terms", std::move(terms))
      .set("mouth_end", proposal.instrument.mouth_end == End::a ? "A" : "B")
      .set("mouth_cut_at", proposal.instrument.mouth_cut_at)
      .set("foot_cut_at", proposal.instrument.foot_cut_at)
      .set("facing_deg", proposal.instrument.facing.degrees())
      .set("keys", std::move(keys))
      .set("remarks", strings(proposal.remarks));
}

}  // namespace

std::string propose_text(const std::string& heading, const Proposed& proposed) {
  std::string text = heading + "\n";
  if (const auto* refusal = std::get_if<Refusal>(&proposed)) return text + refusal_text(*refusal);
  int count = 0;
  for (const Proposal& proposal : std::get<std::vector<Proposal>>(proposed)) {
    text += proposal_text(++count, proposal);
  }
  return text;
}

JsonValue propose_json(const std::string& tube, const std::string& layout, const Proposed& proposed) {
  JsonValue json = JsonValue::object();
  json.set("tube", tube).set("key_layout", layout);
  if (const auto* refusal = std::get_if<Refusal>(&proposed)) {
    return json.set("refused", refusal->sentence)
        .set("demands", strings(refusal->demands))
        .set("relaxations", strings(refusal->relaxations));
  }
  JsonValue list = JsonValue::array();
  for (const Proposal& proposal : std::get<std::vector<Proposal>>(proposed))
    list.push(proposal_json(proposal));
  return json.set("proposals", std::move(list));
}

}  // namespace culmwright::command
