#pragma once
/// Curves on the skin as they go onto paper: points (θ, at), θ in radians running on without a jump, so that
/// a curve across the back of the tube stays one curve.
#include <vector>

#include "tube/hole.hpp"

namespace culmwright {

struct SkinCurve {
  std::vector<Vec2> points;  ///< x = θ of the section normal, y = at
  bool closed = false;
};

/// The exact rim of a hole; the chords of 120 points are within 0.004 mm for holes up to 20 mm.
SkinCurve rim_curve(const Tube& tube, const Drilling& drilling, int count = 120);

/// The same of a hole that came out oval (tube/oval_rim.hpp).
SkinCurve oval_rim_curve(const Tube& tube, const Drilling& drilling, double across_along,
                         double across_around, int count = 120);

/// A rectangle with rounded corners in lengths of skin: `length` along the tube, `width` as arc in each
/// section, about the normal direction of its middle. Beyond the skin that is known (Tube::section) it is cut
/// off.
SkinCurve patch_curve(const Tube& tube, SkinPlace middle, double length, double width, double corner_radius);
/// An ellipse, measured in the same way.
SkinCurve oval_curve(const Tube& tube, SkinPlace middle, double length, double width);

/// Where the half plane through the z axis at `facing` meets the skin, ridges left out: 0 is the reference
/// line.
SkinCurve half_plane_curve(const Tube& tube, double at_from, double at_to, Angle facing);

/// A straight line of skin through `middle` along the tube, from `at_from` to `at_to`.
SkinCurve ruling_curve(const Tube& tube, SkinPlace middle, double at_from, double at_to);

/// Where a plane across the tube meets the skin, from θ = from to θ = to: square to the axis at `at`, or
/// leaning by `tilt` as EndTilt says, `sense` −1 at end A and +1 at end B.
SkinCurve ring_curve(const Tube& tube, double at, Angle from, Angle to,
                     const std::optional<EndTilt>& tilt = {}, double sense = 1.0);

/// The middle of a node's ridge, moved by `shift` along the tube.
SkinCurve ridge_curve(const Node& node, double shift, Angle from, Angle to);

}  // namespace culmwright
