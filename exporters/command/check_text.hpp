#pragma once
/// What `check` says of a placement, for people and for programs.
#include <string>

#include "files/json_writer.hpp"
#include "fit/rules.hpp"

namespace culmwright::command {

std::string check_text(const Instrument& instrument, const std::vector<Finding>& findings);
JsonValue finding_json(const Finding& finding);
JsonValue check_json(const Instrument& instrument, const std::vector<Finding>& findings);

}  // namespace culmwright::command
