#pragma once
/// Backing shoes as solids, face by face from their plans: a patch parallel to the bore, and planes.
#include "plan/backing_plan.hpp"
#include "solid/gate.hpp"

namespace culmwright {

constexpr MeshAccuracy backing_accuracy{0.05, 0.35, 0.03, 0.15};

/// In the tube's frame, through the gate; every build is in the log. Throws GeometryError.
Solid backing_solid(const BackingShoe& shoe, GateLog& log);

}  // namespace culmwright
