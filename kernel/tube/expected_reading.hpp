#pragma once
/// What a reading should say by all the others, so that a slip is heard while the instrument is still in the
/// hand. Works on a survey that is half done.
#include <optional>

#include "tube/survey.hpp"

namespace culmwright {

/// A reading and the standard deviation with which it is expected, its own instrument's error included.
struct ExpectedReading {
  double value = 0.0;
  double sigma = 0.0;
  /// Whether a reading stands farther off than three standard deviations.
  bool surprised_by(double read) const;
};

/// By the fit of the readings so far where they suffice for one; else, of a girth or width, by the other
/// girths and widths of the piece, within the taper and ovality that natural tubes have. None where nothing
/// is known yet. `at` must lie on the tube.
std::optional<ExpectedReading> expected_girth(const Survey& so_far, double at);
std::optional<ExpectedReading> expected_width(const Survey& so_far, double at, Angle facing);
/// Precondition: the survey has plates.
std::optional<ExpectedReading> expected_height(const Survey& so_far, double at, int flat);
/// Negative on a convex side.
std::optional<ExpectedReading> expected_gap(const Survey& so_far, double at, Angle facing);
std::optional<ExpectedReading> expected_wall(const Survey& so_far, double at);
/// By volume and what such material weighs; none where the readings do not suffice for a volume.
std::optional<ExpectedReading> expected_mass_g(const Survey& so_far);

}  // namespace culmwright
