#include "tube/survey_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "tube/fit_parameters.hpp"
#include "tube/fit_readings.hpp"
#include "tube/mass.hpp"
// SC #include "tube/survey_check.hpp"

namespace culmwright {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using Field = FitParameter::Field;

struct TubeFit::State {
  Survey survey;
  FitPriors priors;
  FitParameters parameters;
  std::vector<double> values;
  std::vector<double> covariance;
  std::vector<double> root;  ///< lower Cholesky factor of the covariance, row-major
  std::vector<Residual> residuals;
  std::vector<int> left_out;
  std::optional<Tube> tube;
};

namespace {

constexpr int iterations = 60;
/// The order that the readings must reach before it is looked for; those up to here are always carried with
/// their prior.
constexpr int least_highest_order = 4;

double standard_bow(const Survey& survey, const FitPriors& priors) {
  return priors.bow * survey.length / 400.0;
}

/// The unknowns that this survey calls for, and for each term whether any reading sees it.
struct Unknowns {
  FitParameters parameters;
  std::vector<std::vector<bool>> seen;  ///< per term, per knot
};

std::vector<bool> sees(const std::vector<int>& highest, int order) {
  std::vector<bool> seen;
  for (int h : highest) seen.push_back(h >= order);
  return seen;
}

FitTerm bow_term(const Survey& survey, const Readings& readings) {
  FitTerm term;
  term.order = 1;
  term.ends_fixed = !readings.has_heights;
  std::set<double> at;
  std::set<double> kinks;
  for (const Station* station : readings.stations) {
    if (!station->heights.empty()) at.insert(station->at);
  }
  for (const BowReading& bow : survey.bow) at.insert(bow.at);
  for (const Node& node : survey.nodes) {
    if (node.kink) kinks.insert(node.at());
  }
  at.insert(kinks.begin(), kinks.end());
  if (at.empty()) at.insert(0.5 * (survey.end_a_at() + survey.end_b_at()));
  if (term.ends_fixed) {
    while (!at.empty() && *at.begin() < survey.end_a_at() + 1.0) at.erase(at.begin());
    while (!at.empty() && *at.rbegin() > survey.end_b_at() - 1.0) at.erase(std::prev(at.end()));
    at.insert(survey.end_a_at());
    at.insert(survey.end_b_at());
  }
  term.at.assign(at.begin(), at.end());
  for (double x : term.at) term.kink.push_back(kinks.count(x) > 0);
  return term;
}

Unknowns unknowns_of(const Survey& survey, const Readings& readings) {
  Unknowns unknowns;
  std::vector<double> at;
  for (const Station* station : readings.stations) at.push_back(station->at);
  int highest = least_highest_order;
  for (std::size_t i = 0; i < at.size(); ++i) {
    highest = std::max({highest, readings.highest_even[i], readings.highest_odd[i]});
  }
  const auto add = [&](FitTerm term, std::vector<bool> seen) {
    unknowns.parameters.add(std::move(term));
    unknowns.seen.push_back(std::move(seen));
  };
  add({Field::skin, 0, at, {}, false, 0}, std::vector<bool>(at.size(), true));
  FitTerm bow = bow_term(survey, readings);
  add(bow, std::vector<bool>(bow.at.size(), true));
  for (int k = 2; k <= highest; ++k) {
    add({Field::skin, k, at, {}, false, 0},
        sees(k % 2 == 0 ? readings.highest_even : readings.highest_odd, k));
  }
  for (int k = 0; k <= 2; ++k) {
    add({Field::wall, k, readings.wall_at, {}, false, 0}, sees(readings.highest_wall, k));
  }
  return unknowns;
}

double coefficient_prior(const FitTerm& term, const FitPriors& priors, double radius) {
  if (term.field == Field::wall) return priors.wall_lobe;
  if (term.order == 2) return priors.ovality * radius;
  return priors.lobe * 9.0 / (term.order * term.order);
}

void add_row(MatrixXd& information, const std::vector<std::pair<int, double>>& row, double sigma) {
  for (const auto& [i, a] : row) {
    for (const auto& [j, b] : row) information(i, j) += a * b / (sigma * sigma);
  }
}

/// The bow's prior: each knot lies near the line between its neighbours, nearer the closer they are.
void add_bow_prior(const FitTerm& term, int first, const Survey& survey, const FitPriors& priors,
                   MatrixXd& information) {
  const double bow = standard_bow(survey, priors);
  const int skip = term.ends_fixed ? 1 : 0;
  const int knots = static_cast<int>(term.at.size());
  for (int k = 1; k + 1 < knots; ++k) {
    const double d1 = term.at[k] - term.at[k - 1];
    const double d2 = term.at[k + 1] - term.at[k];
    std::vector<std::pair<int, double>> row;
    const auto put = [&](int knot, double factor) {
      const int i = knot - skip;
      if (i >= 0 && i < term.unknowns()) row.emplace_back(first + i, factor);
    };
    put(k - 1, -d2 / (d1 + d2));
    put(k, 1.0);
    put(k + 1, -d1 / (d1 + d2));
    const double smooth = bow * 4.0 * d1 * d2 / (survey.length * survey.length);
    add_row(information, row, term.kink[k] ? 3.0 * bow : smooth);
  }
  // Between survey plates the axis is free; far beyond any real bow the prior still has to be proper.
  for (int i = 0; i < term.unknowns(); ++i) add_row(information, {{first + i, 1.0}}, 30.0 * bow);
}

MatrixXd prior_information(const FitParameters& parameters, const Survey& survey, const FitPriors& priors,
                           double radius) {
  const int n = parameters.size();
  MatrixXd information = MatrixXd::Zero(n, n);
  for (const FitTerm& term : parameters.terms()) {
    const int count = term.unknowns();
    for (int part = 0; part < (term.order == 0 ? 1 : 2); ++part) {
      const int first = term.first + part * count;
      if (term.spline()) {
        add_bow_prior(term, first, survey, priors, information);
        continue;
      }
      const double level = 10.0 * radius;  // the size of the tube and of its wall is for the readings to say
      const double sigma = term.order == 0 ? level : coefficient_prior(term, priors, radius);
      for (int i = 0; i < count; ++i) {
        add_row(information, {{first + i, 1.0}}, sigma);
        if (i + 1 == count || term.order == 0) continue;
        const double step = 0.5 * sigma * std::sqrt((term.at[i + 1] - term.at[i]) / 100.0);
        add_row(information, {{first + i, 1.0}, {first + i + 1, -1.0}}, step);
      }
    }
  }
  return information;
}

/// The linear estimate that believes the readings wherever they tell more than the prior, and the prior
/// elsewhere. In the basis that makes the prior the identity and the data diagonal (λ), a direction with λ ≥
/// 1 is estimated from the readings alone, error variance 1/λ; one with λ < 1 is drawn to the prior's mean,
/// 1/(λ + 1). Shrinking only what is hardly seen keeps exact readings exact.
struct Estimate {
  MatrixXd gain;        ///< right-hand side of the normal equations → estimate
  MatrixXd prior_held;  ///< the prior as information, in the hardly seen directions only
};

Estimate estimate(const MatrixXd& data, const MatrixXd& prior) {
  const Eigen::LLT<MatrixXd> root(prior);
  const MatrixXd half = root.matrixL().solve(data);
  const MatrixXd whitened = root.matrixL().solve(half.transpose());
  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(0.5 * (whitened + whitened.transpose()));
  const MatrixXd basis = root.matrixU().solve(eigen.eigenvectors());
  const VectorXd seen = eigen.eigenvalues();
  const VectorXd variance = seen.unaryExpr([](double s) { return s >= 1.0 ? 1.0 / s : 1.0 / (s + 1.0); });
  const VectorXd held = seen.unaryExpr([](double s) { return s >= 1.0 ? 0.0 : 1.0; });
  const MatrixXd back = root.matrixL() * eigen.eigenvectors();
  return {basis * variance.asDiagonal() * basis.transpose(), back * held.asDiagonal() * back.transpose()};
}

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

/// The normal equations' data part at the present values.
struct Normal {
  MatrixXd information;
  VectorXd right;
};

class Fit {
 public:
  Fit(const Survey& survey, const FitPriors& priors)
      : survey_(survey), priors_(priors), readings_(readings_of(survey)) {
    unknowns_ = unknowns_of(survey, readings_);
    const int n = unknowns_.parameters.size();
    values_.assign(n, 0.0);
    start();
    start_ = Eigen::Map<const VectorXd>(values_.data(), n);
    prior_ = prior_information(unknowns_.parameters, survey_, priors_, radius_);
    active_.assign(n, true);
    for (std::size_t t = 0; t < terms().size(); ++t) {
      const std::vector<bool>& seen = unknowns_.seen[t];
      if (std::none_of(seen.begin(), seen.end(), [](bool s) { return s; })) deactivate(terms()[t]);
    }
    tellable_ = active_;
  }

  std::shared_ptr<const TubeFit::State> run() {
    solve();
    std::vector<int> left_out;
    const MatrixXd covariance = this->covariance();
    for (std::size_t t = 0; t < terms().size(); ++t) {
      const FitTerm& term = terms()[t];
      if (term.field != Field::skin || term.order < 2 || !active_[term.first]) continue;
      if (!stands_out(term, covariance)) {
        deactivate(term);
        left_out.push_back(term.order);
      }
    }
    if (!left_out.empty()) solve();
    return finish(std::move(left_out));
  }

 private:
  const std::vector<FitTerm>& terms() const { return unknowns_.parameters.terms(); }

  void deactivate(const FitTerm& term) {
    const int count = term.unknowns() * (term.order == 0 ? 1 : 2);
    for (int i = 0; i < count; ++i) {
      active_[term.first + i] = false;
      values_[term.first + i] = 0.0;
    }
  }

  /// A plausible round tube to start from.
  void start() {
    radius_ = readings_.mean_radius;
    const double wall = readings_.mean_wall;
    for (const FitTerm& term : terms()) {
      if (term.order != 0) continue;
      for (int i = 0; i < term.unknowns(); ++i) {
        values_[term.first + i] = term.field == Field::skin ? radius_ : wall;
      }
    }
  }

  Normal normal() const {
    const int n = unknowns_.parameters.size();
    Normal normal{MatrixXd::Zero(n, n), VectorXd::Zero(n)};
    const Tube tube(shape_of(survey_, unknowns_.parameters, values_));
    std::vector<double> row(n);
    for (const Reading& reading : readings_.list) {
      std::fill(row.begin(), row.end(), 0.0);
      const Prediction prediction = predict(reading, tube, survey_, unknowns_.parameters, row);
      const Eigen::Map<const VectorXd> gradient(row.data(), n);
      const double weight = 1.0 / (prediction.sigma * prediction.sigma);
      normal.information.selfadjointView<Eigen::Lower>().rankUpdate(gradient, weight);
      normal.right += gradient * (weight * (reading.read - prediction.value));
    }
    normal.information = MatrixXd(normal.information.selfadjointView<Eigen::Lower>());
    return normal;
  }

  void solve() {
    const int n = unknowns_.parameters.size();
    std::vector<int> free;
    for (int i = 0; i < n; ++i) {
      if (active_[i]) free.push_back(i);
    }
    MatrixXd held;
    for (int iteration = 0; iteration < iterations; ++iteration) {
      const Normal normal = this->normal();
      const MatrixXd data = normal.information(free, free);
      if (iteration == 0) held = estimate(data, prior_(free, free)).prior_held;
      const VectorXd deviation = Eigen::Map<const VectorXd>(values_.data(), n) - start_;
      const VectorXd right = normal.right(free) - held * deviation(free);
      const VectorXd step = (data + held).ldlt().solve(right);
      for (std::size_t i = 0; i < free.size(); ++i) values_[free[i]] += step[i];
      if (step.cwiseAbs().maxCoeff() < 1e-9) break;
    }
  }

  /// Of the estimate's error: noise of the readings, what they hardly see, and what orders that no reading
  /// can tell do to the others. An order left out as insignificant keeps its variance.
  MatrixXd covariance() const {
    const int n = unknowns_.parameters.size();
    std::vector<int> told, untold;
    for (int i = 0; i < n; ++i) (tellable_[i] ? told : untold).push_back(i);
    const MatrixXd data = normal().information;
    const MatrixXd gain = estimate(data(told, told), prior_(told, told)).gain;
    MatrixXd covariance = MatrixXd::Zero(n, n);
    covariance(told, told) = gain;
    if (untold.empty()) return covariance;
    const MatrixXd free = prior_(untold, untold).inverse();
    const MatrixXd spill = gain * data(told, untold);
    covariance(told, told) += spill * free * spill.transpose();
    covariance(told, untold) = -spill * free;
    covariance(untold, told) = -(spill * free).transpose();
    covariance(untold, untold) = free;
    return covariance;
  }

  bool stands_out(const FitTerm& term, const MatrixXd& covariance) const {
    const int count = 2 * term.unknowns();
    const MatrixXd block = covariance.block(term.first, term.first, count, count);
    const MatrixXd prior = prior_.block(term.first, term.first, count, count);
    const VectorXd x = Eigen::Map<const VectorXd>(values_.data() + term.first, count);
    const double chi2 = x.dot(block.ldlt().solve(x));
    const double told = count - (block * prior).trace();
    return chi2 >= 4.0 * std::max(told, 1.0);
  }

  std::shared_ptr<const TubeFit::State> finish(std::vector<int> left_out) {
    auto state = std::make_shared<TubeFit::State>();
    state->survey = survey_;
    state->priors = priors_;
    state->parameters = unknowns_.parameters;
    state->values = values_;
    state->left_out = std::move(left_out);
    const MatrixXd c = covariance();
    const MatrixXd root = c.llt().matrixL();
    const int n = static_cast<int>(c.rows());
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < n; ++j) {
        state->covariance.push_back(c(i, j));
        state->root.push_back(root(i, j));
      }
    }
    const Tube tube(shape_of(survey_, unknowns_.parameters, values_));
    std::vector<double> row(n);
    for (const Reading& reading : readings_.list) {
      const Prediction prediction = predict(reading, tube, survey_, unknowns_.parameters, row);
      state->residuals.push_back(
          {reading.pointer, reading.what, reading.read, prediction.value, prediction.sigma});
    }
    refuse_unsound(tube);
    TubeShape shape = tube.shape();
    set_density(shape, survey_);
    state->tube = Tube(std::move(shape));
    return state;
  }

  void refuse_unsound(const Tube& tube) const {
    Problems problems = check_shape(tube);
    for (int i = 0; i <= 200; ++i) {
      const double at = tube.end_a_at() + tube.length() * i / 200;
      const FourierSection section = tube.shape().skin.section(at);
      const double sideways = std::abs(section.terms()[1].sine.value);
      if (sideways <= 0.5 * section.mean()) continue;
      problems.push_back(
          {"sideways-bow",
           {"", 0, 0, "/bow"},
           "a sideways bow of " + std::to_string(sideways) + " at " + std::to_string(at),
           "at most half the radius, " + std::to_string(0.5 * section.mean()),
           "Draw the reference line on the hollow or the belly of the bend, and measure again"});
      break;
    }
    if (!problems.empty()) throw InputError(std::move(problems));
  }

  const Survey& survey_;
  const FitPriors& priors_;
  Readings readings_;
  Unknowns unknowns_;
  std::vector<double> values_;
  VectorXd start_;
  MatrixXd prior_;
  std::vector<bool> active_;    ///< free in the estimate
  std::vector<bool> tellable_;  ///< of an order that some station can tell
  double radius_ = 0.0;
};

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
  std::mt19937 generator(seed);
  const std::size_t n = state_->values.size();
  // Box–Muller by hand: std::normal_distribution differs between libraries, a draw must not.
  std::vector<double> noise(n);
  for (double& value : noise) {
    const double u = (static_cast<double>(generator()) + 1.0) / 4294967297.0;
    const double v = static_cast<double>(generator()) / 4294967296.0;
    value = std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * pi * v);
  }
  std::vector<double> drawn = state_->values;
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

TubeFit fit_survey(const Survey& survey, const FitPriors& priors) {
  Problems problems;
  for (const Problem& problem : check_readings(survey)) problems.push_back(problem);
  if (!problems.empty()) throw InputError(std::move(problems));
  return TubeFit(Fit(survey, priors).run());
}

}  // namespace culmwright
