#include "plan/offset_field.hpp"

namespace culmwright {

Rise smooth_rise(double x) {
  if (x <= 0.0) return {0.0, 0.0};
  if (x >= 1.0) return {1.0, 0.0};
  const double x3 = x * x * x;
  const double rest = 1.0 - x;
  return {x3 * x * (35.0 - x * (84.0 - x * (70.0 - 20.0 * x))), 140.0 * x3 * rest * rest * rest};
}

Rise plateau(const Span& flat, double step, double x) {
  if (x < flat.from) {
    const Rise rise = smooth_rise(1.0 - (flat.from - x) / step);
    return {rise.value, rise.slope / step};
  }
  if (x > flat.to) {
    const Rise rise = smooth_rise(1.0 - (x - flat.to) / step);
    return {rise.value, -rise.slope / step};
  }
  return {1.0, 0.0};
}

OffsetJet OffsetField::operator()(double theta, double at) const {
  OffsetJet sum{level, 0.0, 0.0};
  for (const OffsetPatch& patch : patches) {
    const Rise along = plateau(patch.at, patch.at_step, at);
    if (along.value == 0.0) continue;
    const Rise around = patch.theta ? plateau(*patch.theta, patch.theta_step, theta) : Rise{1.0, 0.0};
    sum.value += patch.height * along.value * around.value;
    sum.by_theta += patch.height * along.value * around.slope;
    sum.by_at += patch.height * along.slope * around.value;
  }
  return sum;
}

}  // namespace culmwright
