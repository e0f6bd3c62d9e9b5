#pragma once
/// Outlines rolled out flat, and how far apart two of them must be. Internal to proposing.
///
/// A convex outline that is the same on all four sides is given by its support function
///
///     H(α) = max over its points of (v cos α + u sin α),  v along the tube, u around it, 0 ≤ α ≤ 90°.
///
/// With Δv, Δu ≥ 0 between the middles of two of them their gap is max over α of
///     Δv cos α + Δu sin α − H₁(α) − H₂(α)
/// and the α of the maximum is the direction of the shortest way. Steps of 1°: gaps are too small by at most
/// 1.6e-4 of the distance.
#include <array>
#include <optional>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

class FlatOutline {
 public:
  static constexpr int steps = 90;

  /// The rim of a hole of `radius` in a cylinder of `skin_radius`: v = r cos φ, u = R asin(r sin φ / R).
  static FlatOutline of_hole(double radius, double skin_radius);
  static FlatOutline of_patch(double length, double width, double corner_radius);

  double support(int degrees) const { return support_[static_cast<std::size_t>(degrees)]; }
  double half_along() const { return support_.front(); }
  double half_around() const { return support_.back(); }
  /// Points all round it, (v, u).
  const std::vector<Vec2>& points() const { return points_; }

 private:
  std::array<double, steps + 1> support_{};
  std::vector<Vec2> points_;
};

/// How far two outlines must be apart: by `along` where the shortest way runs along the grain (45° or less
/// from it), else by `around`.
struct RoomWanted {
  double along = 0.0;
  double around = 0.0;
};

bool clear_of(const FlatOutline& a, const FlatOutline& b, Vec2 between, RoomWanted clearance);

/// The least Δv from which on the two are clear, for this Δu (both unsigned), and the same the other way.
/// None: clear at any Δv. Accuracy 0.001 mm, to the safe side.
std::optional<double> needed_along(const FlatOutline& a, const FlatOutline& b, double around,
                                   RoomWanted clearance);
std::optional<double> needed_around(const FlatOutline& a, const FlatOutline& b, double along,
                                    RoomWanted clearance);

}  // namespace culmwright
