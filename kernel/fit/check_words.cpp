#include "fit/check_words.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "fit/sign.hpp"

namespace culmwright {

namespace {

std::string with_error(const Figure& figure, int decimals) {
  return fixed_text(figure.value, decimals) + " ± " + fixed_text(figure.sigma, decimals);
}

/// Newtons and millimetres of what the thumb feels, in words.
std::string torque_words(const Balance& balance, const Instrument& instrument) {
  const double torque = balance.torque->value;
  std::string words = with_error({std::abs(torque), balance.torque->sigma}, 0) +
                      " N·mm about the thumb rest, " + (torque > 0.0 ? "the foot sinks" : "the mouth sinks");
  if (balance.neutral_along) words += "; neutral with the rest at " + fixed_text(*balance.neutral_along, 0);
  if (balance.ballast_g) {
    const bool at_mouth = *balance.ballast_end == instrument.mouth_end;
    words += ", or with " + fixed_text(*balance.ballast_g, 0) + " g at the " + (at_mouth ? "mouth" : "foot") +
             " end";
  }
  if (balance.roll) {
    words += ". Roll " + fixed_text(std::abs(balance.roll->torque), 1) + " N·mm toward the player's " +
             (balance.roll->torque > 0.0 ? "left" : "right") +
             (balance.roll->stable ? "" : ", and left alone it would roll over");
  }
  return words;
}

}  // namespace

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
      return fixed_text(value, 1) + " mm";
    case Unit::degree:
      return fixed_text(value, 1) + "°";
    case Unit::share:
      return fixed_text(100.0 * value, 1) + " %";
    case Unit::count:
      break;
  }
  return fixed_text(value, 0);
}

std::string verdict_words(const Finding& finding, const SignMark& mark) {
  if (finding.passes) return "ok";
  if (mark.signed_off() && accepted_for(finding, mark.accepted) != nullptr) return "accepted";
  return finding.severity == Severity::hard ? "FAILS" : "look";
}

std::string sentence_of(const Finding& finding, const SignMark& mark) {
  std::string words = verdict_words(finding, mark) + ": " + finding.sentence;
  if (mark.signed_off()) {
    if (const Accepted* accepted = accepted_for(finding, mark.accepted)) {
      words += " Accepted by " + mark.by + ": " + accepted->why + ".";
    }
  }
  return words;
}

std::string balance_words(const Balance& balance, const Instrument& instrument) {
  std::string words = with_error(balance.mass_g, 1) + " g, centre of gravity " +
                      with_error(balance.along, 1) + " from the mouth cut";
  if (balance.torque) words += "; " + torque_words(balance, instrument);
  return words;
}

const char* origin_words(Origin origin) {
  switch (origin) {
    case Origin::given:
      return "given";
    case Origin::proposed:
      return "proposed";
    case Origin::transferred:
      return "transferred";
    case Origin::shifted:
      return "shifted";
    case Origin::measured:
      return "measured";
    case Origin::drilled:
      break;
  }
  return "drilled";
}

}  // namespace culmwright
