#include "paper/development.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"

namespace culmwright {

namespace {

constexpr int cells = 360;
constexpr double cell = 2.0 * pi / cells;

Vec2 rotated(Vec2 v, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {v.x * c - v.y * s, v.x * s + v.y * c};
}

/// Straight line through samples of one coefficient: value at the first, and slope.
struct Fitted {
  double value = 0.0;
  double slope = 0.0;
};
Fitted straight_through(const std::vector<double>& at, const std::vector<double>& value) {
  double mean_at = 0.0;
  double mean = 0.0;
  const double n = static_cast<double>(at.size());
  for (std::size_t i = 0; i < at.size(); ++i) {
    mean_at += at[i] / n;
    mean += value[i] / n;
  }
  double above = 0.0;
  double below = 0.0;
  for (std::size_t i = 0; i < at.size(); ++i) {
    above += (at[i] - mean_at) * (value[i] - mean);
    below += (at[i] - mean_at) * (at[i] - mean_at);
  }
  const double slope = above / below;
  return {mean + slope * (at.front() - mean_at), slope};
}

}  // namespace

Development Development::fit(const Tube& tube, double at_from, double at_to, double paper_thickness) {
  require(at_from < at_to && paper_thickness >= 0.0, "a development needs a run that goes from A toward B");
  Development net(tube);
  net.at_from_ = at_from;
  net.at_to_ = at_to;
  net.half_thickness_ = 0.5 * paper_thickness;
  net.fit_terms();
  net.integrate_edge();
  net.lay_straight();
  net.measure_error();
  return net;
}

void Development::fit_terms() {
  constexpr int samples = 201;
  std::vector<double> at;
  std::vector<FourierSection> sections;
  for (int i = 0; i < samples; ++i) {
    at.push_back(at_from_ + (at_to_ - at_from_) * i / (samples - 1));
    sections.push_back(tube_.shape().skin.section(at.back()));
  }
  for (std::size_t t = 0; t < sections.front().terms().size(); ++t) {
    std::vector<double> cosine;
    std::vector<double> sine;
    for (const FourierSection& section : sections) {
      cosine.push_back(section.terms()[t].cosine.value);
      sine.push_back(section.terms()[t].sine.value);
    }
    const int order = sections.front().terms()[t].order;
    const Fitted c = straight_through(at, cosine);
    const Fitted s = order == 0 ? Fitted{} : straight_through(at, sine);
    terms_.push_back({order, c.value, s.value, c.slope, s.slope});
  }
}

Development::Jets Development::jets(double theta) const {
  Jets j;
  for (const Term& term : terms_) {
    const double k = term.order;
    const double c = std::cos(k * theta);
    const double s = std::sin(k * theta);
    const double h = term.cosine * c + term.sine * s;
    const double slope = term.cosine_slope * c + term.sine_slope * s;
    j.H += h;
    j.H_t += k * (term.sine * c - term.cosine * s);
    j.H_tt -= k * k * h;
    j.k += slope;
    j.k_t += k * (term.sine_slope * c - term.cosine_slope * s);
    j.k_tt -= k * k * slope;
  }
  // The paper's middle surface lies half its thickness outside: H = h + c w.
  j.w = std::sqrt(1.0 + j.k * j.k);
  j.H += half_thickness_ * j.w;
  j.H_t += half_thickness_ * j.k * j.k_t / j.w;
  j.H_tt += half_thickness_ *
            ((j.k_t * j.k_t + j.k * j.k_tt) / j.w - j.k * j.k * j.k_t * j.k_t / (j.w * j.w * j.w));
  j.ruling = std::sqrt(1.0 + j.k * j.k + j.k_t * j.k_t);
  return j;
}

double Development::turning(double theta) const {
  const Jets j = jets(theta);
  return -(j.k + j.k_tt) * j.w / (j.ruling * j.ruling);
}

double Development::turned(double theta, int index) const {
  const double from = start_ + cell * index;
  return edges_[static_cast<std::size_t>(index)].phi +
         integrate([&](double t) { return turning(t); }, from, theta, 1);
}

void Development::integrate_edge() {
  start_ = line(at_from_).radians() - pi;
  edges_.assign(1, {});
  for (int i = 0; i < cells; ++i) edges_.push_back(edge(start_ + cell * (i + 1)));
}

Development::Edge Development::edge(double theta) const {
  // While the table is built it is read one cell past its end; later, whole turns are taken off first.
  const int known = static_cast<int>(edges_.size()) - 1;
  const int index =
      known < cells ? known : std::clamp(static_cast<int>((theta - start_) / cell), 0, cells - 1);
  const double from = start_ + cell * index;
  const auto rate = [&](double t, bool horizontal) {
    const Jets j = jets(t);
    const double phi = turned(t, index);
    const double scale = (j.H + j.H_tt) / j.ruling;
    return scale * (horizontal ? j.w * std::cos(phi) - j.k_t * std::sin(phi)
                               : j.w * std::sin(phi) + j.k_t * std::cos(phi));
  };
  const Vec2 step{integrate([&](double t) { return rate(t, true); }, from, theta, 1),
                  integrate([&](double t) { return rate(t, false); }, from, theta, 1)};
  return {turned(theta, index), edges_[static_cast<std::size_t>(index)].x + step};
}

Vec2 Development::before_laying(Ray ray) const {
  const double turns = std::floor((ray.theta.radians() - start_) / (2.0 * pi));
  const double theta = ray.theta.radians() - 2.0 * pi * turns;
  const Edge here = edge(theta);
  const Vec2 ruling{-std::sin(here.phi), std::cos(here.phi)};
  Vec2 x = here.x + ruling * (jets(theta).ruling * (ray.at - at_from_));
  // A whole turn is a motion of the plane: by the turn's own angle, then to the turn's end.
  const Edge whole = edges_.back();
  for (double k = turns; k > 0.0; k -= 1.0) x = rotated(x, whole.phi) + whole.x;
  for (double k = turns; k < 0.0; k += 1.0) x = rotated(x - whole.x, -whole.phi);
  return x;
}

void Development::lay_straight() {
  const Vec2 top = before_laying({line(at_from_), at_from_});
  const Vec2 foot = before_laying({line(at_to_), at_to_});
  laid_ = Angle::from_radians(std::atan2(foot.x - top.x, foot.y - top.y));
  moved_ = rotated(top, laid_.radians()) * -1.0;
}

Vec2 Development::unroll(Ray ray) const {
  return rotated(before_laying(ray), laid_.radians()) + moved_;
}

Vec2 Development::unroll(SkinPlace place) const {
  return unroll(Ray{tube_.section(place.at).theta_at(place.around), place.at});
}

Development::Ray Development::ray_at(Vec2 point) const {
  const double mean = girth(0.5 * (at_from_ + at_to_)) / (2.0 * pi);
  Ray ray{line(at_from_) + Angle::from_radians(point.x / mean), at_from_ + point.y};
  for (int i = 0; i < 50; ++i) {
    const Vec2 miss = point - unroll(ray);
    // ∂X/∂at is the ruling; ∂X/∂θ the section's tangent, whose length is the radius of curvature there.
    const double theta = ray.theta.radians();
    const Jets j = jets(theta);
    const Vec2 by_at = unroll({ray.theta, ray.at + 1.0}) - unroll(ray);
    const Vec2 e = by_at * (1.0 / j.ruling);
    const Vec2 m{e.y, -e.x};
    const double radius = j.H + j.H_tt + (j.k + j.k_tt) * (ray.at - at_from_);
    const Vec2 by_theta = (e * j.k_t + m * j.w) * (radius / j.ruling);
    const double area = cross(by_theta, by_at);
    const double d_theta = cross(miss, by_at) / area;
    const double d_at = cross(by_theta, miss) / area;
    ray.theta = ray.theta + Angle::from_radians(std::clamp(d_theta, -1.0, 1.0));
    ray.at += d_at;
    if (std::abs(d_theta) < 1e-14 && std::abs(d_at) < 1e-12) break;
  }
  return ray;
}

SkinPlace Development::roll(Vec2 point) const {
  const Ray ray = ray_at(point);
  const Section section = tube_.section(ray.at);
  return {ray.at, section.arc(section.line(), ray.theta)};
}

Vec3 Development::on_paper(Ray ray) const {
  const Jets j = jets(ray.theta.radians());
  const double along = ray.at - at_from_;
  const Vec2 p = direction(ray.theta) * (j.H + j.k * along) + tangent(ray.theta) * (j.H_t + j.k_t * along);
  return {p.x, p.y, -ray.at};
}

Angle Development::line(double at) const {
  return line(at, Angle());
}

Angle Development::line(double at, Angle facing) const {
  return smooth_line(tube_.section(at), facing);
}

double Development::girth(double at) const {
  return integrate(
      [&](double t) {
        const Jets j = jets(t);
        return j.H + j.k * (at - at_from_);
      },
      0.0, 2.0 * pi, 24);
}

Angle smooth_line(const Section& section, Angle facing) {
  // p(θ) · t(facing) = 0 with p = h n + h′ t; its slope in θ is (h + h″) cos(θ − facing).
  double theta = section.theta_on_half_plane(facing).radians();
  for (int i = 0; i < 40; ++i) {
    const Angle here = Angle::from_radians(theta);
    const SurfaceJet h = section.base_support(here);
    const Vec2 p = direction(here) * h.f + tangent(here) * h.f_t;
    const double slope = std::max(h.f + h.f_tt, 1e-3) * std::max((here - facing).cos(), 0.2);
    const double step = dot(p, tangent(facing)) / slope;
    theta -= std::clamp(step, -0.3, 0.3);
    if (std::abs(step) < 1e-14) break;
  }
  return Angle::from_radians(theta);
}

double gaussian_curvature(const Tube& tube, double at, Angle theta) {
  const SurfaceJet h = tube.section(at).base_support(theta);
  const double w = 1.0 + h.f_s * h.f_s;
  return -h.f_ss / ((h.f + h.f_tt) * w * w);
}

}  // namespace culmwright
