#pragma once
/// Closed outlines on the skin (rims of holes, touches, openings, blemishes) and the distance between two of
/// them along the skin.
///
/// Outlines are kept as (at, θ): θ, the direction of the section's normal, runs on without a jump across the
/// back of the tube. To measure, both are laid out about one *ruling*, the line of one θ midway between them:
///
///     u = arc length in the section from the ruling, v = at,      ds² = E dv² + 2F dv du + du²
///
/// with E and F of the true skin; on a cylinder E = 1, F = 0, and the plane is the skin rolled flat.
#include "tube/hole.hpp"

namespace culmwright {

/// A closed curve in a plane through points at equal steps of its parameter, t = 0 … size.
class ClosedCurve {
 public:
  ClosedCurve() = default;
  /// `smooth`: six-point Lagrange interpolation between the points, else straight pieces. Precondition: at
  /// least six points.
  ClosedCurve(std::vector<Vec2> points, bool smooth);

  Vec2 operator()(double t) const;
  int size() const { return static_cast<int>(points_.size()); }
  const std::vector<Vec2>& points() const { return points_; }
  bool smooth() const { return smooth_; }
  /// Inside the polygon of its points.
  bool holds(Vec2 q) const;
  /// The parameter at which `f` of the point is least: the best of the points, then closing in on it.
  template <class F>
  double where_least(const F& f) const {
    int best = 0;
    for (int i = 1; i < size(); ++i) {
      if (f(points_[i]) < f(points_[best])) best = i;
    }
    double t = best;
    double least = f(points_[best]);
    for (double step = 0.5; step > 1e-7; step *= 0.5) {
      for (const double sign : {-1.0, 1.0}) {
        const double value = f((*this)(t + sign * step));
        if (value < least) {
          least = value;
          t += sign * step;
        }
      }
    }
    return t;
  }

 private:
  std::vector<Vec2> points_;
  bool smooth_ = true;
};

/// An outline on the skin.
class Outline {
 public:
  /// The exact rim of a hole (72 points and smooth between them: 1e-5 mm).
  static Outline of_hole(const Tube& tube, const Drilling& drilling);
  /// The same of a hole that came out oval: its diameters along the tube and around it, across the axis.
  static Outline of_hole(const Tube& tube, const Drilling& drilling, double across_along,
                         double across_around);
  /// A rectangle with rounded corners, measured on the skin about its middle; 0.005 mm. One as long as wide
  /// and as round is a circle. Beyond the skin that is known (Tube::section) it is cut off.
  static Outline of_patch(const Tube& tube, SkinPlace middle, double length, double width,
                          double corner_radius);

  /// Points as (at, θ in radians).
  const ClosedCurve& curve() const { return curve_; }
  double middle_at() const { return middle_at_; }
  Angle theta() const { return theta_; }
  Vec3 middle() const { return middle_; }
  /// No point of the outline is farther than this from `middle`, in space.
  double reach() const { return reach_; }
  double least_at() const;
  double greatest_at() const;

 private:
  Outline(const Tube& tube, double middle_at, Angle theta, std::vector<Vec2> points, bool smooth);

  ClosedCurve curve_;
  double middle_at_ = 0.0;
  Angle theta_;
  Vec3 middle_;
  double reach_ = 0.0;
};

/// The outline laid out about the ruling of `theta`, as (at, arc from the ruling). `turns` whole turns are
/// added to its own θ first.
ClosedCurve laid_out(const Tube& tube, const Outline& outline, Angle theta, int turns = 0);

/// The shortest way along the skin between two outlines.
struct Gap {
  /// Along the skin, edge to edge, accuracy 0.005 mm (1e-4 between rims on a cylinder). Negative where the
  /// outlines overlap: by how much the one reaches into the other, 0.1 mm.
  double distance = 0.0;
  double along = 0.0;   ///< of that way, along the grain; unsigned
  double around = 0.0;  ///< of that way, around; unsigned
  SkinPlace middle;     ///< halfway
  bool along_the_grain() const { return along >= around; }
};

Gap gap_between(const Tube& tube, const Outline& a, const Outline& b);

/// No more than the true gap, and quick: distance in space less both reaches.
double least_possible_gap(const Outline& a, const Outline& b);

/// Distance along the grain from a point (at, θ) of the skin to the nearer edge of a node's ridge; negative
/// on it.
double beyond_ridge(const Node& node, double at, Angle theta);
/// The least of it over an outline; where the outline lies across the node, minus half its band.
double beyond_ridge(const Node& node, const Outline& outline);

}  // namespace culmwright
