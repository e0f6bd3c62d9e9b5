#pragma once
/// Walls that stand square in a guide's face along outlines: sighting windows, engraved strokes.
#include <array>
#include <vector>

#include "plan/guide_face.hpp"

namespace culmwright {

/// A closed outline in (θ, at), and how far it is cut below the outer face.
struct CutWall {
  std::vector<Vec2> corners;
  double depth_below_outer = 0.0;  ///< 0: through the saddle
};

/// The walls of many outlines, sorted by place along, so that asking for the nearest looks only at those
/// nearby.
class CutWalls {
 public:
  CutWalls(GuideFace face, const std::vector<CutWall>& walls);

  /// Distance of a point from the nearest wall, in the face's own millimetres at that point: (θ · radius,
  /// at).
  double distance(Vec3 p) const;

 private:
  int bin_of(double at) const;

  GuideFace face_;
  std::vector<std::array<Vec2, 2>> sides_;
  double first_at_ = 0.0;
  std::vector<std::vector<int>> bins_;  ///< sides that reach into each stretch of the tube
};

}  // namespace culmwright
