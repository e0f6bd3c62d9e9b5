#include "fit/propose_skin.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

constexpr double degree = pi / 180.0;

/// Where `value` stands in the rising list of 361, as a fractional index in [0, 360).
double index_of(const std::array<double, 361>& list, double value) {
  const double whole = list.back() - list.front();
  value = list.front() + std::fmod(std::fmod(value - list.front(), whole) + whole, whole);
  const auto above = std::upper_bound(list.begin() + 1, list.end() - 1, value);
  const auto i = static_cast<std::size_t>(above - list.begin());
  const double part = (value - list[i - 1]) / (list[i] - list[i - 1]);
  const double index = static_cast<double>(i - 1) + part;
  return index >= 360.0 ? 0.0 : index;
}

double value_at(const std::array<double, 361>& list, double index) {
  const auto i = std::min<std::size_t>(static_cast<std::size_t>(index), 359);
  return list[i] + (list[i + 1] - list[i]) * (index - static_cast<double>(i));
}

SkinTable::Ring ring_at(const Tube& tube, double at) {
  const Section section = tube.section(at);
  SkinTable::Ring ring;
  ring.at = at;
  double turned = 0.0;
  for (std::size_t i = 0; i < 360; ++i) {
    const Angle theta = Angle::from_degrees(static_cast<double>(i));
    const SurfaceJet h = section.support(theta);
    ring.support[i] = h.f;
    ring.curvature[i] = h.f + h.f_tt;
    ring.wall[i] = section.base_support(theta).f - section.bore_support(theta).f;
    const Vec2 p = direction(theta) * h.f + tangent(theta) * h.f_t;
    double polar = std::atan2(p.y, p.x) / degree;
    if (i > 0) turned += std::remainder(polar - ring.polar[i - 1], 360.0);
    ring.polar[i] = i == 0 ? polar : ring.polar[0] + turned;
  }
  ring.polar[360] = ring.polar[0] + 360.0;
  for (std::size_t i = 0; i < 360; ++i) {
    const double mean = 0.5 * (ring.curvature[i] + ring.curvature[(i + 1) % 360]);
    ring.arc[i + 1] = ring.arc[i] + mean * degree;
  }
  ring.girth = ring.arc[360];
  ring.line_arc = value_at(ring.arc, index_of(ring.polar, 0.0));
  return ring;
}

/// Grams in each millimetre of tube.
double mass_per_length(const Tube& tube, double at) {
  const double middle = 0.5 * (tube.end_a_at() + tube.end_b_at());
  const double density = tube.shape().density + tube.shape().density_slope * (at - middle);
  const Section section = tube.section(at);
  return density * (section.area() - section.bore_area());
}

}  // namespace

double SkinTable::Ring::width(double theta_degrees) const {
  const double turned = std::fmod(std::fmod(theta_degrees, 360.0) + 360.0, 360.0);
  const std::size_t i = static_cast<std::size_t>(std::lround(turned)) % 360;
  return support[i] + support[(i + 180) % 360];
}

SkinTable::SkinTable(const Tube& tube) {
  const int pieces = std::max(1, static_cast<int>(std::ceil(tube.length() / 10.0)));
  step_ = tube.length() / pieces;
  const bool weighed = tube.shape().density > 0.0;
  double before = 0.0;
  for (int i = 0; i <= pieces; ++i) {
    Ring ring = ring_at(tube, std::min(tube.end_a_at() + step_ * i, tube.end_b_at()));
    const double here = weighed ? mass_per_length(tube, ring.at) : 0.0;
    if (i > 0) {
      const Ring& last = rings_.back();
      const double mass = 0.5 * (before + here) * step_;
      ring.mass_before = last.mass_before + mass;
      ring.moment_before = last.moment_before + mass * 0.5 * (last.at + ring.at);
    }
    before = here;
    least_curvature_ =
        std::min(least_curvature_, *std::min_element(ring.curvature.begin(), ring.curvature.end()));
    mean_curvature_ += ring.mean_radius() / (pieces + 1);
    least_girth_ = std::min(least_girth_, ring.girth);
    greatest_girth_ = std::max(greatest_girth_, ring.girth);
    rings_.push_back(ring);
  }
}

const SkinTable::Ring& SkinTable::nearest(double at) const {
  const double index = std::round((at - rings_.front().at) / step_);
  const double last = static_cast<double>(rings_.size() - 1);
  return rings_[static_cast<std::size_t>(std::clamp(index, 0.0, last))];
}

double SkinTable::theta(const Ring& ring, Angle facing, double around_on_tube) const {
  const double key_line = value_at(ring.arc, index_of(ring.polar, facing.degrees()));
  return index_of(ring.arc, key_line + around_on_tube);
}

double SkinTable::around(const Ring& ring, Angle facing, double around_on_tube) const {
  const double key_line = value_at(ring.arc, index_of(ring.polar, facing.degrees()));
  return std::remainder(key_line + around_on_tube - ring.line_arc, ring.girth);
}

SkinTable::Weight SkinTable::before(double at) const {
  const double along =
      std::clamp((at - rings_.front().at) / step_, 0.0, static_cast<double>(rings_.size() - 1));
  const std::size_t i = std::min(static_cast<std::size_t>(along), rings_.size() - 2);
  const double part = along - static_cast<double>(i);
  const Ring& low = rings_[i];
  const Ring& high = rings_[i + 1];
  return {low.mass_before + part * (high.mass_before - low.mass_before),
          low.moment_before + part * (high.moment_before - low.moment_before)};
}

SkinTable::Weight SkinTable::between(double from_at, double to_at) const {
  const Weight to = before(to_at);
  const Weight from = before(from_at);
  return {to.mass_g - from.mass_g, to.moment - from.moment};
}

}  // namespace culmwright
