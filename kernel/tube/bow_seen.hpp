#pragma once
/// In which planes a survey saw the bow.
#include "tube/survey.hpp"

namespace culmwright {

struct BowSeen {
  bool to_line = false;   ///< toward the reference line and away from it
  bool sideways = false;  ///< a quarter turn from that
};

/// Heights see both planes. A straightedge sees the plane it lies in; two whose sides are not opposite or
/// alike (within 15°) see both together.
BowSeen bow_seen(const Survey& survey);

}  // namespace culmwright
