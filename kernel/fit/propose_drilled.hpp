#pragma once
/// Proposing around what is drilled: after a slip, or half-way.
#include "fit/drilled_facts.hpp"
#include "fit/propose.hpp"

namespace culmwright {

/// The best different placements in which every drilled hole stands where it is, the rest placed anew; clear
/// of extra holes, with finished ones as wide as they came out. Mouth end, cuts and facing stay: the first
/// hole has settled them. Or why there is none, and what would make room again: each offer has been tried.
///
/// `placement`: as its document has it; `job`: with_drilled_facts of it. Of `options` count, date and figures
/// are used.
std::variant<std::vector<Proposal>, Refusal> propose_as_drilled(
    const DrilledJob& job, const KeyLayout& layout, const Placement& placement, const AsDrilled& as_drilled,
    double pilot_diameter, const ProposeOptions& options = {});

}  // namespace culmwright
