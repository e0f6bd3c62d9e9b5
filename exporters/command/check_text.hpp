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
/// "web along the grain: fails".
std::string title_of(const Finding& finding);
JsonValue finding_json(const Finding& finding);
JsonValue balance_json(const Balance& balance);
JsonValue check_json(const Instrument& instrument, const std::vector<Finding>& findings,
                     const std::optional<Balance>& balance);

}  // namespace culmwright::command
