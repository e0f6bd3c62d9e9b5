#include "solid/outline_pieces.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

constexpr double arc_step = 3.75 * pi / 180.0;
constexpr int least_steps = 12;
constexpr int line_steps = 16;

}  // namespace

OutlinePiece OutlinePiece::arc(Vec2 middle, double radius, double from, double to) {
  OutlinePiece piece;
  piece.origin_ = middle;
  piece.radius_ = radius;
  piece.from_ = from;
  piece.to_ = to;
  return piece;
}

OutlinePiece OutlinePiece::line(Vec2 from, Vec2 to) {
  OutlinePiece piece;
  piece.origin_ = from;
  piece.along_ = unit(to - from);
  piece.to_ = length(to - from);
  return piece;
}

Vec2 OutlinePiece::point(double t) const {
  if (!is_arc()) return origin_ + along_ * t;
  return origin_ + Vec2{std::cos(t), std::sin(t)} * radius_;
}

std::vector<double> OutlinePiece::parameters() const {
  const int steps =
      is_arc() ? std::max(least_steps, static_cast<int>(std::lround((to_ - from_) / arc_step))) : line_steps;
  std::vector<double> values;
  for (int i = 0; i <= steps; ++i) values.push_back(from_ + (to_ - from_) * i / steps);
  return values;
}

std::vector<OutlinePiece> outline_pieces(const RoundedRectangle& outline) {
  const double r = outline.corner;
  if (outline.round()) return {OutlinePiece::arc({}, r, 0.0, pi), OutlinePiece::arc({}, r, pi, 2.0 * pi)};
  const double x = 0.5 * outline.length - r;
  const double y = 0.5 * outline.width - r;
  const Vec2 middles[4] = {{x, y}, {-x, y}, {-x, -y}, {x, -y}};
  const Vec2 out[4] = {{0, 1}, {-1, 0}, {0, -1}, {1, 0}};  // of the side after each corner
  std::vector<OutlinePiece> pieces;
  for (int i = 0; i < 4; ++i) {
    if (r > 0.0) pieces.push_back(OutlinePiece::arc(middles[i], r, 0.5 * pi * i, 0.5 * pi * (i + 1)));
    const Vec2 from = middles[i] + out[i] * r;
    const Vec2 to = middles[(i + 1) % 4] + out[i] * r;
    if (length(to - from) > 1e-9) pieces.push_back(OutlinePiece::line(from, to));
  }
  return pieces;
}

}  // namespace culmwright
