#include "plan/skin_chart.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

SkinChart::SkinChart(Tube tube, SkinPlace middle) : tube_(std::move(tube)), at_(middle.at) {
  theta_ = tube_.section(at_).theta_at(middle.around);
}

Angle SkinChart::theta(const Section& section, double y) const {
  const auto radius = [&](double t) {
    const SurfaceJet h = section.support(Angle::from_radians(t));
    return std::max(h.f + h.f_tt, 1e-3 * h.f);
  };
  double t = theta_.radians();
  t += y / radius(t);
  for (int i = 0; i < 40; ++i) {
    const double step = (section.arc(theta_, Angle::from_radians(t)) - y) / radius(t);
    t -= std::clamp(step, -0.5, 0.5);
    if (std::abs(step) < 1e-13) break;
  }
  return Angle::from_radians(t);
}

Angle SkinChart::theta(Vec2 xy) const {
  return theta(section(xy.x), xy.y);
}

Vec3 SkinChart::point(const Section& section, Angle theta, double c) {
  const SurfaceJet h = section.support(theta);
  const Vec2 p = direction(theta) * (h.f + c) + tangent(theta) * h.f_t;
  return {p.x, p.y, -section.at()};
}

Vec3 SkinChart::point(Vec2 xy, double c) const {
  const Section cut = section(xy.x);
  return point(cut, theta(cut, xy.y), c);
}

SkinChart::Place SkinChart::place(Vec3 p) const {
  const double reach = tube_.shape().beyond;
  const double at = std::clamp(-p.z, tube_.end_a_at() - reach, tube_.end_b_at() + reach);
  const Section cut = tube_.section(at);
  Angle theta;
  Place place;
  place.c = cut.outside({p.x, p.y}, &theta);
  theta = theta_ + (theta - theta_).normalized();
  const SurfaceJet h = cut.support(theta);
  place.xy = {-p.z - at_, cut.arc(theta_, theta)};
  place.radius = h.f + h.f_tt;
  place.slope = h.f_s;
  place.normal = direction(theta);
  return place;
}

SkinChart::Place SkinChart::place(Vec2 xy, double c) const {
  const Section cut = section(xy.x);
  const Angle t = theta(cut, xy.y);
  const SurfaceJet h = cut.support(t);
  return {xy, c, h.f + h.f_tt, h.f_s, direction(t)};
}

}  // namespace culmwright
