#pragma once
/// A smooth distance over the skin, as a function of direction θ and place along the tube: how far a guide's
/// face stands off, with its pads, reliefs and strap grooves.
#include <optional>
#include <vector>

namespace culmwright {

/// From → to of one coordinate, millimetres or radians.
struct Span {
  double from = 0.0;
  double to = 0.0;
  double middle() const { return 0.5 * (from + to); }
  double length() const { return to - from; }
  bool contains(double x) const { return x >= from && x <= to; }
};

/// Value and slope of a smooth function of one variable.
struct Rise {
  double value = 0.0;
  double slope = 0.0;
};

/// 0 below 0, 1 above 1, between them 35x⁴ − 84x⁵ + 70x⁶ − 20x⁷: three times continuously differentiable.
Rise smooth_rise(double x);
/// 1 on the span, falling to 0 over `step` on both sides of it.
Rise plateau(const Span& flat, double step, double x);

/// A height that is full on a rectangle of the skin and fades over a step around it. Without `theta` it runs
/// all around. θ in radians, unwrapped: near the middle of the guide it belongs to.
struct OffsetPatch {
  double height = 0.0;
  Span at;
  double at_step = 1.0;
  std::optional<Span> theta;
  double theta_step = 1.0;
};

/// Distance from the skin in the section, and its derivatives by θ and by `at`.
struct OffsetJet {
  double value = 0.0;
  double by_theta = 0.0;
  double by_at = 0.0;
};

struct OffsetField {
  double level = 0.0;
  std::vector<OffsetPatch> patches;  ///< added to the level
  OffsetJet operator()(double theta, double at) const;
};

}  // namespace culmwright
