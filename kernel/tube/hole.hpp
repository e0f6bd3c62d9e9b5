#pragma once
/// Round holes through the skin: where they stand, how they are aimed, and the exact outline of their rim.
#include <vector>

#include "tube/tube.hpp"

namespace culmwright {

enum class HoleSquare {
  to_skin,  ///< along the normal of the skin's smooth part (orders ≤ 2, no ridges), in the section plane
  to_axis   ///< through the section's centre of the skin, perpendicular to the tube's axis
};

/// A drilled cylinder: the axis passes through `point` of the skin, `axis` points outward.
struct Drilling {
  Vec3 point;
  Vec3 axis;  ///< unit
  double radius = 0.0;
};

/// The axis of a hole at a place. `radius` is the hole's.
Drilling drilling_at(const Tube& tube, SkinPlace place, HoleSquare square, double radius);

/// The direction of the normal of the skin's smooth part where that is nearest to a point of the section;
/// `near`: of the full skin's normal there.
Angle smooth_normal(const Section& section, Vec2 point, Angle near);

/// Angle between the axis and the true normal of the skin at the hole's place.
Angle tilt_of(const Tube& tube, SkinPlace place, const Drilling& drilling);

/// One point of a rim. φ turns around the axis from `Drilling`'s own cross direction (see rim_frame).
struct RimPoint {
  Angle phi;
  Vec3 point;
  SkinPlace
      place;  ///< around is counted from the line without wrapping past the hole's place by half a girth
  Angle theta;
  double depth = 0.0;  ///< coordinate along the axis, outward positive, 0 at the hole's place
};

/// Right-handed frame of a drilling: z = axis, x = as near as possible to "toward B" (increasing at), y = z ×
/// x.
RigidMotion rim_frame(const Drilling& drilling);

/// Where the ray parallel to the axis at (radius, φ) meets the full skin; accuracy 1e-9 mm.
/// Precondition: the hole is narrower than the tube (radius < 0.95 of the least half width there).
RimPoint rim_point(const Tube& tube, const Drilling& drilling, Angle phi);
/// `count` points at equal steps of φ from 0.
std::vector<RimPoint> rim(const Tube& tube, const Drilling& drilling, int count);

/// The same ray's meeting point with the bore; depth only.
double bore_depth(const Tube& tube, const Drilling& drilling, Angle phi);

/// Least and greatest wall met around the rim, measured along the axis.
struct WallRange {
  double least = 0.0;
  double greatest = 0.0;
};
WallRange wall_along_axis(const Tube& tube, const Drilling& drilling);

}  // namespace culmwright
