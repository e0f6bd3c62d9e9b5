#pragma once
/// Tubes that might be the true one, as far as a survey and its priors can tell.
#include <vector>

#include "tube/survey_fit.hpp"

namespace culmwright {

/// One draw, the same for the same seed:
///
/// - the fit's unknowns, from their covariance about what the readings say (TubeFit::draw), with the orders
///   that were left out of the shape or that no reading tells;
/// - what lies between the stations. Order 0 wanders as FitPriors::skin_wander says, the orders from 2 on as
///   the prior lets them walk from station to station (half a standard deviation in 100 mm): random walks
///   pinned at the stations, free beyond the first and the last. The bow departs from its curve between two
///   of its knots by 0.8 FitPriors::bow · (their distance / length)^1.5, one standard deviation, in one arch;
/// - lobes up to order 8 that the fit does not carry, from their prior, slowly changing along the tube.
///
/// The wall is drawn at its knots only: nothing is set on it. Nodes, grooves and ends are the survey's.
Tube sampled_tube(const TubeFit& fit, unsigned seed);

/// The same without what lies between the stations and without the lobes that the fit does not carry.
Tube sampled_without_wander(const TubeFit& fit, unsigned seed);

/// Standard deviation of the bow, in each of two directions, between the places along the tube where it was
/// read, as sampled_tube draws it. `also`: as if it had been read at these places too.
double bow_wander_sigma(const TubeFit& fit, double at, const std::vector<double>& also = {});

}  // namespace culmwright
