#pragma once
/// One big face of a guide: the surface that stands off the tube's smooth skin by an offset field,
///
///     p(θ, at) = skin(θ, at) + c(θ, at) · n(θ),
///
/// so that in the section the distance of p from the skin is exactly c. θ is the direction of the section's
/// normal in radians, unwrapped around the guide's middle.
#include "plan/offset_field.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// The tube without its ridges and grooves: what a guide's faces stand on.
Tube smooth_tube(const Tube& tube);

class GuideFace {
 public:
  /// Precondition: `base` without ridges (smooth_tube); c above minus the least radius of curvature.
  GuideFace(Tube base, double middle_theta, OffsetField field);

  struct Jet {
    Vec3 point;
    Vec3 by_theta;
    Vec3 by_at;
    /// Not of unit length: by_theta × by_at turned outward.
    Vec3 outward() const { return cross(by_at, by_theta); }
  };
  Vec3 point(double theta, double at) const;
  Jet jet(double theta, double at) const;
  /// The same on a section already at hand.
  Jet jet(const Section& section, double theta) const;

  /// Where a point of space lies: direction, place along, distance from the smooth skin.
  struct Where {
    double theta = 0.0;
    double at = 0.0;
    double offset = 0.0;
  };
  Where where(Vec3 p) const;
  /// Distance of a point from the face, unsigned; to first order in the face's slopes.
  double distance(Vec3 p) const;

  /// Where the line through (xy, ·) parallel to the frame's z meets the face. Accuracy 1e-10 mm.
  /// Precondition: it does, from outside, at a facing of at least 0.1.
  struct Meeting {
    double theta = 0.0;
    double at = 0.0;
    double height = 0.0;  ///< along the frame's z
    double facing = 0.0;  ///< cosine between the face's outward normal and the frame's z
  };
  Meeting meet(const RigidMotion& frame, Vec2 xy) const;

  const Tube& base() const { return base_; }
  const OffsetField& field() const { return field_; }
  double middle() const { return middle_; }
  /// The same direction within half a turn of the middle.
  double unwrapped(double theta) const;
  /// Radius of curvature of the face's section where the field is level.
  double radius(double theta, double at) const;

 private:
  Tube base_;
  double middle_;
  OffsetField field_;
};

}  // namespace culmwright
