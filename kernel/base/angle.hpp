#pragma once
/// An angle that says its unit where it is made and where it is read. Inside: radians, double.
#include <cmath>

namespace culmwright {

constexpr double pi = 3.14159265358979323846;

class Angle {
 public:
  constexpr Angle() = default;
  static constexpr Angle from_radians(double value) { return Angle(value); }
  static constexpr Angle from_degrees(double value) { return Angle(value * (pi / 180.0)); }

  constexpr double radians() const { return radians_; }
  constexpr double degrees() const { return radians_ * (180.0 / pi); }
  double cos() const { return std::cos(radians_); }
  double sin() const { return std::sin(radians_); }

  /// The same direction in (−π, π].
  Angle normalized() const {
    double turned = std::remainder(radians_, 2.0 * pi);
    return Angle(turned <= -pi ? turned + 2.0 * pi : turned);
  }

  constexpr Angle operator-() const { return Angle(-radians_); }
  constexpr Angle operator+(Angle other) const { return Angle(radians_ + other.radians_); }
  constexpr Angle operator-(Angle other) const { return Angle(radians_ - other.radians_); }
  constexpr Angle operator*(double factor) const { return Angle(radians_ * factor); }
  constexpr bool operator==(Angle other) const { return radians_ == other.radians_; }
  constexpr bool operator<(Angle other) const { return radians_ < other.radians_; }

 private:
  explicit constexpr Angle(double radians) : radians_(radians) {}
  double radians_ = 0.0;
};

}  // namespace culmwright
