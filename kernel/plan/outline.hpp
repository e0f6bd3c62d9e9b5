#pragma once
/// The outline most things have in plan view, with its area, its edge and integrals over both.
#include <algorithm>
#include <cmath>
#include <vector>

#include "base/angle.hpp"
#include "base/numeric.hpp"
#include "base/vec.hpp"

namespace culmwright {

/// Area of a polygon, positive when its corners run counter-clockwise, and the middle of that area.
/// Precondition: three corners at least, not all on one line.
double polygon_area(const std::vector<Vec2>& corners);
Vec2 polygon_middle(const std::vector<Vec2>& corners);

/// A rectangle about the origin, `length` along x and `width` along y, its corners rounded by `corner`.
/// Precondition: 0 ≤ 2 · corner ≤ length, width.
struct RoundedRectangle {
  double length = 0.0;
  double width = 0.0;
  double corner = 0.0;

  /// The outline moved inward. Precondition: by ≤ corner, so that what is left is of the same kind.
  RoundedRectangle inset(double by) const { return {length - 2 * by, width - 2 * by, corner - by}; }
  double area() const { return length * width - (4.0 - pi) * corner * corner; }
  double perimeter() const { return 2.0 * (length + width) - (8.0 - 2.0 * pi) * corner; }
  /// Signed distance from the edge, outside positive; exact outside and within `corner` of the edge.
  double distance(Vec2 p) const;
  /// From the middle to the edge in that direction.
  double reach(Angle direction) const;
  bool round() const { return length == width && 2.0 * corner == length; }
};

/// ∫ f(Vec2) over the area, by five-point Gauss–Legendre in strips across: even ones between the corners,
/// none wider than 3, and at the two ends strips of equal angle of the corners. Good for long outlines too.
template <class F>
double over_area(const RoundedRectangle& outline, const F& f) {
  const double r = outline.corner;
  const double x = 0.5 * outline.length - r;
  const double y = 0.5 * outline.width - r;
  const auto strip = [&](double at, double half) {
    const int pieces = std::max(1, static_cast<int>(std::ceil(half / 3.0)));
    return integrate([&](double across) { return f(Vec2{at, across}); }, -half, half, pieces);
  };
  double sum = 0.0;
  if (x > 0.0) {
    const int pieces = std::max(2, static_cast<int>(std::ceil(2.0 * x / 3.0)));
    sum += integrate([&](double at) { return strip(at, y + r); }, -x, x, pieces);
  }
  if (r <= 0.0) return sum;
  for (const double side : {-1.0, 1.0}) {
    sum += integrate(
        [&](double a) { return r * std::cos(a) * strip(side * (x + r * std::sin(a)), y + r * std::cos(a)); },
        0.0, 0.5 * pi, 3);
  }
  return sum;
}

/// ∫ f(Vec2) along the edge, by five-point Gauss–Legendre on each straight and each corner.
template <class F>
double along_edge(const RoundedRectangle& outline, const F& f) {
  const double x = 0.5 * outline.length - outline.corner;
  const double y = 0.5 * outline.width - outline.corner;
  const auto corner = [&](double cx, double cy, double from) {
    return outline.corner *
           integrate(
               [&](double phi) {
                 return f(Vec2{cx + outline.corner * std::cos(phi), cy + outline.corner * std::sin(phi)});
               },
               from, from + 0.5 * pi, 1);
  };
  double sum = corner(x, y, 0.0) + corner(-x, y, 0.5 * pi) + corner(-x, -y, pi) + corner(x, -y, 1.5 * pi);
  for (const double side : {-1.0, 1.0}) {
    sum += integrate([&](double t) { return f(Vec2{t, side * 0.5 * outline.width}); }, -x, x, 2);
    sum += integrate([&](double t) { return f(Vec2{side * 0.5 * outline.length, t}); }, -y, y, 2);
  }
  return sum;
}

/// ∫ f(Vec2) over a disc of that radius about the origin.
template <class F>
double over_disc(double radius, const F& f) {
  return over_area(RoundedRectangle{2 * radius, 2 * radius, radius}, f);
}

}  // namespace culmwright
