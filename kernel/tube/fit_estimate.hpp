#pragma once
/// The linear estimate of the survey's least squares, and the priors it stands on. For the fit alone.
#include <Eigen/Core>

#include "tube/fit_parameters.hpp"

namespace culmwright {

/// A coefficient of order 2 or more, or of the wall, wanders along the tube with the standard deviation that
/// FitPriors states anywhere, and with the correlation exp(−d / this) between places d apart: half a standard
/// deviation in 100 mm.
constexpr double prior_length = 800.0;
/// Standard deviation of each coefficient of that order of the skin, 2 or more.
double coefficient_prior(int order, const FitPriors& priors, double radius);
/// Standard deviation of the axis' offset half way along a piece of that length.
double standard_bow(double length, const FitPriors& priors);

/// FitPriors as information (inverse covariance) over the unknowns; positive definite. `radius`: of the tube.
Eigen::MatrixXd prior_information(const FitParameters& parameters, const Survey& survey,
                                  const FitPriors& priors, double radius);

/// The linear estimate that believes the readings wherever they tell more than the prior, and the prior
/// elsewhere. In the basis that makes the prior the identity and the data diagonal (λ), a direction with λ ≥
/// 1 is estimated from the readings alone, error variance 1/λ; one with λ < 1 is drawn to the prior's mean,
/// 1/(λ + 1). Shrinking only what is hardly seen keeps exact readings exact.
struct Estimate {
  Eigen::MatrixXd gain;        ///< right-hand side of the normal equations → estimate
  Eigen::MatrixXd prior_held;  ///< the prior as information, in the hardly seen directions only
};

/// Precondition: `data` symmetric, `prior` positive definite, same size.
Estimate estimate(const Eigen::MatrixXd& data, const Eigen::MatrixXd& prior);

}  // namespace culmwright
