#pragma once
/// Levels of seated parts, seen more closely. For plan and solid.
#include "plan/seated_part.hpp"

namespace culmwright {

/// Height and gradient of a level that is no skin.
struct GraphJet {
  double z = 0.0;
  Vec2 gradient;
};
GraphJet graph_jet(const Level& level, Vec2 xy);

struct LevelPlace {
  double height = 0.0;
  double facing = 1.0;  ///< cosine between the surface's normal and z
};
LevelPlace level_place(const SeatedPart& plan, const Tube& tube, int level, Vec2 xy);

}  // namespace culmwright
