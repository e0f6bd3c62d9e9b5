#pragma once
/// What a TubeFit holds. For the fit alone.
#include <optional>

#include "tube/fit_parameters.hpp"

namespace culmwright {

struct TubeFit::State {
  Survey survey;
  FitPriors priors;
  FitParameters parameters;
  std::vector<double> values;
  std::vector<double> read;  ///< values before insignificant orders were left out: what the readings say
  std::vector<double> covariance;
  std::vector<double> root;  ///< lower Cholesky factor of the covariance, row-major
  std::vector<Residual> residuals;
  std::vector<int> left_out;
  std::optional<Tube> tube;
};

/// The shape that these values of the unknowns describe, without density.
TubeShape shape_of(const Survey& survey, const FitParameters& parameters, const std::vector<double>& values);

}  // namespace culmwright
