#pragma once
/// Volume and mass of the whole piece, end A to end B: wall, ridges and diaphragms (pierced or not), no
/// holes. By quadrature over sections; relative accuracy 1e-6. Lengths in millimetres, mass in grams.
#include <optional>

#include "tube/tube.hpp"

namespace culmwright {

/// Moments of the material: ∫dV, ∫at dV, ∫at² dV, ∫x dV, ∫y dV.
struct WallMoments {
  double volume = 0.0;
  double at = 0.0;
  double at_at = 0.0;
  double x = 0.0;
  double y = 0.0;
};

WallMoments wall_moments(const Tube& tube);
/// Between two places along the tube.
WallMoments wall_moments(const Tube& tube, double from_at, double to_at);

/// Sets the effective density from the weighed mass, and its slope along the tube from the balance point,
/// where the survey has them; otherwise leaves them 0. With density ρ(at) = ρ₀ + ρ₁ (at − middle): mass = ∫ρ
/// dV, balance = ∫ρ at dV / mass.
void set_density(TubeShape& shape, const Survey& survey);

struct Mass {
  double mass_g = 0.0;
  Vec3 centre;  ///< in the tube's frame
};
/// From the tube's density; nothing when the density is unknown.
std::optional<Mass> mass_of(const Tube& tube, double from_at, double to_at);

}  // namespace culmwright
