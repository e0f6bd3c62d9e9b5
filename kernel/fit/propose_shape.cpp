#include "fit/propose_shape.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace culmwright {

namespace {

struct Turns {
  std::array<double, FlatOutline::steps + 1> cosine{}, sine{};
  Turns() {
    for (std::size_t i = 0; i < cosine.size(); ++i) {
      const Angle alpha = Angle::from_degrees(static_cast<double>(i));
      cosine[i] = alpha.cos();
      sine[i] = alpha.sin();
    }
    cosine.back() = 0.0;
  }
};

const Turns& turns() {
  static const Turns table;
  return table;
}

/// Which way a distance is sought, and which is given.
enum class Way { along, around };

Vec2 apart(Way way, double sought, double given) {
  return way == Way::along ? Vec2{sought, given} : Vec2{given, sought};
}

/// The least distance from which on the gap is at least `limit` whatever its direction; none: always.
std::optional<double> needed_for(const FlatOutline& a, const FlatOutline& b, double given, double limit,
                                 Way way) {
  double least = 1e300;
  for (int i = 0; i <= FlatOutline::steps; ++i) {
    const auto k = static_cast<std::size_t>(i);
    const double of_sought = way == Way::along ? turns().cosine[k] : turns().sine[k];
    const double of_given = way == Way::along ? turns().sine[k] : turns().cosine[k];
    const double missing = limit + a.support(i) + b.support(i) - given * of_given;
    if (missing <= 0.0) return std::nullopt;
    if (of_sought > 0.0) least = std::min(least, missing / of_sought);
  }
  return least + 1e-9;  // rounding must not leave it short
}

/// From where both limits are kept it goes nearer as long as the outlines stay clear: of two different limits
/// only one applies at a time.
std::optional<double> needed(const FlatOutline& a, const FlatOutline& b, double given, RoomWanted clearance,
                             Way way) {
  const auto safe = needed_for(a, b, given, std::max(clearance.along, clearance.around), way);
  if (!safe || clearance.along == clearance.around) return safe;
  constexpr double step = 0.1;
  double clear = *safe;
  while (true) {
    const double next = clear - step;
    if (next < 0.0) {
      if (clear_of(a, b, apart(way, 0.0, given), clearance)) return std::nullopt;
      break;
    }
    if (!clear_of(a, b, apart(way, next, given), clearance)) break;
    clear = next;
  }
  double broken = std::max(clear - step, 0.0);
  while (clear - broken > 1e-3) {
    const double middle = 0.5 * (clear + broken);
    (clear_of(a, b, apart(way, middle, given), clearance) ? clear : broken) = middle;
  }
  return clear;
}

}  // namespace

FlatOutline FlatOutline::of_hole(double radius, double skin_radius) {
  FlatOutline outline;
  constexpr int count = 24;
  const auto rim = [&](Angle phi) {
    const double sine = std::clamp(radius * phi.sin() / skin_radius, -1.0, 1.0);
    return Vec2{radius * phi.cos(), skin_radius * std::asin(sine)};
  };
  for (int i = 0; i < count; ++i) outline.points_.push_back(rim(Angle::from_degrees(360.0 * i / count)));
  constexpr int quarter = 180;
  for (int j = 0; j <= quarter; ++j) {
    const Vec2 p = rim(Angle::from_degrees(90.0 * j / quarter));
    for (std::size_t i = 0; i < outline.support_.size(); ++i) {
      outline.support_[i] = std::max(outline.support_[i], p.x * turns().cosine[i] + p.y * turns().sine[i]);
    }
  }
  return outline;
}

FlatOutline FlatOutline::of_patch(double length, double width, double corner_radius) {
  FlatOutline outline;
  const double corner = std::min(corner_radius, 0.5 * std::min(length, width));
  const Vec2 middle{0.5 * length - corner, 0.5 * width - corner};
  for (std::size_t i = 0; i < outline.support_.size(); ++i) {
    outline.support_[i] = middle.x * turns().cosine[i] + middle.y * turns().sine[i] + corner;
  }
  for (int i = 0; i < 24; ++i) {
    const Angle alpha = Angle::from_degrees(15.0 * i + 7.5);
    const double v = std::copysign(middle.x, alpha.cos()) + corner * alpha.cos();
    const double u = std::copysign(middle.y, alpha.sin()) + corner * alpha.sin();
    outline.points_.push_back({v, u});
  }
  // The outermost points along and around, which the directions above miss.
  for (const Vec2 side : {Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) {
    outline.points_.push_back({side.x * 0.5 * length, side.y * 0.5 * width});
  }
  return outline;
}

bool clear_of(const FlatOutline& a, const FlatOutline& b, Vec2 between, RoomWanted clearance) {
  double gap = -1e300;
  std::size_t direction = 0;
  for (std::size_t i = 0; i <= FlatOutline::steps; ++i) {
    const double reach = a.support(static_cast<int>(i)) + b.support(static_cast<int>(i));
    const double value = between.x * turns().cosine[i] + between.y * turns().sine[i] - reach;
    if (value > gap) {
      gap = value;
      direction = i;
    }
  }
  return gap >= (direction <= 45 ? clearance.along : clearance.around);
}

std::optional<double> needed_along(const FlatOutline& a, const FlatOutline& b, double around,
                                   RoomWanted clearance) {
  return needed(a, b, around, clearance, Way::along);
}

std::optional<double> needed_around(const FlatOutline& a, const FlatOutline& b, double along,
                                    RoomWanted clearance) {
  return needed(a, b, along, clearance, Way::around);
}

}  // namespace culmwright
