#pragma once
/// Repeatable random numbers. The standard library's distributions differ between libraries, a draw must not;
/// its generator does not.
#include <cmath>
#include <random>

#include "base/angle.hpp"
#include "base/vec.hpp"

namespace culmwright {

/// The same numbers for the same seed, everywhere.
class Draws {
 public:
  explicit Draws(unsigned seed) : generator_(seed) {}

  /// In [0, 1).
  double uniform() { return static_cast<double>(generator_()) / 4294967296.0; }

  /// Mean 0, standard deviation 1, by Box and Muller.
  double normal() {
    const double u = (static_cast<double>(generator_()) + 1.0) / 4294967297.0;
    const double v = uniform();
    return std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * pi * v);
  }

  /// Anywhere within a circle, evenly.
  Vec2 in_circle(double radius) {
    const double r = radius * std::sqrt(uniform());
    const double phi = 2.0 * pi * uniform();
    return {r * std::cos(phi), r * std::sin(phi)};
  }

 private:
  std::mt19937 generator_;
};

}  // namespace culmwright
