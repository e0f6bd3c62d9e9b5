#include "plan/skin_ray.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

SkinHit skin_hit(const Tube& tube, const RigidMotion& frame, Vec2 xy, double offset) {
  SkinHit hit;
  Section section = tube.section(-frame.apply({xy.x, xy.y, 0.0}).z);
  for (int i = 0; i < 60; ++i) {
    const Vec3 p = frame.apply({xy.x, xy.y, hit.height});
    if (std::abs(section.at() + p.z) > 1e-12) section = tube.section(-p.z);
    const double excess = section.outside({p.x, p.y}, &hit.theta) - offset;
    const Vec2 n = direction(hit.theta);
    const Vec3 gradient{n.x, n.y, section.support(hit.theta).f_s};
    const double rate = dot(gradient, frame.z);
    hit.facing = rate / length(gradient);
    const double step = std::clamp(excess / std::max(rate, 0.1), -5.0, 5.0);
    hit.height -= step;
    if (std::abs(step) < 1e-11) break;
  }
  return hit;
}

double skin_distance(const Tube& tube, const RigidMotion& frame, Vec3 p, double offset) {
  const Vec3 q = frame.apply(p);
  const double reach = tube.shape().beyond;
  const double at = std::clamp(-q.z, tube.end_a_at() - reach, tube.end_b_at() + reach);
  const Section section = tube.section(at);
  Angle theta;
  const double excess = section.outside({q.x, q.y}, &theta) - offset;
  const double slope = section.support(theta).f_s;
  return std::abs(excess) / std::sqrt(1.0 + slope * slope) + std::abs(at + q.z);
}

}  // namespace culmwright
