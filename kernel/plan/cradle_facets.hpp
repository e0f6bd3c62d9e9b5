#pragma once
/// Which bores go into which set of cradles, and which of them get a facet of their own. For kernel/plan.
#include <vector>

#include "plan/cradle_plan.hpp"

namespace culmwright {

/// Bore angles of holes, those within `same_facet_deg` of each other together; in order of θ from the first
/// gap on, θ running on without a jump.
std::vector<BoreAngle> bore_angles(const Instrument& instrument);

/// As few groups as possible, none wider than `widest`; of those the widest as narrow as can be.
std::vector<std::vector<BoreAngle>> cradle_groups(const std::vector<BoreAngle>& angles, Angle widest);

/// Which of the angles (ascending) get a facet so that facets are at least `apart` from each other, every
/// other angle is within the greatest wedge's of one, and none is nearer than `clear` to the middle between
/// two facets, where the weight would lie over the edge between them: the fewest wedges, then the least
/// leaning. `barred`: angles that must not be one. Empty when there is no way.
std::vector<int> choose_facets(const std::vector<BoreAngle>& angles, Angle apart, Angle clear,
                               const std::vector<bool>& barred);

}  // namespace culmwright
