/// TubeFit's readers: what the finished fit says of the tube and of its own uncertainty.
#include <algorithm>
#include <cmath>

#include "base/draws.hpp"
#include "tube/fit_state.hpp"

namespace culmwright {

using Field = FitParameter::Field;

namespace {

/// The knots on either side of `at`, as distances; nullopt where it stands on a knot.
double wander(const std::vector<double>& knots, double at, double half_way) {
  const double q = 4.0 * half_way * half_way / 100.0;  // variance per millimetre of a random walk
  if (at <= knots.front()) return std::sqrt(q * (knots.front() - at));
  if (at >= knots.back()) return std::sqrt(q * (at - knots.back()));
  const auto right = std::upper_bound(knots.begin(), knots.end(), at);
  const double d1 = at - *(right - 1);
  const double d2 = *right - at;
  return std::sqrt(q * d1 * d2 / (d1 + d2));
}

const std::vector<double>& knots_of(const FitParameters& parameters, Field field) {
  for (const FitTerm& term : parameters.terms()) {
    if (term.field == field && term.order == 0) return term.at;
  }
  require(false, "a fit without a level term");
  return parameters.terms().front().at;
}

}  // namespace

TubeShape shape_of(const Survey& survey, const FitParameters& parameters, const std::vector<double>& values) {
  TubeShape shape;
  shape.id = survey.id;
  shape.skin = parameters.build(Field::skin, values);
  shape.wall = parameters.build(Field::wall, values);
  shape.end_a_at = survey.end_a_at();
  shape.end_b_at = survey.end_b_at();
  shape.nodes = survey.nodes;
  shape.grooves = survey.grooves;
  shape.blemishes = survey.blemishes;
  shape.tilt_a = survey.tilt_a;
  shape.tilt_b = survey.tilt_b;
  return shape;
}

const Tube& TubeFit::tube() const {
  return *state_->tube;
}
const Survey& TubeFit::survey() const {
  return state_->survey;
}
const FitPriors& TubeFit::priors() const {
  return state_->priors;
}
const std::vector<FitParameter>& TubeFit::parameters() const {
  return state_->parameters.list();
}
const std::vector<double>& TubeFit::values() const {
  return state_->values;
}
const std::vector<double>& TubeFit::covariance() const {
  return state_->covariance;
}
const std::vector<Residual>& TubeFit::residuals() const {
  return state_->residuals;
}
const std::vector<int>& TubeFit::orders_left_out() const {
  return state_->left_out;
}

Tube TubeFit::with(const std::vector<double>& values) const {
  TubeShape shape = shape_of(state_->survey, state_->parameters, values);
  shape.density = tube().shape().density;
  shape.density_slope = tube().shape().density_slope;
  return Tube(std::move(shape));
}

std::vector<double> TubeFit::draw(unsigned seed) const {
  Draws draws(seed);
  const std::size_t n = state_->values.size();
  std::vector<double> noise(n);
  for (double& value : noise) value = draws.normal();
  std::vector<double> drawn = state_->read;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j <= i; ++j) drawn[i] += state_->root[i * n + j] * noise[j];
  }
  return drawn;
}

double TubeFit::variance(const std::vector<double>& gradient) const {
  const std::size_t n = gradient.size();
  require(n == state_->values.size(), "a gradient must have as many entries as the fit has parameters");
  double sum = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    if (gradient[i] == 0.0) continue;
    for (std::size_t j = 0; j < n; ++j) sum += gradient[i] * state_->covariance[i * n + j] * gradient[j];
  }
  return sum;
}

std::vector<double> TubeFit::support_gradient(double at, Angle theta) const {
  std::vector<double> row(state_->values.size(), 0.0);
  state_->parameters.add_gradient(Field::skin, at, theta, 1.0, 0, row);
  return row;
}

std::vector<double> TubeFit::sideways_gradient(double at, Angle theta) const {
  std::vector<double> row(state_->values.size(), 0.0);
  state_->parameters.add_gradient(Field::skin, at, theta, 1.0, 1, row);
  return row;
}

std::vector<double> TubeFit::wall_gradient(double at, Angle theta) const {
  std::vector<double> row(state_->values.size(), 0.0);
  state_->parameters.add_gradient(Field::wall, at, theta, 1.0, 0, row);
  return row;
}

double TubeFit::skin_wander_sigma(double at) const {
  return wander(knots_of(state_->parameters, Field::skin), at, state_->priors.skin_wander);
}

double TubeFit::wall_wander_sigma(double at) const {
  return wander(knots_of(state_->parameters, Field::wall), at, state_->priors.wall_wander);
}

double TubeFit::support_sigma(double at, Angle theta) const {
  return std::hypot(std::sqrt(variance(support_gradient(at, theta))), skin_wander_sigma(at));
}

double TubeFit::sideways_sigma(double at, Angle theta) const {
  return std::sqrt(variance(sideways_gradient(at, theta)));
}

double TubeFit::girth_sigma(double at) const {
  std::vector<double> row(state_->values.size(), 0.0);
  // The mean of h over a turn keeps order 0 alone.
  for (int i = 0; i < 32; ++i) {
    state_->parameters.add_gradient(Field::skin, at, Angle::from_degrees(11.25 * i), 2.0 * pi / 32, 0, row);
  }
  return std::hypot(std::sqrt(variance(row)), 2.0 * pi * skin_wander_sigma(at));
}

double TubeFit::wall_sigma(double at, Angle theta) const {
  return std::hypot(std::sqrt(variance(wall_gradient(at, theta))), wall_wander_sigma(at));
}

}  // namespace culmwright
