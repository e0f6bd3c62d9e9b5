#pragma once
/// What the rules and the balance say, in words for the maker: shared by terminal and sheets.
#include <string>

#include "fit/balance.hpp"
#include "fit/rules.hpp"

namespace culmwright {

/// The rule that a finding is of.
const Rule& rule_of(const Finding& finding);
/// "5.0 mm", "1.4°", "28.7 %", "3".
std::string in_unit(double value, Unit unit);
/// "ok", "FAILS", "look"; of a signed placement also "accepted".
std::string verdict_words(const Finding& finding, const SignMark& mark);
/// Its verdict and its sentence, with the signer's reason where it was accepted.
std::string sentence_of(const Finding& finding, const SignMark& mark);
/// "242.4 ± 0.5 g, centre of gravity 221.3 ± 0.7 from the mouth cut; …" without a full stop.
std::string balance_words(const Balance& balance, const Instrument& instrument);
/// "given", "measured".
const char* origin_words(Origin origin);

}  // namespace culmwright
