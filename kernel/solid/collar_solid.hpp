#pragma once
/// Saw collars as solids, face by face from their plan: bore and outside on the same samples, so that the
/// split's sides are exact ruled surfaces; plane ends; ruled walls of window and engraving. No booleans.
#include "plan/collar_plan.hpp"
#include "solid/gate.hpp"

namespace culmwright {

constexpr MeshAccuracy collar_accuracy{0.05, 0.35, 0.02, 0.12};

/// One build, unjudged; `nudge` (mm) shifts the samples of the faces and nothing else. Throws GeometryError.
Solid build_collar(const CollarPlan& plan, double nudge);

/// Through the gate; every build is entered in the log. Throws GeometryError when none was sound.
Solid collar_solid(const CollarPlan& plan, GateLog& log);

}  // namespace culmwright
