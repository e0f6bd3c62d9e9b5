#pragma once
/// Readings that were not taken: what the fit makes of them, as linear functions of its parameters. For
/// judging which reading would help, and what one should say.
#include <vector>

#include "tube/survey_fit.hpp"

namespace culmwright {

/// a + factor · b.
std::vector<double> sum_of(std::vector<double> a, const std::vector<double>& b, double factor);

std::vector<double> girth_row(const TubeFit& fit, double at);
std::vector<double> width_row(const TubeFit& fit, double at, Angle facing);
/// The gap under a straightedge from end to end; negative on a convex side.
std::vector<double> gap_row(const TubeFit& fit, double at, Angle facing);

}  // namespace culmwright
