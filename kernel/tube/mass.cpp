#include "tube/mass.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/numeric.hpp"

namespace culmwright {

namespace {

/// Sections are smooth and periodic: 48 equal steps integrate orders up to 15 exactly.
constexpr int around_steps = 48;
/// Along the tube, pieces no longer than this, five Gauss points each.
constexpr double along_piece = 25.0;

/// Area and its first moments inside a support curve: ½∮(p·n) ds and ⅓∮ p (p·n) ds.
template <class Support>
void add_area(const Support& support, double sign, double& area, Vec2& moment) {
  for (int i = 0; i < around_steps; ++i) {
    const Angle theta = Angle::from_degrees(360.0 * i / around_steps);
    const SurfaceJet h = support(theta);
    const double ds = (h.f + h.f_tt) * 2.0 * pi / around_steps;
    area += sign * 0.5 * h.f * ds;
    moment = moment + (direction(theta) * h.f + tangent(theta) * h.f_t) * (sign * h.f * ds / 3.0);
  }
}

void add_section(const Tube& tube, double at, double weight, WallMoments& sum) {
  const Section section = tube.section(at);
  double area = 0.0;
  Vec2 moment;
  add_area([&](Angle t) { return section.support(t); }, 1.0, area, moment);
  add_area([&](Angle t) { return section.bore_support(t); }, -1.0, area, moment);
  sum.volume += weight * area;
  sum.at += weight * area * at;
  sum.at_at += weight * area * at * at;
  sum.x += weight * moment.x;
  sum.y += weight * moment.y;
}

void add_diaphragm(const Tube& tube, const Node& node, WallMoments& sum) {
  const Section section = tube.section(node.at());
  double area = 0.0;
  Vec2 moment;
  add_area([&](Angle t) { return section.bore_support(t); }, 1.0, area, moment);
  const Vec2 centre = moment * (1.0 / area);
  if (node.pierced_diameter) {
    area = std::max(0.0, area - 0.25 * pi * *node.pierced_diameter * *node.pierced_diameter);
  }
  const double volume = area * node.diaphragm;
  sum.volume += volume;
  sum.at += volume * node.at();
  sum.at_at += volume * (node.at() * node.at() + node.diaphragm * node.diaphragm / 12.0);
  sum.x += volume * centre.x;
  sum.y += volume * centre.y;
}

/// Where the shape's formula changes: knots and the edges of ridges.
std::vector<double> breaks(const Tube& tube, double from_at, double to_at) {
  std::vector<double> at{from_at, to_at};
  for (const auto* field : {&tube.shape().skin, &tube.shape().wall}) {
    for (const auto& term : field->terms()) {
      at.insert(at.end(), term.cosine.knots().begin(), term.cosine.knots().end());
    }
  }
  for (const Node& node : tube.nodes()) {
    if (node.ridge_height <= 0.0) continue;
    const double half_slant = 0.5 * std::abs(node.at_line - node.at_far);
    for (double side : {-1.0, 1.0}) {
      for (double slant : {-half_slant, half_slant}) at.push_back(node.at() + side * 0.5 * node.band + slant);
    }
  }
  std::sort(at.begin(), at.end());
  std::vector<double> inside;
  for (double x : at) {
    if (x < from_at || x > to_at || (!inside.empty() && x - inside.back() < 1e-6)) continue;
    inside.push_back(x);
  }
  return inside;
}

}  // namespace

WallMoments wall_moments(const Tube& tube, double from_at, double to_at) {
  WallMoments sum;
  const std::vector<double> at = breaks(tube, from_at, to_at);
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    const int pieces = std::max(1, static_cast<int>(std::ceil((at[i + 1] - at[i]) / along_piece)));
    const double step = (at[i + 1] - at[i]) / pieces;
    for (int p = 0; p < pieces; ++p) {
      const double a = at[i] + p * step;
      constexpr double x[3] = {0.0, 0.53846931010568309104, 0.90617984593866399280};
      constexpr double w[3] = {0.56888888888888888889, 0.47862867049936646804, 0.23692688505618908751};
      for (int k = -2; k <= 2; ++k) {
        const int j = std::abs(k);
        add_section(tube, a + 0.5 * step * (1.0 + (k < 0 ? -x[j] : x[j])), 0.5 * step * w[j], sum);
      }
    }
  }
  for (const Node& node : tube.nodes()) {
    if (node.at() > from_at && node.at() < to_at) add_diaphragm(tube, node, sum);
  }
  return sum;
}

WallMoments wall_moments(const Tube& tube) {
  return wall_moments(tube, tube.end_a_at(), tube.end_b_at());
}

void set_density(TubeShape& shape, const Survey& survey) {
  if (!survey.mass_g) return;
  const WallMoments m = wall_moments(Tube(shape));
  if (!survey.balance_at) {
    shape.density = *survey.mass_g / m.volume;
    return;
  }
  // mass = ρ₀ V + ρ₁ A,  mass · balance = ρ₀ M + ρ₁ B, with the moments about the middle of the piece.
  const double middle = 0.5 * (shape.end_a_at + shape.end_b_at);
  const double a = m.at - middle * m.volume;
  const double b = m.at_at - middle * m.at;
  const double determinant = m.volume * b - a * m.at;
  shape.density = (*survey.mass_g * b - a * *survey.mass_g * *survey.balance_at) / determinant;
  shape.density_slope =
      (m.volume * *survey.mass_g * *survey.balance_at - m.at * *survey.mass_g) / determinant;
}

std::optional<Mass> mass_of(const Tube& tube, double from_at, double to_at) {
  const double density = tube.shape().density;
  const double slope = tube.shape().density_slope;
  if (density <= 0.0) return std::nullopt;
  const WallMoments m = wall_moments(tube, from_at, to_at);
  const double middle = 0.5 * (tube.end_a_at() + tube.end_b_at());
  Mass mass;
  mass.mass_g = density * m.volume + slope * (m.at - middle * m.volume);
  const double at = (density * m.at + slope * (m.at_at - middle * m.at)) / mass.mass_g;
  mass.centre = {m.x / m.volume, m.y / m.volume, -at};
  return mass;
}

}  // namespace culmwright
