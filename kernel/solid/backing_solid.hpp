#pragma once
/// Backing shoes as solids, face by face from their plans: a patch parallel to the bore, and planes.
#include "plan/backing_plan.hpp"
#include "solid/gate.hpp"

namespace culmwright {

/// Finer than other parts: of a slim shoe a chord of 0.05 already takes a hundredth of its section.
constexpr MeshAccuracy backing_accuracy{0.02, 0.2, 0.01, 0.1};

/// In the tube's frame, through the gate; every build is in the log. Throws GeometryError.
Solid backing_solid(const BackingShoe& shoe, GateLog& log);

}  // namespace culmwright
