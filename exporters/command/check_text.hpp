#pragma once
/// What `check` says of a placement, for people and for programs.
#include <optional>
#include <string>

#include "files/json_writer.hpp"
#include "fit/balance.hpp"
#include "fit/rules.hpp"

namespace culmwright::command {

std::string check_text(const Instrument& instrument, const std::vector<Finding>& findings,
                       const std::optional<Balance>& balance);
/// The survey is too coarse for what is about to be drilled; empty where it is not.
std::string known_text(const TubeFit& fit);
/// "ok", "FAILS", "look".
std::string verdict(const Finding& finding);
/// "web along the grain".
const std::string& rule_title(const Finding& finding);
/// Its margin in the rule's unit.
std::string margin_words(const Finding& finding);
/// "web along the grain: FAILS".
std::string title_of(const Finding& finding);
JsonValue finding_json(const Finding& finding);
JsonValue balance_json(const Balance& balance);
/// Draft, signed off or no longer signed; by whom, when, what was accepted, what has changed since.
JsonValue sign_json(const SignMark& mark);
/// What has changed since it was signed; empty where it is a draft or still signed.
std::string changed_text(const SignMark& mark);
JsonValue check_json(const Instrument& instrument, const std::vector<Finding>& findings,
                     const std::optional<Balance>& balance);

}  // namespace culmwright::command
