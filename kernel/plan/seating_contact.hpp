#pragma once
/// Where a guide can touch a tube: points of its inner face, and their distance from a skin that is not the
/// one it was made from.
#include <vector>

#include "plan/guide_plan.hpp"

namespace culmwright {

struct ContactPoint {
  Vec3 point;          ///< on the guide's inner face, in the plan's frame
  double theta = 0.0;  ///< of the planned skin's normal there
  int station = 0;     ///< the points of one station share a section of the tube
  int pad = -1;        ///< 0 to 3: low end −θ, low end +θ, high end −θ, high end +θ; −1: no pad
};

struct ContactPoints {
  std::vector<ContactPoint> points;  ///< those of the pads first
  std::vector<Vec3> stations;        ///< a point of each: of the inner face, at the guide's middle
  int on_pads = 0;                   ///< points of the pads
  std::size_t pad_stations = 0;
};

/// The four pads with the beginning of their steps (every 1.5 to 3 degrees, four sections each), and the rest
/// of the inner face (every 10 degrees, 10 mm). Points that stand over the end, beyond the stop, are left
/// out.
ContactPoints contact_points(const GuidePlan& plan);

/// Distance of a point in space from the skin along its normal, ridges included; negative inside.
struct SkinGap {
  double value = 0.0;
  Vec3 normal;         ///< of the skin, unit, in space
  double theta = 0.0;  ///< direction of the section normal
};

/// `section` of the tube, near the point's own; `theta`: near the answer. To second order in the distance
/// between the point's section and that one, which should not exceed a millimetre.
SkinGap gap_at(const Section& section, Vec3 point, double theta);

}  // namespace culmwright
