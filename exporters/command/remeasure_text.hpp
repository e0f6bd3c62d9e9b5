#pragma once
/// What `remeasure` says, for people and for programs.
#include <string>

#include "files/json_writer.hpp"
#include "fit/remeasure.hpp"

namespace culmwright::command {

/// What was measured and what moved; the readings one by one where there were more than needed;
/// contradictions and what can be done about them; remarks.
std::string remeasure_text(const Remeasured& remeasured);
JsonValue remeasure_json(const Remeasured& remeasured);

}  // namespace culmwright::command
