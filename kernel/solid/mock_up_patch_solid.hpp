#pragma once
/// Mock-up patches as solids, face by face from their plan: two sheets parallel to the skin, walls along its
/// normals, the rounded edge, the notch, the engraving. No booleans.
#include "plan/mock_up_patch_plan.hpp"
#include "solid/gate.hpp"

namespace culmwright {

constexpr MeshAccuracy mock_up_patch_accuracy{0.03, 0.25, 0.02, 0.15};

/// One build in the tube's frame, unjudged. `nudge` (mm) shifts the places where the sheets are sampled and
/// moves nothing of the patch. Throws GeometryError.
Solid build_mock_up_patch(const MockUpPatchPlan& plan, double nudge);

/// Builds until the gate passes; every build is in the log. Throws GeometryError.
Solid mock_up_patch_solid(const MockUpPatchPlan& plan, GateLog& log);

}  // namespace culmwright
