#pragma once
/// The rim of a hole that came out oval.
#include <vector>

#include "tube/hole.hpp"

namespace culmwright {

/// As `rim` (tube/hole.hpp), of a cylinder whose section is an ellipse: `across_along` and `across_around`
/// are its diameters across the axis, along the tube and around it. `count` points at equal steps of the
/// ellipse's own parameter. Of a round hole the same points.
std::vector<RimPoint> oval_rim(const Tube& tube, const Drilling& drilling, double across_along,
                               double across_around, int count);

}  // namespace culmwright
