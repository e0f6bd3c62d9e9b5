#include "solid/inner_points.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

constexpr double clearance = 0.4;  // cells

double distance_from_side(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 along = b - a;
  const double square = dot(along, along);
  const double share = square > 0.0 ? std::clamp(dot(p - a, along) / square, 0.0, 1.0) : 0.0;
  return length(p - a - along * share);
}

/// Rows 1 to rows − 1, each with columns 0 to columns; odd rows stand half a cell aside.
class Rows {
 public:
  Rows(int columns, int rows)
      : columns_(columns), rows_(rows), taken_(static_cast<std::size_t>(columns + 1) * (rows + 1), 0) {}

  static Vec2 place(int column, int row) { return {column + (row % 2 == 0 ? 0.0 : 0.5), double(row)}; }

  /// Points within the clearance of a side are taken.
  void keep_clear(Vec2 a, Vec2 b) {
    const auto [low_x, high_x] = std::minmax(a.x, b.x);
    const auto [low_y, high_y] = std::minmax(a.y, b.y);
    const int first_row = std::max(0, static_cast<int>(std::ceil(low_y - clearance)));
    const int last_row = std::min(rows_, static_cast<int>(std::floor(high_y + clearance)));
    const int first = std::max(0, static_cast<int>(std::floor(low_x - clearance)) - 1);
    const int last = std::min(columns_, static_cast<int>(std::ceil(high_x + clearance)));
    for (int row = first_row; row <= last_row; ++row) {
      for (int column = first; column <= last; ++column) {
        if (distance_from_side(place(column, row), a, b) < clearance) taken(column, row) = 1;
      }
    }
  }

  char& taken(int column, int row) {
    return taken_[static_cast<std::size_t>(row) * (columns_ + 1) + static_cast<std::size_t>(column)];
  }

 private:
  int columns_;
  int rows_;
  std::vector<char> taken_;
};

/// Where the sides cross each row, in order.
std::vector<std::vector<double>> crossings(const std::vector<Vec2>& corners,
                                           const std::vector<std::array<int, 2>>& sides, int rows) {
  std::vector<std::vector<double>> found(static_cast<std::size_t>(rows) + 1);
  for (const auto& [i, j] : sides) {
    Vec2 a = corners[i];
    Vec2 b = corners[j];
    if (a.y > b.y) std::swap(a, b);
    const int first = std::max(0, static_cast<int>(std::ceil(a.y)));
    for (int row = first; row <= rows && row < b.y; ++row) {
      found[row].push_back(a.x + (b.x - a.x) * ((row - a.y) / (b.y - a.y)));
    }
  }
  for (auto& row : found) std::sort(row.begin(), row.end());
  return found;
}

}  // namespace

std::vector<Vec2> inner_points(const std::vector<Vec2>& corners, const std::vector<std::array<int, 2>>& sides,
                               int columns, int rows) {
  std::vector<Vec2> points;
  if (columns < 2 && rows < 2) return points;
  Rows grid(columns, rows);
  for (const auto& [i, j] : sides) grid.keep_clear(corners[i], corners[j]);
  const auto crossed = crossings(corners, sides, rows);
  for (int row = 1; row < rows; ++row) {
    const std::vector<double>& x = crossed[row];
    for (std::size_t k = 0; k + 1 < x.size(); k += 2) {
      for (int column = std::max(0, static_cast<int>(std::floor(x[k]))); column <= columns; ++column) {
        const Vec2 place = Rows::place(column, row);
        if (place.x >= x[k + 1]) break;
        if (place.x > x[k] && !grid.taken(column, row)) points.push_back(place);
      }
    }
  }
  return points;
}

}  // namespace culmwright
