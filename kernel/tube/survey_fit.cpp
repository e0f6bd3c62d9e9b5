#include "tube/survey_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <set>

#include "tube/fit_estimate.hpp"
#include "tube/fit_readings.hpp"
#include "tube/fit_state.hpp"
#include "tube/mass.hpp"
#include "tube/survey_check.hpp"

namespace culmwright {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using Field = FitParameter::Field;

namespace {

constexpr int iterations = 60;
/// The order that the readings must reach before it is looked for; those up to here are always carried with
/// their prior.
constexpr int least_highest_order = 4;

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
    read_ = values_;
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
    state->read = read_;
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
  std::vector<double> read_;  ///< before orders were left out
  VectorXd start_;
  MatrixXd prior_;
  std::vector<bool> active_;    ///< free in the estimate
  std::vector<bool> tellable_;  ///< of an order that some station can tell
  double radius_ = 0.0;
};

}  // namespace

FitPriors priors_for(Material material) {
  FitPriors priors;
  if (material == Material::wood) {
    priors.skin_wander = 0.05;
    priors.wall_wander = 0.15;
    priors.lobe = 0.05;
  } else if (material == Material::pipe) {
    priors.ovality = 0.005;
    priors.lobe = 0.03;
    priors.bow = 0.5;
    priors.skin_wander = 0.01;
    priors.wall_wander = 0.02;
    priors.wall_lobe = 0.1;
  }
  return priors;
}

TubeFit fit_survey(const Survey& survey) {
  return fit_survey(survey, priors_for(survey.material));
}

TubeFit fit_survey(const Survey& survey, const FitPriors& priors) {
  Problems problems = check_survey(survey);
  for (const Problem& problem : check_readings(survey)) problems.push_back(problem);
  if (!problems.empty()) throw InputError(std::move(problems));
  return TubeFit(Fit(survey, priors).run());
}

}  // namespace culmwright
