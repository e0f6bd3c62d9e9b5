#include "plan/skin_ray.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

/// Excess of a point of a section over the surface, with the direction of its nearest point.
using Excess = double (Section::*)(Vec2, Angle*) const;
using Support = SurfaceJet (Section::*)(Angle) const;

SkinHit hit_from_outside(const Tube& tube, const RigidMotion& frame, Vec2 xy, double offset, Excess excess_of,
                         Support support_of) {
  SkinHit hit;
  Section section = tube.section(-frame.apply({xy.x, xy.y, 0.0}).z);
  for (int i = 0; i < 60; ++i) {
    const Vec3 p = frame.apply({xy.x, xy.y, hit.height});
    if (std::abs(section.at() + p.z) > 1e-12) section = tube.section(-p.z);
    const double excess = (section.*excess_of)({p.x, p.y}, &hit.theta) - offset;
    const Vec2 n = direction(hit.theta);
    // z = −at, so the gradient of q·n − h(θ, −z) is (n, h_s).
    const Vec3 gradient{n.x, n.y, (section.*support_of)(hit.theta).f_s};
    const double rate = dot(gradient, frame.z);
    hit.facing = rate / length(gradient);
    const double step = std::clamp(excess / std::max(rate, 0.1), -5.0, 5.0);
    hit.height -= step;
    if (std::abs(step) < 1e-11) break;
  }
  return hit;
}

double distance_from(const Tube& tube, Vec3 q, double offset, Excess excess_of, Support support_of) {
  const double reach = tube.shape().beyond;
  const double at = std::clamp(-q.z, tube.end_a_at() - reach, tube.end_b_at() + reach);
  const Section section = tube.section(at);
  Angle theta;
  const double excess = (section.*excess_of)({q.x, q.y}, &theta) - offset;
  const double slope = (section.*support_of)(theta).f_s;
  return std::abs(excess) / std::sqrt(1.0 + slope * slope) + std::abs(at + q.z);
}

}  // namespace

SkinHit skin_hit(const Tube& tube, const RigidMotion& frame, Vec2 xy, double offset) {
  return hit_from_outside(tube, frame, xy, offset, &Section::outside, &Section::support);
}

SkinHit bore_hit(const Tube& tube, const RigidMotion& frame, Vec2 xy) {
  return hit_from_outside(tube, frame, xy, 0.0, &Section::outside_bore, &Section::bore_support);
}

double skin_distance(const Tube& tube, const RigidMotion& frame, Vec3 p, double offset) {
  return distance_from(tube, frame.apply(p), offset, &Section::outside, &Section::support);
}

double bore_distance(const Tube& tube, const RigidMotion& frame, Vec3 p) {
  return distance_from(tube, frame.apply(p), 0.0, &Section::outside_bore, &Section::bore_support);
}

}  // namespace culmwright
