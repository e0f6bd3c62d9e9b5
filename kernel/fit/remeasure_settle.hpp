#pragma once
/// The linear algebra of remeasure.hpp: one weighted least squares step, its covariance, and the outlier
/// test.
#include <utility>
#include <vector>

namespace culmwright {

/// A reading near the present places: miss = distance − predicted, and the derivatives of `predicted`.
struct LinearReading {
  using Slopes = std::vector<std::pair<int, double>>;
  double miss = 0.0;
  double error = 1.0;
  Slopes by_unknown;
  Slopes by_base;  ///< by numbers that stay but are not exactly known
};

struct LinearReadings {
  std::vector<LinearReading> readings;
  int unknowns = 0;
  std::vector<double> base_errors;
};

struct Step {
  std::vector<double> by;      ///< to be added to each unknown
  std::vector<double> errors;  ///< one standard deviation of each unknown
  double cost = 0.0;           ///< r′ C⁻¹ r before the step
  /// Directions of the unknowns that no reading fixes: one list of unknowns for each. The step has none of
  /// them.
  std::vector<std::vector<int>> loose;
};

Step least_squares_step(const LinearReadings& linear);

/// How each reading stands against all the others.
struct Outlier {
  double size = 0.0;   ///< the reading less what the others say
  double sigma = 0.0;  ///< of that difference; 0: nothing else says anything of it
  double times() const { return sigma > 0.0 ? size / sigma : 0.0; }
  /// Correlation of this test with that of each reading: ±1 when the two cannot be told apart, 0 when the
  /// other one says nothing of it.
  std::vector<double> with;
};

/// Precondition: linearised where the step is nothing.
std::vector<Outlier> outliers(const LinearReadings& linear);

}  // namespace culmwright
