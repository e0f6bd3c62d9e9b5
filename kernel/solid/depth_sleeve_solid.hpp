#pragma once
/// Depth sleeves as solids, face by face from their plans: planes and one cylinder.
#include "plan/depth_sleeve.hpp"
#include "solid/gate.hpp"

namespace culmwright {

constexpr MeshAccuracy sleeve_accuracy{0.05, 0.3, 0.02, 0.15};

/// In the sleeve's own frame, lower end at z = 0, through the gate; every build is in the log. Throws
/// GeometryError.
Solid depth_sleeve_solid(const DepthSleeve& sleeve, GateLog& log);

}  // namespace culmwright
