#pragma once
/// What a placement that stands scores, by the same terms as a proposal (fit/propose.hpp): why it is as it
/// is, and what it would cost to leave it so.
#include <vector>

#include "fit/propose.hpp"

namespace culmwright {

/// Fewer points are better. Precondition: `instrument` was assembled from these.
std::vector<ScoreTerm> placement_score(const TubeFit& fit, const KeyLayout& layout,
                                       const Placement& placement, const Instrument& instrument,
                                       const std::optional<Balance>& balance);
double total_points(const std::vector<ScoreTerm>& terms);

}  // namespace culmwright
