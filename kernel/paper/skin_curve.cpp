#include "paper/skin_curve.hpp"

#include <algorithm>
#include <cmath>

#include "paper/development.hpp"
#include "tube/oval_rim.hpp"

namespace culmwright {

namespace {

/// Keeps `at` where the skin is known.
double known(const Tube& tube, double at) {
  return std::clamp(at, tube.end_a_at() - tube.shape().beyond, tube.end_b_at() + tube.shape().beyond);
}

/// Points of the plane (x around, y along, about the middle) laid on the skin.
SkinCurve laid_on_skin(const Tube& tube, SkinPlace middle, const std::vector<Vec2>& shape) {
  const Angle centre = tube.section(middle.at).theta_at(middle.around);
  SkinCurve curve;
  curve.closed = true;
  for (Vec2 p : shape) {
    const double at = known(tube, middle.at + p.y);
    const Section section = tube.section(at);
    curve.points.push_back({section.theta_at(section.arc(section.line(), centre) + p.x).radians(), at});
  }
  return curve;
}

constexpr double point_spacing = 0.75;

void add_side(std::vector<Vec2>& points, Vec2 from, Vec2 to) {
  const int count = std::max(1, static_cast<int>(length(to - from) / point_spacing));
  for (int i = 0; i < count; ++i) points.push_back(from + (to - from) * (static_cast<double>(i) / count));
}

void add_corner(std::vector<Vec2>& points, Vec2 centre, double radius, double from_degrees) {
  constexpr int count = 24;
  for (int i = 0; i < count; ++i) {
    points.push_back(centre + direction(Angle::from_degrees(from_degrees + 90.0 * i / count)) * radius);
  }
}

}  // namespace

namespace {

SkinCurve through(const std::vector<RimPoint>& rim) {
  SkinCurve curve;
  curve.closed = true;
  for (const RimPoint& point : rim) curve.points.push_back({point.theta.radians(), point.place.at});
  return curve;
}

}  // namespace

SkinCurve rim_curve(const Tube& tube, const Drilling& drilling, int count) {
  return through(rim(tube, drilling, count));
}

SkinCurve oval_rim_curve(const Tube& tube, const Drilling& drilling, double across_along,
                         double across_around, int count) {
  return through(oval_rim(tube, drilling, across_along, across_around, count));
}

SkinCurve patch_curve(const Tube& tube, SkinPlace middle, double length, double width, double corner_radius) {
  const double r = std::clamp(corner_radius, 0.0, 0.5 * std::min(length, width));
  const double x = 0.5 * width - r;
  const double y = 0.5 * length - r;
  std::vector<Vec2> shape;
  add_corner(shape, {x, y}, r, 0.0);
  add_side(shape, {x, y + r}, {-x, y + r});
  add_corner(shape, {-x, y}, r, 90.0);
  add_side(shape, {-x - r, y}, {-x - r, -y});
  add_corner(shape, {-x, -y}, r, 180.0);
  add_side(shape, {-x, -y - r}, {x, -y - r});
  add_corner(shape, {x, -y}, r, 270.0);
  add_side(shape, {x + r, -y}, {x + r, y});
  return laid_on_skin(tube, middle, shape);
}

SkinCurve oval_curve(const Tube& tube, SkinPlace middle, double length, double width) {
  std::vector<Vec2> shape;
  for (int i = 0; i < 96; ++i) {
    const Vec2 u = direction(Angle::from_degrees(3.75 * i));
    shape.push_back({0.5 * width * u.x, 0.5 * length * u.y});
  }
  return laid_on_skin(tube, middle, shape);
}

SkinCurve half_plane_curve(const Tube& tube, double at_from, double at_to, Angle facing) {
  SkinCurve curve;
  const int count = std::max(2, static_cast<int>(at_to - at_from));
  for (int i = 0; i <= count; ++i) {
    const double at = at_from + (at_to - at_from) * i / count;
    curve.points.push_back({smooth_line(tube.section(at), facing).radians(), at});
  }
  return curve;
}

SkinCurve ruling_curve(const Tube& tube, SkinPlace middle, double at_from, double at_to) {
  const double theta = tube.section(middle.at).theta_at(middle.around).radians();
  return {{{theta, at_from}, {theta, at_to}}, false};
}

SkinCurve ring_curve(const Tube& tube, double at, Angle from, Angle to, const std::optional<EndTilt>& tilt,
                     double sense) {
  SkinCurve curve;
  const Section section = tube.section(at);
  constexpr int count = 180;
  for (int i = 0; i <= count; ++i) {
    const Angle theta = from + (to - from) * (static_cast<double>(i) / count);
    double place = at;
    if (tilt)
      place += sense * std::tan(tilt->tilt.radians()) * dot(section.point(theta), direction(tilt->toward));
    curve.points.push_back({theta.radians(), known(tube, place)});
  }
  return curve;
}

SkinCurve ridge_curve(const Node& node, double shift, Angle from, Angle to) {
  SkinCurve curve;
  constexpr int count = 180;
  for (int i = 0; i <= count; ++i) {
    const Angle theta = from + (to - from) * (static_cast<double>(i) / count);
    const double at = node.at() + 0.5 * (node.at_line - node.at_far) * theta.cos();
    curve.points.push_back({theta.radians(), at + shift});
  }
  return curve;
}

}  // namespace culmwright
