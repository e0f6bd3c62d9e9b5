#pragma once
/// Which holes go into which guide.
#include <vector>

namespace culmwright {

/// A hole as the grouping sees it.
struct HoleToGroup {
  double theta = 0.0;  ///< direction of its axis, radians
  double reach = 0.0;  ///< how far a guide's middle may lie from it, radians, > 0
  double at = 0.0;
};

struct HoleGroup {
  double middle = 0.0;     ///< direction of the guide's middle, radians
  std::vector<int> holes;  ///< indices, in order of `at`
};

/// As few groups as possible whose holes all reach a common middle; each hole in the group whose middle is
/// nearest. Deterministic.
std::vector<HoleGroup> groups_around(const std::vector<HoleToGroup>& holes);

/// One group cut along the tube into as few runs as possible, none longer than `longest` from its first to
/// its last hole, the longest of them as short as can be.
std::vector<HoleGroup> runs_along(const HoleGroup& group, const std::vector<HoleToGroup>& holes,
                                  double longest);

}  // namespace culmwright
