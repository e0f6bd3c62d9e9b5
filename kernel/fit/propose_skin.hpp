#pragma once
/// The tube in a table, every 10 mm along and every degree around, for the search: quick and good to 0.1 mm;
/// the rules measure exactly afterwards. Internal to proposing.
#include <array>
#include <vector>

#include "tube/tube.hpp"

namespace culmwright {

class SkinTable {
 public:
  explicit SkinTable(const Tube& tube);

  struct Ring {
    double at = 0.0;
    double girth = 0.0;
    double line_arc = 0.0;            ///< arc from θ = 0 to the reference line
    double mass_before = 0.0;         ///< g, from end A to here
    double moment_before = 0.0;       ///< g · at
    std::array<double, 361> arc{};    ///< from θ = 0 to θ = i°
    std::array<double, 361> polar{};  ///< direction of the skin's point from the z axis, degrees, rising
    std::array<double, 360> support{};
    std::array<double, 360> wall{};
    std::array<double, 360> curvature{};  ///< radius
    double mean_radius() const { return girth / (2.0 * pi); }
    double width(double theta_degrees) const;
  };

  const std::vector<Ring>& rings() const { return rings_; }
  const Ring& nearest(double at) const;
  /// θ of the normal, in degrees [0, 360), at a place `around` from the key line of `facing` in the tube's
  /// own sense.
  double theta(const Ring& ring, Angle facing, double around_on_tube) const;
  /// Arc from the reference line at that place, within half a girth.
  double around(const Ring& ring, Angle facing, double around_on_tube) const;

  double least_curvature() const { return least_curvature_; }
  double mean_curvature() const { return mean_curvature_; }
  double least_girth() const { return least_girth_; }
  double greatest_girth() const { return greatest_girth_; }

  /// Mass and moment (g · at) of the bare tube between two places; 0 where the density is unknown.
  struct Weight {
    double mass_g = 0.0;
    double moment = 0.0;
  };
  Weight between(double from_at, double to_at) const;

 private:
  Weight before(double at) const;
  std::vector<Ring> rings_;
  double step_ = 10.0;
  double least_curvature_ = 1e300;
  double mean_curvature_ = 0.0;
  double least_girth_ = 1e300;
  double greatest_girth_ = 0.0;
};

}  // namespace culmwright
