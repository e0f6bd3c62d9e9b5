#pragma once
/// Cradles and their wedges as solids, face by face from their plans: one patch along the skin, planes for
/// all else. No booleans.
#include "plan/cradle_plan.hpp"
#include "solid/gate.hpp"

namespace culmwright {

constexpr MeshAccuracy cradle_accuracy{0.05, 0.35, 0.03, 0.15};

/// One build in the tube's frame, unjudged. `nudge` shifts the knots of the patch and nothing else. Throws
/// GeometryError.
Solid build_cradle(const CradleSet& set, const CradleBody& body, double nudge);
/// Builds until the gate passes; every build is in the log. Throws GeometryError.
Solid cradle_solid(const CradleSet& set, const CradleBody& body, GateLog& log);

/// A wedge in its own frame (cradle_plan.hpp), through the gate.
Solid wedge_solid(const CradleWedge& wedge, GateLog& log);

}  // namespace culmwright
