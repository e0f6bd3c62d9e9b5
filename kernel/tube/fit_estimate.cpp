#include "tube/fit_estimate.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <utility>

namespace culmwright {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using Field = FitParameter::Field;

namespace {

double prior_of(const FitTerm& term, const FitPriors& priors, double radius) {
  if (term.order == 0)
    return 10.0 * radius;  // the size of the tube and of its wall is for the readings to say
  return term.field == Field::wall ? priors.wall_lobe : coefficient_prior(term.order, priors, radius);
}

void add_row(MatrixXd& information, const std::vector<std::pair<int, double>>& row, double sigma) {
  for (const auto& [i, a] : row) {
    for (const auto& [j, b] : row) information(i, j) += a * b / (sigma * sigma);
  }
}

/// The bow's prior: each knot lies near the line between its neighbours, nearer the closer they are.
void add_bow_prior(const FitTerm& term, int first, const Survey& survey, const FitPriors& priors,
                   MatrixXd& information) {
  const double bow = standard_bow(survey.length, priors);
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

}  // namespace

double coefficient_prior(int order, const FitPriors& priors, double radius) {
  return order == 2 ? priors.ovality * radius : priors.lobe * 9.0 / (order * order);
}

double standard_bow(double length, const FitPriors& priors) {
  return priors.bow * length / 400.0;
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
      const double sigma = prior_of(term, priors, radius);
      add_row(information, {{first, 1.0}}, sigma);
      for (int i = 1; i < count; ++i) {
        const double kept = term.order == 0 ? 0.0 : std::exp((term.at[i - 1] - term.at[i]) / prior_length);
        add_row(information, {{first + i, 1.0}, {first + i - 1, -kept}},
                sigma * std::sqrt(1.0 - kept * kept));
      }
    }
  }
  return information;
}

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

}  // namespace culmwright
