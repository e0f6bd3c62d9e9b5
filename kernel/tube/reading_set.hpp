#pragma once
/// Which readings, taken together, bring every hole within what fingers accept.
///
/// All candidates (reading_candidates.hpp) are rows of one least squares with the covariance that the fit has
/// now. With G the rows of a set, C the covariance of the unknowns, Σ the readings' own variances and c the
/// covariance of one error with the unknowns, the set takes away
///
///     (G c)ᵀ (G C Gᵀ + Σ)⁻¹ (G c)
///
/// of that error's variance; what lies between the stations and between the places where the bow was read
/// shrinks with the distance to the nearest new one. The rest (printing, setting) stays. Sets of up to three
/// readings are tried all, larger ones are built up from the best of three.
#include <string>
#include <vector>

#include "tube/survey_report.hpp"

namespace culmwright {

/// A hole as it would come out now: its error, and the distance that 95 of 100 stay within. That distance is
/// taken to shrink as the root of the mean square does.
struct HoleOutlook {
  PlaceError error;
  double within_95 = 0.0;
};

struct ReadingSet {
  std::vector<std::string>
      readings;                     ///< as in "heights on survey plates at 120"; in the order along the tube
  std::vector<ReadingWish> wishes;  ///< the same, for a program to ask for
  bool on_plates = false;
  bool enough = false;  ///< every hole is within what was asked for
  double worst = 0.0;   ///< of the holes' `within_95` after it
};

/// Readings in one set, at most. More is a new survey.
constexpr int most_in_set = 8;

/// The smallest set that brings every hole within `wanted`; of equally small ones the one that leaves the
/// worst hole best. Where none does, the set of at most most_in_set after which the worst hole is best,
/// without readings that hardly help it. Empty where nothing helps, or nothing is needed. Deterministic.
/// `plates`: whether heights on survey plates are among what may be read.
ReadingSet smallest_set(const TubeFit& fit, const std::vector<HoleOutlook>& holes, double wanted,
                        bool plates);

}  // namespace culmwright
