#pragma once
/// What a shop asks of its drill guides beyond bores, straps and sighting windows.
#include <optional>

namespace culmwright {

/// A guide bush fixed in a router's base runs along the edge of a template; the bit turns in its middle.
struct RouterBush {
  double outside = 10.0;  ///< diameter that runs along the edge
  double bit = 3.0;       ///< diameter
};

struct GuideWishes {
  /// One split collar is clamped round the tube, and every guide that reaches it locks to it for its turn.
  bool turning_collar = false;
  /// Counter shells on the far side, drawn up by bolts through flanges, instead of straps.
  bool clamped_shells = false;
  /// Runs along cutting templates of openings; none: the blade of a saw or knife does.
  std::optional<RouterBush> router;
  double joint_fit = 0.1;  ///< of a tongue in its notch, per side; press to slide fit (common practice)
};

}  // namespace culmwright
