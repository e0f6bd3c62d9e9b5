#include "plan/fitted_holes.hpp"

#include <algorithm>

#include "base/problem.hpp"
#include "plan/fitted_plan.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

FittedHoles holes_of(const Tube& tube, const FittedPlan& plan) {
  const auto hole = [&](Vec2 xy, double radius) {
    const SkinHit hit = skin_hit(tube, plan.to_tube, xy, 0.0);
    return Drilling{plan.to_tube.apply({xy.x, xy.y, hit.height}), plan.to_tube.z, radius};
  };
  FittedHoles holes;
  holes.id = plan.id;
  for (const FittedScrew& screw : plan.screws) {
    holes.screws.push_back(hole(screw.xy, 0.5 * screw.pilot));
    holes.depth = holes.depth > 0.0 ? std::min(holes.depth, screw.depth) : screw.depth;
  }
  if (plan.way_radius) holes.wires = hole({plan.way_middle, 0.0}, *plan.way_radius);
  return holes;
}

}  // namespace

std::vector<FittedHoles> fitted_holes(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  std::vector<FittedHoles> all;
  for (const PlacedPart& part : instrument.parts) {
    if (!is_fitted_part(part.part)) continue;
    try {
      all.push_back(holes_of(tube, plan_fitted(tube, part, shop, instrument.mouth_end)));
    } catch (const GeometryError&) {
      continue;
    }
  }
  return all;
}

}  // namespace culmwright
