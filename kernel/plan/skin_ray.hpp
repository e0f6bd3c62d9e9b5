#pragma once
/// Where lines parallel to an axis meet the skin, or a surface parallel to it: what a cup's seat, an
/// opening's wall and a spigot's end are planned by.
#include "tube/tube.hpp"

namespace culmwright {

struct SkinHit {
  double height = 0.0;  ///< along the frame's z
  double facing = 0.0;  ///< cosine between the surface's normal and the frame's z
  Angle theta;          ///< direction of the section normal there
};

/// Where the line through (xy, ·) of `frame`, parallel to its z, meets the skin offset outward by `offset`
/// (in the section: support h + offset). Accuracy 1e-10 mm. Precondition: the line meets the surface from
/// outside at a facing of at least 0.1, and stays within the tube's reach (Tube::section).
SkinHit skin_hit(const Tube& tube, const RigidMotion& frame, Vec2 xy, double offset);

/// The same where it meets the bore's surface from outside.
SkinHit bore_hit(const Tube& tube, const RigidMotion& frame, Vec2 xy);

/// Distance of a point (in `frame`) from that surface, unsigned; to first order in the skin's slope along.
double skin_distance(const Tube& tube, const RigidMotion& frame, Vec3 p, double offset);
/// The same from the bore's surface.
double bore_distance(const Tube& tube, const RigidMotion& frame, Vec3 p);

}  // namespace culmwright
