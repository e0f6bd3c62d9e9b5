#pragma once
/// From the readings of a survey to a tube, by one weighted least squares over the whole piece.
///
/// Unknown are the Fourier coefficients of the skin's support function at the stations, the bow at its own
/// knots, and the coefficients of the wall where it was measured. With n = (cos θ, sin θ):
///
///     width(θ)  = h(θ) + h(θ + π)                     sees even orders only
///     girth     = 2π h₀ + π · tape thickness          (Cauchy)
///     height(θ) = h(θ) + half across-flats             sees every order
///     gap       = ± [line between the ends' h(θ) − h(θ)]   hollow +, convex −
///     thickness = along the inward normal, skin to bore
///
/// Readings are weighted by their instruments' errors, the direction's error included. In every direction of
/// the unknowns' space in which the readings tell more than FitPriors does, the estimate follows the readings
/// alone (so exact readings give the exact tube); elsewhere it is drawn to round, straight and level. The
/// covariance is that of this estimate's error: the readings' noise, what they hardly see, and what orders
/// that no reading can tell do to the others. An order whose values over the whole tube stand below twice
/// their standard error (χ² < 4 ν, ν the number of coefficients the readings can tell) is left out of the
/// shape; its variance stays.
///
/// Orders are limited to what the readings can tell apart: m widths at a station resolve even orders up to m,
/// n flats orders up to n/2 − 1; finer lobes hide in the lower orders.
#include <string>
#include <vector>

#include "tube/tube.hpp"

namespace culmwright {

/// Standard deviations of what is not measured. Common practice, no source.
struct FitPriors {
  double ovality = 0.02;      ///< each coefficient of order 2, as a fraction of the mean radius
  double lobe = 0.12;         ///< each coefficient of order 3, mm; order k: times (3/k)²
  double bow = 1.5;           ///< the axis' offset half way, per 400 mm of length, where no bow was read
  double skin_wander = 0.10;  ///< of the mean radius, half way between stations 100 mm apart
  double wall_wander = 0.25;  ///< of the wall, half way between wall readings 100 mm apart
  double wall_lobe = 0.3;     ///< each coefficient of order 1 and 2 of the wall, mm
};

/// What the material lets one expect: nature wanders, turned wood less, drawn pipe hardly.
FitPriors priors_for(Material material);

/// One unknown: a coefficient of one order at one place along the tube.
struct FitParameter {
  enum class Field { skin, wall };
  Field field = Field::skin;
  int order = 0;
  bool sine = false;
  double at = 0.0;
};

/// A reading held against the fitted tube.
struct Residual {
  std::string pointer;  ///< JSON pointer of the reading in the tube document
  std::string what;     ///< "girth at 120", in words
  double read = 0.0;
  double fitted = 0.0;
  double sigma = 0.0;  ///< standard deviation the reading was given
  double in_sigmas() const { return (read - fitted) / sigma; }
};

/// The tube, and how well it is known. Immutable; cheap to copy.
class TubeFit {
 public:
  const Tube& tube() const;
  const Survey& survey() const;
  const FitPriors& priors() const;
  const std::vector<FitParameter>& parameters() const;
  const std::vector<double>& values() const;
  /// Row-major, parameters().size() squared.
  const std::vector<double>& covariance() const;
  const std::vector<Residual>& residuals() const;
  /// Orders seen by the readings but left out as below twice their standard error.
  const std::vector<int>& orders_left_out() const;

  /// The tube with other values of the parameters (for sampling the covariance).
  Tube with(const std::vector<double>& values) const;
  /// A draw from the covariance about what the readings say, the same for the same seed. That centre is
  /// values() where no order was left out; an order left out is drawn about what the readings say of it, for
  /// the shape without it is off by just that.
  std::vector<double> draw(unsigned seed) const;

  /// Standard deviations, wander between stations included.
  double support_sigma(double at, Angle theta) const;   ///< of h
  double sideways_sigma(double at, Angle theta) const;  ///< of h′: how far the skin's point slides around
  double girth_sigma(double at) const;
  double wall_sigma(double at, Angle theta) const;
  /// Variance of a linear function of the parameters.
  double variance(const std::vector<double>& gradient) const;
  /// d h(θ, at) / d parameters, d h′ / d parameters, d wall / d parameters (linear along between knots).
  std::vector<double> support_gradient(double at, Angle theta) const;
  std::vector<double> sideways_gradient(double at, Angle theta) const;
  std::vector<double> wall_gradient(double at, Angle theta) const;
  /// Standard deviation of what lies between the stations (or wall readings) on either side of `at`.
  double skin_wander_sigma(double at) const;
  double wall_wander_sigma(double at) const;

  struct State;
  explicit TubeFit(std::shared_ptr<const State> state) : state_(std::move(state)) {}

 private:
  std::shared_ptr<const State> state_;
};

/// Throws InputError when the survey's own values are not allowed (check_survey), the readings do not
/// suffice, an end lies more than 30 mm beyond the last station, the sideways bow exceeds half the radius, or
/// the shape found is not sound (check_shape); all problems at once.
TubeFit fit_survey(const Survey& survey, const FitPriors& priors);
/// The same with priors_for(survey.material).
TubeFit fit_survey(const Survey& survey);

}  // namespace culmwright
