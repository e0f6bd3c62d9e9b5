#include "plan/path.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "base/problem.hpp"

namespace culmwright {

namespace {

constexpr double fan_reach = 4.0;
constexpr double fan_turn = 0.25 * pi;
constexpr double same_place = 1e-9;

Vec2 on_circle(double angle) {
  return {std::cos(angle), std::sin(angle)};
}

/// How many pieces of five-point quadrature a piece of a path asks for.
int divisions(const PathPiece& piece) {
  const double turn = piece.is_arc() ? std::abs(piece.last_angle() - piece.first_angle()) : 0.0;
  return std::max({1, static_cast<int>(std::ceil(piece.length() / fan_reach)),
                   static_cast<int>(std::ceil(turn / fan_turn - 1e-9))});
}

Vec2 middle_of(const OutlinePath& path) {
  Vec2 sum;
  for (const PathPiece& piece : path) sum = sum + piece.at(0.0) + piece.at(0.5);
  return sum * (0.5 / static_cast<double>(path.size()));
}

/// Where the piece reaches that y, between its ends. Precondition: it does so once.
double t_at_y(const PathPiece& piece, double y) {
  return find_root([&](double t) { return piece.at(t).y - y; }, 0.0, 1.0, 1e-14);
}

}  // namespace

PathPiece PathPiece::line(Vec2 from, Vec2 to) {
  PathPiece piece;
  piece.from_ = from;
  piece.to_ = to;
  return piece;
}

PathPiece PathPiece::arc(Vec2 middle, double radius, double from, double to) {
  PathPiece piece;
  piece.from_ = middle;
  piece.radius_ = radius;
  piece.a_ = from;
  piece.b_ = to;
  return piece;
}

Vec2 PathPiece::at(double t) const {
  if (!is_arc()) return t == 1.0 ? to_ : from_ + (to_ - from_) * t;
  return from_ + on_circle(t == 1.0 ? b_ : a_ + (b_ - a_) * t) * radius_;
}

Vec2 PathPiece::by_t(double t) const {
  if (!is_arc()) return to_ - from_;
  const Vec2 out = on_circle(a_ + (b_ - a_) * t);
  return Vec2{-out.y, out.x} * (radius_ * (b_ - a_));
}

Vec2 PathPiece::inward(double t) const {
  const Vec2 along = unit(by_t(t));
  return {-along.y, along.x};
}

double PathPiece::length() const {
  return is_arc() ? radius_ * std::abs(b_ - a_) : culmwright::length(to_ - from_);
}

double PathPiece::nearest(Vec2 p) const {
  if (!is_arc()) {
    const Vec2 along = to_ - from_;
    return std::clamp(dot(p - from_, along) / dot(along, along), 0.0, 1.0);
  }
  const Vec2 out = p - from_;
  const double half = 0.5 * std::abs(b_ - a_);
  const double off = std::remainder(std::atan2(out.y, out.x) - 0.5 * (a_ + b_), 2.0 * pi);
  const double along = std::clamp(b_ > a_ ? off : -off, -half, half);
  return 0.5 + 0.5 * along / half;
}

PathPiece PathPiece::turned_round() const {
  return is_arc() ? arc(from_, radius_, b_, a_) : line(to_, from_);
}

PathPiece PathPiece::moved_in(double by) const {
  if (is_arc()) {
    const double radius = clockwise() ? radius_ + by : radius_ - by;
    require(radius > 0.0, "an arc was moved in by more than its radius");
    return arc(from_, radius, a_, b_);
  }
  const Vec2 step = inward(0.5) * by;
  return line(from_ + step, to_ + step);
}

PathPiece PathPiece::part(double from, double to) const {
  if (is_arc()) return arc(from_, radius_, a_ + (b_ - a_) * from, a_ + (b_ - a_) * to);
  return line(at(from), at(to));
}

PathPiece PathPiece::half_turned() const {
  if (is_arc()) return arc(from_ * -1.0, radius_, a_ + pi, b_ + pi);
  return line(from_ * -1.0, to_ * -1.0);
}

PathPiece PathPiece::moved(Vec2 by) const {
  return is_arc() ? arc(from_ + by, radius_, a_, b_) : line(from_ + by, to_ + by);
}

OutlinePath circle_path(Vec2 middle, double radius) {
  return {PathPiece::arc(middle, radius, 0.0, pi), PathPiece::arc(middle, radius, pi, 2.0 * pi)};
}

OutlinePath rounded_path(const RoundedRectangle& outline, Vec2 middle) {
  const double r = outline.corner;
  if (outline.round()) return circle_path(middle, r);
  const double x = 0.5 * outline.length - r;
  const double y = 0.5 * outline.width - r;
  const Vec2 middles[4] = {{x, y}, {-x, y}, {-x, -y}, {x, -y}};
  const Vec2 out[4] = {{0, 1}, {-1, 0}, {0, -1}, {1, 0}};  // of the side after each corner
  OutlinePath path;
  for (int i = 0; i < 4; ++i) {
    if (r > 0.0) path.push_back(PathPiece::arc(middle + middles[i], r, 0.5 * pi * i, 0.5 * pi * (i + 1)));
    const Vec2 from = middle + middles[i] + out[i] * r;
    const Vec2 to = middle + middles[(i + 1) % 4] + out[i] * r;
    if (length(to - from) > same_place) path.push_back(PathPiece::line(from, to));
  }
  return path;
}

OutlinePath polygon_path(const std::vector<Vec2>& corners) {
  OutlinePath path;
  for (std::size_t i = 0; i < corners.size(); ++i)
    path.push_back(PathPiece::line(corners[i], corners[(i + 1) % corners.size()]));
  return path;
}

OutlinePath reversed(const OutlinePath& path) {
  OutlinePath other;
  for (std::size_t i = path.size(); i-- > 0;) other.push_back(path[i].turned_round());
  return other;
}

OutlinePath moved_in(const OutlinePath& path, double by) {
  OutlinePath other;
  for (const PathPiece& piece : path) other.push_back(piece.moved_in(by));
  return other;
}

OutlinePath half_turned(const OutlinePath& path) {
  OutlinePath other;
  for (const PathPiece& piece : path) other.push_back(piece.half_turned());
  return other;
}

OutlinePath moved(const OutlinePath& path, Vec2 by) {
  OutlinePath other;
  for (const PathPiece& piece : path) other.push_back(piece.moved(by));
  return other;
}

OutlinePath with_notch(const RoundedRectangle& outline, double radius, double depth, double lead) {
  // The hollow's middle lies outside; the leads' middles on the outline moved in by `lead`, where they are as
  // far from the hollow's middle as the two radii together.
  const Vec2 hollow{-0.5 * outline.length + depth - radius, 0.0};
  const double corner = outline.corner - lead;
  const double straight = 0.5 * outline.width - outline.corner;
  const auto inner_edge = [&](double y) {
    const double round = std::max(std::abs(y) - straight, 0.0);
    return -0.5 * outline.length + outline.corner - std::sqrt(std::max(corner * corner - round * round, 0.0));
  };
  const auto gap = [&](double y) { return length(Vec2{inner_edge(y), y} - hollow) - radius - lead; };
  const double y = find_root(gap, 0.0, straight + corner, 1e-14);
  const Vec2 middle{inner_edge(y), y};
  const Vec2 toward_hollow = unit(hollow - middle);
  const double round = std::max(y - straight, 0.0);
  const Vec2 outward = unit(Vec2{-std::sqrt(std::max(corner * corner - round * round, 0.0)), round});
  const Vec2 touch = middle + outward * lead;
  const double a_out = std::atan2(outward.y, outward.x);
  double a_in = std::atan2(toward_hollow.y, toward_hollow.x);
  a_in = a_out + std::remainder(a_in - a_out, 2.0 * pi);
  const double a_hollow = std::atan2(-toward_hollow.y, -toward_hollow.x);  // seen from the hollow's middle

  OutlinePath path;
  const OutlinePath plain = rounded_path(outline);
  bool in_notch = false;
  for (const PathPiece& piece : plain) {
    // A half circle of a round outline is divided where it is leftmost, for y to run one way.
    std::vector<PathPiece> parts{piece};
    if (piece.is_arc() && std::abs(piece.last_angle() - piece.first_angle()) > 0.75 * pi)
      parts = {piece.part(0.0, 0.5), piece.part(0.5, 1.0)};
    for (const PathPiece& part : parts) {
      const bool left = part.at(0.5).x < 0.0;
      if (!left || part.at(1.0).y >= touch.y || part.at(0.0).y <= -touch.y) {
        path.push_back(part);
        continue;
      }
      if (part.at(0.0).y > touch.y + same_place) path.push_back(part.part(0.0, t_at_y(part, touch.y)));
      if (!in_notch) {
        in_notch = true;
        path.push_back(PathPiece::arc(middle, lead, a_out, a_in));
        path.push_back(PathPiece::arc(hollow, radius, a_hollow, -a_hollow));
        path.push_back(PathPiece::arc({middle.x, -middle.y}, lead, -a_in, -a_out));
      }
      if (part.at(1.0).y < -touch.y - same_place) path.push_back(part.part(t_at_y(part, -touch.y), 1.0));
    }
  }
  return path;
}

double path_area(const OutlinePath& path) {
  double sum = 0.0;
  for (const PathPiece& piece : path) {
    const Vec2 a = piece.at(0.0);
    const Vec2 b = piece.at(1.0);
    sum += 0.5 * cross(a, b);
    const double turn = piece.last_angle() - piece.first_angle();
    if (piece.is_arc()) sum += 0.5 * piece.radius() * piece.radius() * (turn - std::sin(turn));
  }
  return sum;
}

double path_length(const OutlinePath& path) {
  double sum = 0.0;
  for (const PathPiece& piece : path) sum += piece.length();
  return sum;
}

double path_distance(const OutlinePath& path, Vec2 p) {
  double least = 1e300;
  for (const PathPiece& piece : path) least = std::min(least, piece.distance(p));
  return least;
}

bool path_holds(const OutlinePath& path, Vec2 p) {
  // The turn of the direction from p, by pieces short enough that none turns by half a circle.
  double turn = 0.0;
  for (const PathPiece& piece : path) {
    constexpr int steps = 16;
    Vec2 last = piece.at(0.0) - p;
    for (int i = 1; i <= steps; ++i) {
      const Vec2 next = piece.at(static_cast<double>(i) / steps) - p;
      turn += std::atan2(cross(last, next), dot(last, next));
      last = next;
    }
  }
  return turn > pi;
}

double over_path(const OutlinePath& path, const std::function<double(Vec2)>& f) {
  const Vec2 middle = middle_of(path);
  double sum = 0.0;
  for (const PathPiece& piece : path) {
    over_gauss_points(0.0, 1.0, divisions(piece), [&](double t, double weight) {
      const Vec2 spoke = piece.at(t) - middle;
      const double twist = cross(spoke, piece.by_t(t));
      if (twist == 0.0) return;
      const int rings = std::max(1, static_cast<int>(std::ceil(length(spoke) / fan_reach)));
      sum += weight * twist *
             integrate([&](double share) { return share * f(middle + spoke * share); }, 0.0, 1.0, rings);
    });
  }
  return sum;
}

double along_path(const OutlinePath& path, const std::function<double(const PathPiece&, double)>& f) {
  double sum = 0.0;
  for (const PathPiece& piece : path) {
    sum += piece.length() * integrate([&](double t) { return f(piece, t); }, 0.0, 1.0, divisions(piece));
  }
  return sum;
}

}  // namespace culmwright
