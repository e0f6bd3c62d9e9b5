#include "paper/wrap_relief.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

constexpr double turn = 2.0 * pi;
constexpr double lowest_ridge = 0.1;
constexpr double beyond_band = 2.0;
constexpr double shortest = 1.0;
constexpr double clear_of_lines = 2.5;
constexpr double clear_of_features = 1.5;

/// The slit at θ, reaching that far beyond the band, cut to the run.
SkinCurve slit(const Net& net, const Node& node, double theta, double beyond) {
  const Box window = net.window();
  const double middle = node.at() + 0.5 * (node.at_line - node.at_far) * std::cos(theta);
  const double half = 0.5 * node.band + beyond;
  const double from = std::clamp(middle - half, window.top, window.bottom);
  const double to = std::clamp(middle + half, window.top, window.bottom);
  return {{{theta, from}, {theta, to}}, false};
}

bool meets(const SkinCurve& slit, const Feature& feature, double radius) {
  const Box span = span_of(feature);
  const double theta = slit.points[0].x;
  const double away = std::abs(std::remainder(theta - span.middle().x, turn)) - 0.5 * span.width();
  return away * radius < clear_of_features && span.top - clear_of_features < slit.points[1].y &&
         span.bottom + clear_of_features > slit.points[0].y;
}

}  // namespace

std::vector<SkinCurve> relief_cuts(const Net& net, const Node& node, const std::vector<Feature>& features,
                                   const std::vector<Angle>& upright_lines, double spacing) {
  if (node.ridge_height < lowest_ridge) return {};
  const Box window = net.window();
  const double radius = net.development().girth(std::clamp(node.at(), window.top, window.bottom)) / turn;
  const int count = std::max(3, static_cast<int>(std::ceil(turn * radius / spacing)));
  std::vector<SkinCurve> cuts;
  for (int i = 0; i < count; ++i) {
    // The first and last half a spacing from the seam.
    double theta = window.left + turn * (i + 0.5) / count;
    for (Angle line : upright_lines) {
      const double away = std::remainder(theta - line.radians(), turn) * radius;
      if (std::abs(away) < clear_of_lines) theta += (std::copysign(clear_of_lines, away) - away) / radius;
    }
    for (const double beyond : {beyond_band, 0.0}) {
      const SkinCurve cut = slit(net, node, theta, beyond);
      const auto in_the_way = [&](const Feature& feature) { return meets(cut, feature, radius); };
      if (cut.points[1].y - cut.points[0].y < shortest ||
          std::any_of(features.begin(), features.end(), in_the_way))
        continue;
      cuts.push_back(cut);
      break;
    }
  }
  return cuts;
}

double ridge_shortening(const Tube& tube, const Node& node, double at_from, double at_to) {
  constexpr int directions = 24;
  constexpr int steps = 80;
  double greatest = 0.0;
  for (int k = 0; k < directions; ++k) {
    const Angle theta = Angle::from_radians(turn * k / directions);
    const double middle = node.at() + 0.5 * (node.at_line - node.at_far) * theta.cos();
    const double from = std::max(at_from, middle - 0.5 * node.band);
    const double to = std::min(at_to, middle + 0.5 * node.band);
    if (to <= from) continue;
    double lost = 0.0;
    for (int i = 0; i < steps; ++i) {
      const Section section = tube.section(from + (to - from) * (i + 0.5) / steps);
      lost += std::hypot(1.0, section.support(theta).f_s) - std::hypot(1.0, section.base_support(theta).f_s);
    }
    greatest = std::max(greatest, lost * (to - from) / steps);
  }
  return greatest;
}

}  // namespace culmwright
