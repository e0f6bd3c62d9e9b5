#include "fit/remeasure_settle.hpp"

#include <Eigen/Dense>
#include <cmath>

namespace culmwright {

namespace {

/// An unknown that readings of a millimetre leave open by more than this is not known at all, mm.
constexpr double nothing_known = 1e4;

struct Matrices {
  Eigen::MatrixXd slopes;      ///< J
  Eigen::MatrixXd covariance;  ///< C
  Eigen::VectorXd miss;        ///< r
};

Matrices matrices(const LinearReadings& linear) {
  const auto rows = static_cast<Eigen::Index>(linear.readings.size());
  const auto bases = static_cast<Eigen::Index>(linear.base_errors.size());
  Matrices m{Eigen::MatrixXd::Zero(rows, linear.unknowns), Eigen::MatrixXd::Zero(rows, rows),
             Eigen::VectorXd::Zero(rows)};
  Eigen::MatrixXd by_base = Eigen::MatrixXd::Zero(rows, bases);
  for (Eigen::Index i = 0; i < rows; ++i) {
    const LinearReading& reading = linear.readings[static_cast<std::size_t>(i)];
    m.miss(i) = reading.miss;
    m.covariance(i, i) = reading.error * reading.error;
    for (const auto& [unknown, slope] : reading.by_unknown) m.slopes(i, unknown) = slope;
    for (const auto& [base, slope] : reading.by_base) {
      by_base(i, base) = slope * linear.base_errors[static_cast<std::size_t>(base)];
    }
  }
  m.covariance += by_base * by_base.transpose();
  return m;
}

std::vector<int> weighty(const Eigen::VectorXd& direction) {
  std::vector<int> unknowns;
  for (Eigen::Index i = 0; i < direction.size(); ++i) {
    if (std::abs(direction(i)) > 0.05) unknowns.push_back(static_cast<int>(i));
  }
  return unknowns;
}

}  // namespace

Step least_squares_step(const LinearReadings& linear) {
  const Matrices m = matrices(linear);
  const Eigen::LLT<Eigen::MatrixXd> weight(m.covariance);
  Step step;
  step.cost = m.miss.dot(weight.solve(m.miss));
  if (linear.unknowns == 0) return step;
  const Eigen::MatrixXd weighted = weight.solve(m.slopes);
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> normal(m.slopes.transpose() * weighted);
  const Eigen::VectorXd pull = weighted.transpose() * m.miss;
  Eigen::VectorXd by = Eigen::VectorXd::Zero(linear.unknowns);
  Eigen::VectorXd variance = Eigen::VectorXd::Zero(linear.unknowns);
  for (Eigen::Index k = 0; k < linear.unknowns; ++k) {
    const Eigen::VectorXd direction = normal.eigenvectors().col(k);
    const double known = normal.eigenvalues()(k);
    if (!(known * nothing_known * nothing_known > 1.0)) {
      step.loose.push_back(weighty(direction));
      variance += direction.cwiseAbs2() * (nothing_known * nothing_known);
      continue;
    }
    by += direction * (direction.dot(pull) / known);
    variance += direction.cwiseAbs2() / known;
  }
  for (Eigen::Index i = 0; i < linear.unknowns; ++i) {
    step.by.push_back(by(i));
    step.errors.push_back(std::sqrt(variance(i)));
  }
  return step;
}

std::vector<Outlier> outliers(const LinearReadings& linear) {
  const Matrices m = matrices(linear);
  const Eigen::LLT<Eigen::MatrixXd> weight(m.covariance);
  const Eigen::Index rows = m.miss.size();
  const Eigen::MatrixXd inverse = weight.solve(Eigen::MatrixXd::Identity(rows, rows));
  Eigen::MatrixXd test = inverse;  // P
  if (linear.unknowns > 0) {
    const Eigen::MatrixXd weighted = inverse * m.slopes;
    const Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> normal(m.slopes.transpose() * weighted);
    test -= weighted * normal.solve(weighted.transpose());
  }
  const Eigen::VectorXd pull = inverse * m.miss;
  constexpr double no_check = 1e-8;  // share of a reading that the others check: rounding
  const auto checked = [&](Eigen::Index i) { return test(i, i) > no_check * inverse(i, i); };
  std::vector<Outlier> all(linear.readings.size());
  for (Eigen::Index i = 0; i < rows; ++i) {
    Outlier& outlier = all[static_cast<std::size_t>(i)];
    outlier.with.assign(all.size(), 0.0);
    if (!checked(i)) continue;
    outlier.size = pull(i) / test(i, i);
    outlier.sigma = 1.0 / std::sqrt(test(i, i));
    for (Eigen::Index k = 0; k < rows; ++k) {
      if (checked(k)) {
        outlier.with[static_cast<std::size_t>(k)] = test(i, k) / std::sqrt(test(i, i) * test(k, k));
      }
    }
  }
  return all;
}

}  // namespace culmwright
