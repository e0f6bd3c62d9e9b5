#pragma once
/// Lengths of skin about a place of the tube, and the distance from it:
///
///     x along the tube toward end B, y around it (arc in the section from the direction of the place's
///     normal), c outward along the section's normal: p = skin(x, y) + c · n. Right-handed; seen from
///     outside x × y points to the onlooker.
///
/// Volume element (1 + c/ρ) dx dy dc, ρ the section's radius of curvature. Ridges are part of the skin.
#include "tube/tube.hpp"

namespace culmwright {

class SkinChart {
 public:
  SkinChart(Tube tube, SkinPlace middle);

  const Tube& tube() const { return tube_; }
  double at() const { return at_; }
  Angle theta() const { return theta_; }

  /// Direction of the normal, within half a turn of the middle's. Precondition: x within the tube's reach,
  /// |y| under half a girth. Accuracy 1e-12 rad.
  Angle theta(Vec2 xy) const;
  /// The same on the section of that x at hand.
  Angle theta(const Section& section, double y) const;
  Vec3 point(Vec2 xy, double c) const;
  /// On a section at hand.
  static Vec3 point(const Section& section, Angle theta, double c);
  Section section(double x) const { return tube_.section(at_ + x); }

  struct Place {
    Vec2 xy;
    double c = 0.0;
    double radius = 0.0;  ///< ρ of the skin there
    double slope = 0.0;   ///< of the skin along the tube, outward toward B
    Vec2 normal;
  };
  /// The nearest place; exact near the skin in the section.
  Place place(Vec3 p) const;
  Place place(Vec2 xy, double c) const;

 private:
  Tube tube_;
  double at_ = 0.0;
  Angle theta_;
};

}  // namespace culmwright
