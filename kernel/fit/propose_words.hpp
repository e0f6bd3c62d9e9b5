#pragma once
/// A refusal in plain words. Internal to proposing.
#include "fit/propose_settle.hpp"

namespace culmwright {

/// `candidate` comes nearest and is blocked.
Refusal refusal_of(const Model& model, const Candidate& candidate, const AlongProblem& along,
                   const Blocked& blocked);

/// What can be said before any candidate: the piece is too short, a key finds no place anywhere.
std::optional<Refusal> refused_outright(const Model& model, const std::vector<Stand>& stands);

}  // namespace culmwright
