#pragma once
/// The two routes to a tube body. For body_solid, which holds what comes out against the plan.
#include "plan/body_plan.hpp"
#include "solid/solid.hpp"

namespace culmwright {

/// Face by face, every rim solved on the patches themselves: a tenth of a second. Throws GeometryError where
/// a cut crosses the seam or an edge departs from its faces.
Solid body_directly(const BodyPlan& plan, const Tube& tube, double nudge);

/// By booleans, each named and checked: five to ten seconds for a dozen holes.
Solid body_by_booleans(const BodyPlan& plan, const Tube& tube, double nudge);

/// Of both routes: how densely skin and bore are sampled.
namespace body_sampling {
constexpr int steps_around = 96;
constexpr double skin_step = 4.0;
constexpr double ridge_step = 0.6;
constexpr double bore_step = 6.0;
}  // namespace body_sampling

}  // namespace culmwright
