#include "plan/seating_programme.hpp"

#include <Eigen/LU>
#include <cmath>

#include "base/problem.hpp"

namespace culmwright {

using Eigen::Matrix4d;
using Eigen::Vector4d;

namespace {

constexpr int careful_after = 60;
constexpr int greatest_steps = 2000;
constexpr double least_pivot = 1e-11;

class DualSimplex {
 public:
  explicit DualSimplex(const SeatingProgramme& programme)
      : programme_(programme), contacts_(static_cast<int>(programme.rows.rows())) {
    for (int j = 0; j < seat_freedoms; ++j) {
      basis_[j] = contacts_ + 2 * j + (programme.cost[j] >= 0.0 ? 0 : 1);
    }
  }

  std::optional<SeatingSolution> run() {
    SeatingSolution solution;
    for (int step = 0; step < greatest_steps; ++step) {
      factor();
      solution.y = inverse_ * least_of_basis_;
      solution.force = inverse_.transpose() * programme_.cost;
      solution.steps = step;
      const int entering = most_violated(solution.y, step > careful_after);
      if (entering < 0) {
        solution.bearing = basis_;
        return solution;
      }
      const int leaving = first_to_lift(entering, solution.force);
      if (leaving < 0) return {};
      basis_[leaving] = entering;
    }
    require(false, "the linear programme of a seat did not end");
    return {};
  }

 private:
  Vector4d row(int i) const {
    if (i < contacts_) return programme_.rows.row(i).transpose();
    Vector4d unit = Vector4d::Zero();
    unit[(i - contacts_) / 2] = (i - contacts_) % 2 == 0 ? 1.0 : -1.0;
    return unit;
  }
  double least(int i) const { return i < contacts_ ? programme_.least[i] : -programme_.box; }

  void factor() {
    Matrix4d rows;
    for (int j = 0; j < seat_freedoms; ++j) {
      rows.row(j) = row(basis_[j]).transpose();
      least_of_basis_[j] = least(basis_[j]);
    }
    inverse_ = rows.inverse();
  }

  int most_violated(const Vector4d& y, bool lowest_index) const {
    int found = -1;
    double worst = 1e-10 * programme_.box;
    for (int i = 0; i < contacts_ + 2 * seat_freedoms; ++i) {
      const double short_by =
          i < contacts_ ? programme_.least[i] - programme_.rows.row(i).dot(y) : least(i) - row(i).dot(y);
      if (short_by <= worst || bears(i)) continue;
      found = i;
      if (lowest_index) return found;
      worst = short_by;
    }
    return found;
  }

  bool bears(int i) const { return i == basis_[0] || i == basis_[1] || i == basis_[2] || i == basis_[3]; }

  /// The place in the basis whose force falls to zero first as the new row takes up force.
  int first_to_lift(int entering, const Vector4d& force) const {
    const Vector4d share = inverse_.transpose() * row(entering);
    int found = -1;
    double least_ratio = 0.0;
    for (int j = 0; j < seat_freedoms; ++j) {
      if (share[j] <= least_pivot) continue;
      const double ratio = std::max(force[j], 0.0) / share[j];
      const bool first = found < 0 || ratio < least_ratio - 1e-14;
      const bool tie = found >= 0 && std::abs(ratio - least_ratio) <= 1e-14;
      if (!first && !(tie && basis_[j] < basis_[found])) continue;
      found = j;
      least_ratio = ratio;
    }
    return found;
  }

  const SeatingProgramme& programme_;
  int contacts_;
  std::array<int, seat_freedoms> basis_{};
  Matrix4d inverse_;
  Vector4d least_of_basis_;
};

}  // namespace

std::optional<SeatingSolution> solve(const SeatingProgramme& programme) {
  return DualSimplex(programme).run();
}

}  // namespace culmwright
