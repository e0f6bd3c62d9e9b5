#pragma once
/// Plain vectors of the plane and of space, and rigid motions. Lengths in millimetres.
#include <array>
#include <cmath>

namespace culmwright {

struct Vec2 {
  double x = 0.0;
  double y = 0.0;
};
constexpr Vec2 operator+(Vec2 a, Vec2 b) {
  return {a.x + b.x, a.y + b.y};
}
constexpr Vec2 operator-(Vec2 a, Vec2 b) {
  return {a.x - b.x, a.y - b.y};
}
constexpr Vec2 operator*(Vec2 a, double f) {
  return {a.x * f, a.y * f};
}
constexpr double dot(Vec2 a, Vec2 b) {
  return a.x * b.x + a.y * b.y;
}
constexpr double cross(Vec2 a, Vec2 b) {
  return a.x * b.y - a.y * b.x;
}
inline double length(Vec2 a) {
  return std::hypot(a.x, a.y);
}
/// The direction of `a`; precondition: a is not zero.
inline Vec2 unit(Vec2 a) {
  return a * (1.0 / length(a));
}

struct Vec3 {
  double x = 0.0;
  double y = 0.0;
  double z = 0.0;
};
constexpr Vec3 operator+(Vec3 a, Vec3 b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
constexpr Vec3 operator-(Vec3 a, Vec3 b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
constexpr Vec3 operator-(Vec3 a) {
  return {-a.x, -a.y, -a.z};
}
constexpr Vec3 operator*(Vec3 a, double f) {
  return {a.x * f, a.y * f, a.z * f};
}
constexpr double dot(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vec3 a) {
  return std::sqrt(dot(a, a));
}
/// The direction of `a`; precondition: a is not zero.
inline Vec3 unit(Vec3 a) {
  return a * (1.0 / length(a));
}

/// A rigid motion: p ↦ p.x · x + p.y · y + p.z · z + origin. The columns are orthonormal and right-handed.
struct RigidMotion {
  Vec3 x{1, 0, 0};
  Vec3 y{0, 1, 0};
  Vec3 z{0, 0, 1};
  Vec3 origin{};

  constexpr Vec3 turn(Vec3 v) const { return x * v.x + y * v.y + z * v.z; }
  constexpr Vec3 apply(Vec3 p) const { return turn(p) + origin; }
  constexpr RigidMotion inverse() const {
    RigidMotion back{{x.x, y.x, z.x}, {x.y, y.y, z.y}, {x.z, y.z, z.z}, {}};
    back.origin = -back.turn(origin);
    return back;
  }
  /// The motion that first does `first`, then this.
  constexpr RigidMotion after(const RigidMotion& first) const {
    return {turn(first.x), turn(first.y), turn(first.z), apply(first.origin)};
  }
  /// Row by row, as a record prints it.
  constexpr std::array<double, 16> matrix() const {
    return {x.x, y.x, z.x, origin.x, x.y, y.y, z.y, origin.y, x.z, y.z, z.z, origin.z, 0, 0, 0, 1};
  }
};

}  // namespace culmwright
