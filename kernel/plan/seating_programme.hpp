#pragma once
/// The linear programme of a seat: four freedoms, many contacts.
///
///     minimise c · y   subject to   a_i · y ≥ b_i for every row,   |y_j| ≤ box
///
/// by the dual simplex method (Lemke 1954; see Vanderbei, Linear Programming): a vertex where four rows bear
/// with forces λ ≥ 0 that balance c; the row most violated comes in, the one whose force falls to zero first
/// goes out. Exact up to rounding; ties by the lowest index, and after many steps by Bland's rule, so that it
/// ends. With four unknowns a step costs one 4 × 4 inverse and one pass over the rows.
#include <Eigen/Core>
#include <array>
#include <optional>

namespace culmwright {

constexpr int seat_freedoms = 4;

struct SeatingProgramme {
  Eigen::Vector4d cost = Eigen::Vector4d::Zero();
  Eigen::Matrix<double, Eigen::Dynamic, seat_freedoms, Eigen::RowMajor> rows;
  Eigen::VectorXd least;  ///< b
  double box = 1.0;
};

struct SeatingSolution {
  Eigen::Vector4d y;
  /// Rows that bear, and how much of the cost each carries (λ ≥ 0); the box' own rows have the indices from
  /// rows.rows() on: y_j ≥ −box at 2j, y_j ≤ box at 2j + 1 behind it.
  std::array<int, seat_freedoms> bearing{};
  Eigen::Vector4d force;
  int steps = 0;
};

/// Nothing when no y within the box satisfies every row. Rows hold to 1e-10 of the box.
std::optional<SeatingSolution> solve(const SeatingProgramme& programme);

}  // namespace culmwright
