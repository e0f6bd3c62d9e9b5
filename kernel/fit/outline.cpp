#include "fit/outline.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/numeric.hpp"
#include "tube/oval_rim.hpp"

namespace culmwright {

namespace {

constexpr int rim_points = 72;
constexpr int corner_points = 24;
constexpr int edge_points = 8;

/// Weights of the six-point Lagrange polynomial at x between its third (0) and fourth (1) point.
std::array<double, 6> lagrange(double x) {
  std::array<double, 6> weights{};
  for (int i = 0; i < 6; ++i) {
    double weight = 1.0;
    for (int j = 0; j < 6; ++j) {
      if (j != i) weight *= (x - (j - 2)) / (i - j);
    }
    weights[i] = weight;
  }
  return weights;
}

/// The patch about its middle as (along, around), counter-clockwise.
std::vector<Vec2> patch(double length, double width, double corner) {
  std::vector<Vec2> points;
  const Vec2 quarter{0.5 * length - corner, 0.5 * width - corner};
  const Vec2 signs[4] = {{1, 1}, {-1, 1}, {-1, -1}, {1, -1}};
  for (int k = 0; k < 4; ++k) {
    const Vec2 centre{signs[k].x * quarter.x, signs[k].y * quarter.y};
    const Vec2 next{signs[(k + 1) % 4].x * quarter.x, signs[(k + 1) % 4].y * quarter.y};
    for (int i = 0; i < corner_points; ++i) {
      points.push_back(centre +
                       direction(Angle::from_degrees(90.0 * (k + double(i) / corner_points))) * corner);
    }
    const Vec2 end = direction(Angle::from_degrees(90.0 * (k + 1))) * corner;
    for (int i = 0; i < edge_points; ++i) {
      points.push_back(centre + end + (next - centre) * (double(i) / edge_points));
    }
  }
  return points;
}

std::vector<Vec2> circle(double radius) {
  std::vector<Vec2> points;
  for (int i = 0; i < rim_points; ++i) {
    points.push_back(direction(Angle::from_degrees(360.0 * i / rim_points)) * radius);
  }
  return points;
}

/// First fundamental form of the chart (at, arc from the ruling), G = 1.
struct Metric {
  double e = 1.0;
  double f = 0.0;
  double squared(Vec2 d) const { return e * d.x * d.x + 2.0 * f * d.x * d.y + d.y * d.y; }
};

/// The skin laid out about one ruling.
class Chart {
 public:
  Chart(const Tube& tube, Angle ruling) : tube_(tube), ruling_(ruling) {}

  Vec3 point(Vec2 q) const {
    const Section section = tube_.section(inside(q.x));
    const Vec2 p = section.point(theta(section, q.y));
    return {p.x, p.y, -section.at()};
  }
  SkinPlace place(Vec2 q) const {
    const Section section = tube_.section(inside(q.x));
    return {q.x, section.around(theta(section, q.y))};
  }
  Metric metric(Vec2 q) const {
    constexpr double step = 0.05;  // small against ridges, large against rounding
    const double at = std::clamp(inside(q.x), low() + step, high() - step);
    const Vec3 along = (point({at + step, q.y}) - point({at - step, q.y})) * (0.5 / step);
    const Section section = tube_.section(at);
    const Vec2 t = tangent(theta(section, q.y));
    return {dot(along, along), along.x * t.x + along.y * t.y};
  }
  /// Length on the skin of the straight line of the chart; within 1e-3 of the shortest way for webs.
  double length(Vec2 from, Vec2 to) const {
    const Vec2 d = to - from;
    return integrate([&](double t) { return std::sqrt(metric(from + d * t).squared(d)); }, 0.0, 1.0, 1);
  }

 private:
  double low() const { return tube_.end_a_at() - tube_.shape().beyond; }
  double high() const { return tube_.end_b_at() + tube_.shape().beyond; }
  double inside(double at) const { return std::clamp(at, low(), high()); }
  Angle theta(const Section& section, double arc) const {
    return section.theta_at(section.arc(section.line(), ruling_) + arc);
  }

  const Tube& tube_;
  Angle ruling_;
};

struct Nearest {
  double squared = 1e300;
  Vec2 from;
  Vec2 to;
};

/// The nearest points of two curves: the best of the points, then a grid that closes in on it.
Nearest nearest(const ClosedCurve& a, const ClosedCurve& b, const Metric& metric) {
  double s = 0.0;
  double t = 0.0;
  Nearest best;
  const auto try_pair = [&](double s_new, double t_new, Vec2 p, Vec2 q) {
    const double squared = metric.squared(q - p);
    if (squared >= best.squared) return;
    best = {squared, p, q};
    s = s_new;
    t = t_new;
  };
  for (int i = 0; i < a.size(); ++i) {
    for (int j = 0; j < b.size(); ++j) try_pair(i, j, a.points()[i], b.points()[j]);
  }
  for (double step = 0.5; step > 1e-6; step *= 0.6) {
    const double s0 = s;
    const double t0 = t;
    for (int i = -2; i <= 2; ++i) {
      const Vec2 p = a(s0 + i * step);
      for (int j = -2; j <= 2; ++j) try_pair(s0 + i * step, t0 + j * step, p, b(t0 + j * step));
    }
  }
  return best;
}

/// How far points of `a` reach into `b`; 0 when none does.
double reach_into(const ClosedCurve& a, const ClosedCurve& b) {
  double deepest = 0.0;
  for (const Vec2 p : a.points()) {
    if (!b.holds(p)) continue;
    const auto distance = [&](Vec2 q) { return length(q - p); };
    deepest = std::max(deepest, distance(b(b.where_least(distance))));
  }
  return deepest;
}

/// The gap with `b` taken `turns` whole turns farther round than it is.
Gap gap_on_side(const Tube& tube, const Outline& a, const Outline& b, int turns) {
  const double turned = b.theta().radians() + 2.0 * pi * turns;
  const Angle ruling = Angle::from_radians(0.5 * (a.theta().radians() + turned));
  const ClosedCurve of_a = laid_out(tube, a, ruling);
  const ClosedCurve of_b = laid_out(tube, b, ruling, turns);
  const Chart chart(tube, ruling);
  Nearest ends = nearest(of_a, of_b, Metric{});
  ends = nearest(of_a, of_b, chart.metric((ends.from + ends.to) * 0.5));
  const double overlap = std::max(reach_into(of_a, of_b), reach_into(of_b, of_a));
  Gap gap;
  gap.distance = overlap > 0.0 ? -overlap : chart.length(ends.from, ends.to);
  gap.along = std::abs(ends.to.x - ends.from.x);
  gap.around = std::abs(ends.to.y - ends.from.y);
  gap.middle = chart.place((ends.from + ends.to) * 0.5);
  return gap;
}

}  // namespace

ClosedCurve::ClosedCurve(std::vector<Vec2> points, bool smooth)
    : points_(std::move(points)), smooth_(smooth) {
  require(points_.size() >= 6, "a closed curve needs at least six points");
}

Vec2 ClosedCurve::operator()(double t) const {
  const int n = size();
  const double whole = std::floor(t);
  const double x = t - whole;
  const auto at = [&](int i) {
    const int k = (static_cast<int>(whole) + i) % n;
    return points_[k < 0 ? k + n : k];
  };
  if (!smooth_) return at(0) * (1.0 - x) + at(1) * x;
  const std::array<double, 6> weights = lagrange(x);
  Vec2 sum;
  for (int i = 0; i < 6; ++i) sum = sum + at(i - 2) * weights[i];
  return sum;
}

bool ClosedCurve::holds(Vec2 q) const {
  bool inside = false;
  for (std::size_t i = 0, j = points_.size() - 1; i < points_.size(); j = i++) {
    const Vec2 a = points_[i];
    const Vec2 b = points_[j];
    if ((a.y > q.y) == (b.y > q.y)) continue;
    if (q.x < a.x + (q.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
  }
  return inside;
}

Outline::Outline(const Tube& tube, double middle_at, Angle theta, std::vector<Vec2> points, bool smooth)
    : curve_(std::move(points), smooth), middle_at_(middle_at), theta_(theta) {
  middle_ = tube.skin_point(middle_at, theta).point;
  for (const Vec2 p : curve_.points()) {
    const Vec3 on_skin = tube.skin_point(p.x, Angle::from_radians(p.y)).point;
    reach_ = std::max(reach_, length(on_skin - middle_));
  }
}

Outline Outline::of_hole(const Tube& tube, const Drilling& drilling) {
  return of_hole(tube, drilling, 2.0 * drilling.radius, 2.0 * drilling.radius);
}

Outline Outline::of_hole(const Tube& tube, const Drilling& drilling, double across_along,
                         double across_around) {
  const double at = -drilling.point.z;
  Angle theta;
  tube.section(at).outside({drilling.point.x, drilling.point.y}, &theta);
  std::vector<Vec2> points;
  for (const RimPoint& rim : oval_rim(tube, drilling, across_along, across_around, rim_points)) {
    points.push_back({rim.place.at, theta.radians() + (rim.theta - theta).normalized().radians()});
  }
  return Outline(tube, at, theta, std::move(points), true);
}

Outline Outline::of_patch(const Tube& tube, SkinPlace middle, double length, double width,
                          double corner_radius) {
  const double corner = std::min(corner_radius, 0.5 * std::min(length, width));
  const bool round = length == width && corner == 0.5 * length;
  const Angle theta = tube.section(middle.at).theta_at(middle.around);
  const double low = tube.end_a_at() - tube.shape().beyond;
  const double high = tube.end_b_at() + tube.shape().beyond;
  std::vector<Vec2> points;
  for (const Vec2 q : round ? circle(corner) : patch(length, width, corner)) {
    const Section section = tube.section(std::clamp(middle.at + q.x, low, high));
    const Angle there = section.theta_at(section.arc(section.line(), theta) + q.y);
    points.push_back({section.at(), there.radians()});
  }
  return Outline(tube, middle.at, theta, std::move(points), round);
}

double Outline::least_at() const {
  return curve_(curve_.where_least([](Vec2 p) { return p.x; })).x;
}

double Outline::greatest_at() const {
  return curve_(curve_.where_least([](Vec2 p) { return -p.x; })).x;
}

ClosedCurve laid_out(const Tube& tube, const Outline& outline, Angle theta, int turns) {
  std::vector<Vec2> points;
  points.reserve(outline.curve().points().size());
  for (const Vec2 p : outline.curve().points()) {
    points.push_back({p.x, tube.section(p.x).arc(theta, Angle::from_radians(p.y + 2.0 * pi * turns))});
  }
  return ClosedCurve(std::move(points), outline.curve().smooth());
}

Gap gap_between(const Tube& tube, const Outline& a, const Outline& b) {
  const double difference = b.theta().radians() - a.theta().radians();
  const int turns = -static_cast<int>(std::lround(difference / (2.0 * pi)));
  const Gap near_side = gap_on_side(tube, a, b, turns);
  const double turned = difference + 2.0 * pi * turns;
  // Only outlines nearly opposite each other may be nearer the other way round.
  if (std::abs(turned) < 0.5 * pi) return near_side;
  const Gap far_side = gap_on_side(tube, a, b, turned > 0.0 ? turns - 1 : turns + 1);
  return far_side.distance < near_side.distance ? far_side : near_side;
}

double least_possible_gap(const Outline& a, const Outline& b) {
  return length(b.middle() - a.middle()) - a.reach() - b.reach();
}

double beyond_ridge(const Node& node, double at, Angle theta) {
  const double half_slant = 0.5 * (node.at_line - node.at_far);
  return std::abs(at - node.at() - half_slant * theta.cos()) - 0.5 * node.band;
}

double beyond_ridge(const Node& node, const Outline& outline) {
  const auto beyond = [&](Vec2 p) { return beyond_ridge(node, p.x, Angle::from_radians(p.y)); };
  return beyond(outline.curve()(outline.curve().where_least(beyond)));
}

}  // namespace culmwright
