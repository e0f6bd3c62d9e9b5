#include "tube/tube.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "base/words.hpp"

namespace culmwright {

namespace {

/// A smooth bump of height 1 on (−1, 1): (1 − u²)³, twice continuously differentiable everywhere.
Jet bump(double u) {
  const double v = 1.0 - u * u;
  if (v <= 0.0) return {};
  return {v * v * v, -6.0 * u * v * v, v * (30.0 * u * u - 6.0)};
}

/// Points on a ridge are rare: 64 pieces of five-point quadrature a turn keep the arc to 1e-9 mm.
constexpr int ridge_quadrature = 64;

/// Where f rises through zero near `guess`, by Newton steps with a bracket of a quarter turn each way.
template <class F, class D>
double newton(const F& f, const D& slope, double guess, double scale) {
  double x = guess;
  for (int i = 0; i < 60; ++i) {
    const double step = f(x) / slope(x);
    x -= std::clamp(step, -scale, scale);
    if (std::abs(step) < 1e-14) break;
  }
  return x;
}

/// The direction whose support excess q·n − h is greatest: the nearest point's normal for q outside.
template <class Support>
double nearest_direction(const Support& support, Vec2 q) {
  const auto excess = [&](double t) {
    const Angle theta = Angle::from_radians(t);
    return dot(q, direction(theta)) - support(theta).f;
  };
  // Seen from well away from the centre the excess has one broad maximum, near the direction of q itself:
  // Newton finds it. Deep inside there may be several: 24 starts.
  const double size = support(Angle()).f + support(Angle::from_degrees(180.0)).f;
  const Vec2 centre = {0.5 * (support(Angle()).f - support(Angle::from_degrees(180.0)).f),
                       0.5 * (support(Angle::from_degrees(90.0)).f - support(Angle::from_degrees(270.0)).f)};
  const Vec2 from_centre = q - centre;
  double best = std::atan2(from_centre.y, from_centre.x);
  double best_excess = excess(best);
  if (length(from_centre) < 0.25 * size) {
    constexpr int starts = 24;
    for (int i = 0; i < starts; ++i) {
      const double t = 2.0 * pi * i / starts;
      const double e = excess(t);
      if (e > best_excess) {
        best_excess = e;
        best = t;
      }
    }
  }
  double t = best;
  for (int i = 0; i < 40; ++i) {
    const Angle theta = Angle::from_radians(t);
    const SurfaceJet h = support(theta);
    const double first = dot(q, tangent(theta)) - h.f_t;
    const double second = -dot(q, direction(theta)) - h.f_tt;
    double step = second < -1e-9 ? -first / second : (first > 0.0 ? 0.05 : -0.05);
    step = std::clamp(step, -0.2, 0.2);
    t += step;
    if (std::abs(step) < 1e-13) break;
  }
  return excess(t) >= best_excess ? t : best;
}

template <class Support>
double outside_of(const Support& support, Vec2 q, Angle* theta) {
  const double t = nearest_direction(support, q);
  const Angle found = Angle::from_radians(t).normalized();
  if (theta != nullptr) *theta = found;
  return dot(q, direction(found)) - support(found).f;
}

Vec2 support_point(const SurfaceJet& h, Angle theta) {
  return direction(theta) * h.f + tangent(theta) * h.f_t;
}

std::string number(double value) {
  return fixed_text(value, 2);
}

}  // namespace

SurfaceJet Section::ridges(Angle theta) const {
  SurfaceJet sum;
  for (const Ridge& ridge : ridges_) {
    // Slanted: the ridge lies at m + s cos θ, so u = (at − m − s cos θ) / b.
    const double s = ridge.half_slant;
    const double b = ridge.half_band;
    const double u = (at_ - ridge.at_middle - s * theta.cos()) / b;
    const double u_t = s * theta.sin() / b;
    const double u_tt = s * theta.cos() / b;
    const Jet j = bump(u);
    SurfaceJet part{j.value,     j.first * u_t,      j.second * u_t * u_t + j.first * u_tt,
                    j.first / b, j.second * u_t / b, j.second / (b * b)};
    sum.f += ridge.height * part.f;
    sum.f_t += ridge.height * part.f_t;
    sum.f_tt += ridge.height * part.f_tt;
    sum.f_s += ridge.height * part.f_s;
    sum.f_ts += ridge.height * part.f_ts;
    sum.f_ss += ridge.height * part.f_ss;
  }
  return sum;
}

SurfaceJet Section::support(Angle theta) const {
  SurfaceJet h = skin_(theta);
  if (!ridges_.empty()) h += ridges(theta);
  return h;
}

SurfaceJet Section::smooth_support(Angle theta) const {
  return skin_(theta, 2);
}

SurfaceJet Section::base_support(Angle theta) const {
  return skin_(theta);
}

SurfaceJet Section::bore_support(Angle theta) const {
  SurfaceJet g = skin_(theta);
  g -= wall_(theta);
  return g;
}

Vec2 Section::point(Angle theta) const {
  return support_point(support(theta), theta);
}

Vec2 Section::bore_point(Angle theta) const {
  return support_point(bore_support(theta), theta);
}

double Section::width(Angle theta) const {
  return support(theta).f + support(theta + Angle::from_degrees(180.0)).f;
}

double Section::girth() const {
  return arc(Angle(), Angle::from_degrees(360.0));
}

double Section::area() const {
  // ½ ∫ (h² − h′²) over a turn, by Parseval.
  double sum = 0.0;
  for (const FourierTerm& term : skin_.terms()) {
    const double k = term.order;
    const double size = term.cosine.value * term.cosine.value + term.sine.value * term.sine.value;
    sum += term.order == 0 ? pi * size : 0.5 * pi * (1.0 - k * k) * size;
  }
  return sum;
}

double Section::bore_area() const {
  return 0.5 * integrate(
                   [&](double t) {
                     const SurfaceJet g = bore_support(Angle::from_radians(t));
                     return g.f * g.f - g.f_t * g.f_t;
                   },
                   0.0, 2.0 * pi, 24);
}

double Section::least_curvature_radius(Angle* where) const {
  double least = 1e300;
  for (int i = 0; i < 720; ++i) {
    const Angle theta = Angle::from_degrees(0.5 * i);
    const SurfaceJet h = support(theta);
    if (h.f + h.f_tt < least) {
      least = h.f + h.f_tt;
      if (where != nullptr) *where = theta;
    }
  }
  return least;
}

double Section::arc(Angle from, Angle to) const {
  double length = skin_.integral(from, to) + skin_(to).f_t - skin_(from).f_t;
  if (ridges_.empty()) return length;
  const double turn = std::abs((to - from).radians()) / (2.0 * pi);
  const int pieces = std::max(1, static_cast<int>(std::ceil(turn * ridge_quadrature)));
  length += integrate([&](double t) { return ridges(Angle::from_radians(t)).f; }, from.radians(),
                      to.radians(), pieces);
  return length + ridges(to).f_t - ridges(from).f_t;
}

double Section::around(Angle theta) const {
  const Angle line = this->line();
  const double length = arc(line, line + (theta - line).normalized());
  const double whole = girth();
  if (length > 0.5 * whole) return length - whole;
  if (length <= -0.5 * whole) return length + whole;
  return length;
}

Angle Section::theta_at(double around) const {
  const Angle line = this->line();
  const double guess = line.radians() + 2.0 * pi * around / girth();
  const double t = newton([&](double x) { return arc(line, Angle::from_radians(x)) - around; },
                          [&](double x) {
                            const SurfaceJet h = support(Angle::from_radians(x));
                            return std::max(h.f + h.f_tt, 1e-3 * h.f);
                          },
                          guess, 0.5);
  return Angle::from_radians(t);
}

Angle Section::theta_on_half_plane(Angle facing) const {
  // p(θ) · (−sin f, cos f) = 0; its slope in θ is (h + h″) cos(θ − f).
  const Vec2 across = tangent(facing);
  const double t = newton([&](double x) { return dot(point(Angle::from_radians(x)), across); },
                          [&](double x) {
                            const Angle theta = Angle::from_radians(x);
                            const SurfaceJet h = support(theta);
                            return std::max(h.f + h.f_tt, 1e-3) * std::max((theta - facing).cos(), 0.2);
                          },
                          facing.radians(), 0.3);
  return Angle::from_radians(t);
}

double Section::wall(Angle theta) const {
  const Vec2 p = point(theta);
  const Vec2 n = direction(theta);
  // Along p − t n the bore's excess falls at a rate near one: Newton from the plain difference of supports.
  double t = support(theta).f - bore_support(theta).f;
  for (int i = 0; i < 40; ++i) {
    Angle foot;
    const double excess = outside_bore(p - n * t, &foot);
    const double rate = std::max(dot(n, direction(foot)), 0.2);
    t += excess / rate;
    if (std::abs(excess) < 1e-10) break;
  }
  return t;
}

double Section::outside(Vec2 q, Angle* theta) const {
  return outside_of([&](Angle t) { return support(t); }, q, theta);
}

double Section::outside_bore(Vec2 q, Angle* theta) const {
  return outside_of([&](Angle t) { return bore_support(t); }, q, theta);
}

Tube::Tube(TubeShape shape) {
  require(shape.end_b_at > shape.end_a_at, "a tube's end B must lie below its end A");
  std::sort(shape.nodes.begin(), shape.nodes.end(),
            [](const Node& a, const Node& b) { return a.at() < b.at(); });
  shape_ = std::make_shared<const TubeShape>(std::move(shape));
}

const std::string& Tube::id() const {
  return shape_->id;
}
double Tube::end_a_at() const {
  return shape_->end_a_at;
}
double Tube::end_b_at() const {
  return shape_->end_b_at;
}
const std::vector<Node>& Tube::nodes() const {
  return shape_->nodes;
}
const std::vector<Groove>& Tube::grooves() const {
  return shape_->grooves;
}
const std::vector<Blemish>& Tube::blemishes() const {
  return shape_->blemishes;
}
const TubeShape& Tube::shape() const {
  return *shape_;
}

Section Tube::section(double at) const {
  const double room = shape_->beyond + 1e-6;
  require(at >= end_a_at() - room && at <= end_b_at() + room, "a section was asked for beyond the tube");
  Section section;
  section.at_ = at;
  section.skin_ = shape_->skin.section(at);
  section.wall_ = shape_->wall.section(at);
  for (const Node& node : shape_->nodes) {
    const double half_slant = 0.5 * (node.at_line - node.at_far);
    const double half_band = 0.5 * node.band;
    if (node.ridge_height <= 0.0 || std::abs(at - node.at()) >= half_band + std::abs(half_slant)) continue;
    section.ridges_.push_back({node.at(), half_slant, half_band, node.ridge_height});
  }
  return section;
}

SkinPoint Tube::skin_point(double at, Angle theta) const {
  const Section section = this->section(at);
  const SurfaceJet h = section.support(theta);
  const Vec2 n = direction(theta);
  const Vec2 t = tangent(theta);
  const Vec2 p = support_point(h, theta);
  const Vec2 moves = n * h.f_s + t * h.f_ts;  // of the point, per millimetre of `at`
  SkinPoint skin;
  skin.theta = theta;
  skin.place = {at, section.around(theta)};
  skin.point = {p.x, p.y, -at};
  skin.around = {t.x, t.y, 0.0};
  skin.along = unit(Vec3{moves.x, moves.y, -1.0});
  // z = −at, so the gradient of q·n − h(θ, −z) is (n, h_s).
  skin.normal = unit(Vec3{n.x, n.y, h.f_s});
  return skin;
}

SkinPoint Tube::skin_point(SkinPlace place) const {
  SkinPoint skin = skin_point(place.at, section(place.at).theta_at(place.around));
  skin.place = place;
  return skin;
}

double Tube::wall(SkinPlace place) const {
  const Section section = this->section(place.at);
  return section.wall(section.theta_at(place.around));
}

double Tube::outside(Vec3 p) const {
  const Section section = this->section(-p.z);
  Angle theta;
  const double excess = section.outside({p.x, p.y}, &theta);
  const double slope = section.support(theta).f_s;
  return excess / std::sqrt(1.0 + slope * slope);
}

bool Tube::in_wall(Vec3 p) const {
  const double at = -p.z;
  if (at < end_a_at() || at > end_b_at()) return false;
  const Section section = this->section(at);
  return section.outside({p.x, p.y}) < 0.0 && section.outside_bore({p.x, p.y}) > 0.0;
}

Problems check_shape(const Tube& tube) {
  Problems problems;
  const auto add = [&](const char* code, const std::string& found, const std::string& allowed,
                       const std::string& advice) {
    problems.push_back({code, {}, found, allowed, advice});
  };
  const int steps = std::max(20, static_cast<int>(tube.length() / 2.0));
  bool convex = true;
  bool sound_wall = true;
  for (int i = 0; i <= steps && (convex || sound_wall); ++i) {
    const double at = tube.end_a_at() + tube.length() * i / steps;
    const Section section = tube.section(at);
    Angle where;
    const double radius = section.least_curvature_radius(&where);
    if (convex && radius <= 0.0) {
      convex = false;
      add("not-convex",
          "a section at " + number(at) + " that is hollow toward " + number(where.normalized().degrees()) +
              "° (radius of curvature " + number(radius) + ")",
          "a skin that is convex all along", "Measure the widths or heights near there again");
    }
    for (int k = 0; sound_wall && k < 16; ++k) {
      const Angle theta = Angle::from_degrees(22.5 * k);
      const double wall = section.base_support(theta).f - section.bore_support(theta).f;
      const double half = 0.5 * section.width(theta);
      if (wall > 0.0 && wall < half) continue;
      sound_wall = false;
      add("wall",
          "a wall of " + number(wall) + " at " + number(at) + " where the tube's half width is " +
              number(half),
          "more than 0 and less than the half width", "Measure the wall there again");
    }
  }
  for (const Node& node : tube.nodes()) {
    const double low = std::min(node.at_line, node.at_far);
    const double high = std::max(node.at_line, node.at_far);
    if (low >= tube.end_a_at() && high <= tube.end_b_at()) continue;
    add("node-outside", "a node at " + number(node.at()),
        "between " + number(tube.end_a_at()) + " and " + number(tube.end_b_at()), "");
  }
  return problems;
}

}  // namespace culmwright
