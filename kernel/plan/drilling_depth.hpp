#pragma once
/// How deep to drill: from the top of the bush, or of the boss where a drill turns in a plain bore, to the
/// inside of the near wall and to the far wall; and whether the drills in the drawer reach.
#include <optional>
#include <string>
#include <vector>

#include "plan/guide_plan.hpp"

namespace culmwright {

constexpr double least_room = 3.0;  ///< between a drill's tip and the far wall

/// All measured along the hole's axis from the top of its bush or boss, inward.
struct DrillingDepth {
  double skin = 0.0;  ///< the drill's middle meets the skin
  double breaks_in =
      0.0;                ///< the earliest that its tip may come through: the thinnest wall the survey allows
  double through = 0.0;   ///< its full width is through for certain: the thickest wall, and the tip's length
  double far_wall = 0.0;  ///< the far wall's inside, at the nearest
  double stop_at = 0.0;   ///< where the depth stop belongs: a little beyond `through`
  double room = 0.0;      ///< from there to the far wall
};

/// `wall_sigma`: standard error of the wall there; two of it are allowed for either way. The tip is that of a
/// 118° drill: 0.3 of its diameter long. Precondition: the hole does not meet the tube's end.
DrillingDepth drilling_depth(const Tube& tube, const GuideHole& hole, double wall_sigma);

/// What the maker should know before drilling: no room before the far wall, no such drill in the drawer,
/// flutes that end inside the bush before the depth is reached, so that chips pack. Empty when all is well.
std::vector<std::string> depth_remarks(const GuideHole& hole, const DrillingDepth& depth, const Shop& shop);

}  // namespace culmwright
