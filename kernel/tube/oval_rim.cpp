#include "tube/oval_rim.hpp"

#include <cmath>

namespace culmwright {

std::vector<RimPoint> oval_rim(const Tube& tube, const Drilling& drilling, double across_along,
                               double across_around, int count) {
  std::vector<RimPoint> points;
  Drilling ray = drilling;
  for (int i = 0; i < count; ++i) {
    const Angle t = Angle::from_degrees(360.0 * i / count);
    // The rim's frame has x along the tube.
    const Vec2 across{0.5 * across_along * t.cos(), 0.5 * across_around * t.sin()};
    ray.radius = length(across);
    points.push_back(rim_point(tube, ray, Angle::from_radians(std::atan2(across.y, across.x))));
  }
  return points;
}

}  // namespace culmwright
