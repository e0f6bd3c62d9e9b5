#pragma once
/// A drill guide as a solid, face by face from its plan: the inner patch cut by the rims of the bores, the
/// outer patch cut by the feet of the bosses, cylinders between solved curves, plane tops, ends and feet,
/// ruled walls of windows, engraving, tongues and notches. No booleans.
#include "plan/guide_plan.hpp"
#include "solid/gate.hpp"
#include "solid/solid.hpp"

namespace culmwright {

/// One build, unjudged. `nudge` (mm) moves nothing of the guide: it shifts the knots of the patches and turns
/// the seams of the cylinders, so that a build which fails by a coincidence can be had again without it.
/// Throws GeometryError.
Solid build_guide(const GuidePlan& plan, double nudge);

/// Builds until the gate passes (solid/gate.hpp); every build is in the log. Throws GeometryError.
Solid build_guide(const GuidePlan& plan, GateLog& log);

/// Of the mesh that is printed and that the gate holds: facets within 0.025 of the faces, and of the pads within
/// 0.02; the rims of bores within 0.006 of round.
MeshAccuracy guide_mesh_accuracy();

}  // namespace culmwright
