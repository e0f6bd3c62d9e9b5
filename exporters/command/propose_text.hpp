#pragma once
/// What `propose` says, for people and for programs.
#include <string>
#include <variant>
#include <vector>

#include "files/json_writer.hpp"
#include "fit/propose.hpp"

namespace culmwright::command {

using Proposed = std::variant<std::vector<Proposal>, Refusal>;

/// `heading`: which key layout on which tube.
std::string propose_text(const std::string& heading, const Proposed& proposed);
JsonValue propose_json(const std::string& tube, const std::string& layout, const Proposed& proposed);

}  // namespace culmwright::command
