#include "tube/hole.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

Vec3 ray_start(const Drilling& drilling, Angle phi) {
  const RigidMotion frame = rim_frame(drilling);
  return drilling.point + (frame.x * phi.cos() + frame.y * phi.sin()) * drilling.radius;
}

/// Depth t at which start + t · axis meets the surface excess(section, q, θ) = 0; Newton with the surface's
/// own gradient, from the plane through the hole's place.
template <class Excess>
double meet(const Tube& tube, Vec3 start, Vec3 axis, double guess, const Excess& excess, Angle* theta) {
  double t = guess;
  for (int i = 0; i < 60; ++i) {
    const Vec3 p = start + axis * t;
    const Section section = tube.section(-p.z);
    SurfaceJet jet;
    Angle foot;
    const double e = excess(section, Vec2{p.x, p.y}, &foot, &jet);
    if (theta != nullptr) *theta = foot;
    const Vec2 n = direction(foot);
    const double rate = dot(Vec3{n.x, n.y, jet.f_s}, axis);
    const double step = std::clamp(e / std::max(rate, 0.1), -5.0, 5.0);
    t -= step;
    if (std::abs(step) < 1e-12) break;
  }
  return t;
}

double skin_depth(const Tube& tube, Vec3 start, Vec3 axis, Angle* theta) {
  return meet(
      tube, start, axis, 0.0,
      [](const Section& section, Vec2 q, Angle* foot, SurfaceJet* jet) {
        const double e = section.outside(q, foot);
        *jet = section.support(*foot);
        return e;
      },
      theta);
}

}  // namespace

Angle smooth_normal(const Section& section, Vec2 point, Angle near) {
  double t = near.radians();
  for (int i = 0; i < 40; ++i) {
    const Angle a = Angle::from_radians(t);
    const SurfaceJet h = section.smooth_support(a);
    const double first = dot(point, tangent(a)) - h.f_t;
    const double second = -dot(point, direction(a)) - h.f_tt;
    const double step = second < -1e-9 ? -first / second : 0.0;
    t += std::clamp(step, -0.1, 0.1);
    if (std::abs(step) < 1e-13) break;
  }
  return Angle::from_radians(t);
}

Drilling drilling_at(const Tube& tube, SkinPlace place, HoleSquare square, double radius) {
  const Section section = tube.section(place.at);
  const Angle theta = section.theta_at(place.around);
  const Vec2 p = section.point(theta);
  const Vec3 point{p.x, p.y, -place.at};
  Vec2 out;
  if (square == HoleSquare::to_axis) {
    // The centre of the skin's section is its order-1 term: the mean of h n over a turn, doubled.
    Vec2 centre;
    for (int i = 0; i < 64; ++i) {
      const Angle t = Angle::from_degrees(360.0 * i / 64);
      centre = centre + direction(t) * (section.base_support(t).f * 2.0 / 64);
    }
    out = unit(p - centre);
  } else {
    out = direction(smooth_normal(section, p, theta));
  }
  return {point, {out.x, out.y, 0.0}, radius};
}

Angle tilt_of(const Tube& tube, SkinPlace place, const Drilling& drilling) {
  const Vec3 normal = tube.skin_point(place).normal;
  return Angle::from_radians(std::atan2(length(cross(normal, drilling.axis)), dot(normal, drilling.axis)));
}

RigidMotion rim_frame(const Drilling& drilling) {
  RigidMotion frame;
  frame.z = drilling.axis;
  const Vec3 toward_b{0.0, 0.0, -1.0};
  frame.x = unit(toward_b - drilling.axis * dot(toward_b, drilling.axis));
  frame.y = cross(frame.z, frame.x);
  frame.origin = drilling.point;
  return frame;
}

RimPoint rim_point(const Tube& tube, const Drilling& drilling, Angle phi) {
  RimPoint rim;
  rim.phi = phi;
  const Vec3 start = ray_start(drilling, phi);
  Angle theta;
  rim.depth = skin_depth(tube, start, drilling.axis, &theta);
  rim.point = start + drilling.axis * rim.depth;
  const Section section = tube.section(-rim.point.z);
  Angle middle;
  section.outside({drilling.point.x, drilling.point.y}, &middle);
  // Keep the direction on the hole's side of the seam, then measure the arc without reducing it.
  rim.theta = middle + (theta - middle).normalized();
  const double around_middle = section.around(middle);
  rim.place = {-rim.point.z, around_middle + section.arc(middle, rim.theta)};
  return rim;
}

std::vector<RimPoint> rim(const Tube& tube, const Drilling& drilling, int count) {
  std::vector<RimPoint> points;
  points.reserve(count);
  for (int i = 0; i < count; ++i) {
    points.push_back(rim_point(tube, drilling, Angle::from_degrees(360.0 * i / count)));
  }
  return points;
}

double bore_depth(const Tube& tube, const Drilling& drilling, Angle phi) {
  const Vec3 start = ray_start(drilling, phi);
  const double skin = skin_depth(tube, start, drilling.axis, nullptr);
  return meet(
      tube, start, drilling.axis, skin - 1.0,
      [](const Section& section, Vec2 q, Angle* foot, SurfaceJet* jet) {
        const double e = section.outside_bore(q, foot);
        *jet = section.bore_support(*foot);
        return e;
      },
      nullptr);
}

WallRange wall_along_axis(const Tube& tube, const Drilling& drilling) {
  WallRange range{1e300, 0.0};
  for (int i = 0; i < 48; ++i) {
    const Angle phi = Angle::from_degrees(7.5 * i);
    const double wall = rim_point(tube, drilling, phi).depth - bore_depth(tube, drilling, phi);
    range.least = std::min(range.least, wall);
    range.greatest = std::max(range.greatest, wall);
  }
  return range;
}

}  // namespace culmwright
