/// The weakest cross-section.
#include <algorithm>
#include <array>
#include <cmath>

#include "base/numeric.hpp"
#include "fit/section.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Moments of an area: ∫dA, ∫x, ∫y, ∫x², ∫xy, ∫y².
struct Area {
  double a = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;

  void add(Vec2 p, double area) {
    a += area;
    x += p.x * area;
    y += p.y * area;
    xx += p.x * p.x * area;
    xy += p.x * p.y * area;
    yy += p.y * p.y * area;
  }
  void add(const Area& other, double factor) {
    a += factor * other.a;
    x += factor * other.x;
    y += factor * other.y;
    xx += factor * other.xx;
    xy += factor * other.xy;
    yy += factor * other.yy;
  }
  /// Of the distances along `axis` from the centroid.
  double second_moment(Vec2 axis) const {
    const double first = axis.x * x + axis.y * y;
    return axis.x * axis.x * xx + 2.0 * axis.x * axis.y * xy + axis.y * axis.y * yy - first * first / a;
  }
};

/// Inside the curve that a support function describes.
template <class Support>
Area enclosed(const Support& support) {
  constexpr int steps = 180;  // periodic: far finer than the highest order needs
  Area area;
  for (int i = 0; i < steps; ++i) {
    const Angle theta = Angle::from_degrees(360.0 * i / steps);
    const SurfaceJet h = support(theta);
    const Vec2 p = direction(theta) * h.f + tangent(theta) * h.f_t;
    const Vec2 d = tangent(theta) * ((h.f + h.f_tt) * 2.0 * pi / steps);
    area.a += 0.5 * cross(p, d);
    area.x += 0.5 * p.x * p.x * d.y;
    area.y -= 0.5 * p.y * p.y * d.x;
    area.xx += p.x * p.x * p.x * d.y / 3.0;
    area.yy -= p.y * p.y * p.y * d.x / 3.0;
    area.xy += 0.5 * p.x * p.x * p.y * d.y;
  }
  return area;
}

constexpr std::array<double, 3> gauss_at = {-0.7745966692414834, 0.0, 0.7745966692414834};
constexpr std::array<double, 3> gauss_weight = {5.0 / 9.0, 8.0 / 9.0, 5.0 / 9.0};

/// Adds a rod of given width between two depths along a direction; exact for second moments.
void add_rod(Area& area, Vec2 origin, Vec2 along, double from, double to, double width) {
  const double half = 0.5 * (to - from);
  for (std::size_t k = 0; k < 3; ++k) {
    area.add(origin + along * (from + half * (1.0 + gauss_at[k])), gauss_weight[k] * half * width);
  }
}

Area hole_area(const Tube& tube, const Drilling& drilling, double at) {
  Area area;
  const double offset = -drilling.point.z - at;
  const double half = std::sqrt(std::max(drilling.radius * drilling.radius - offset * offset, 0.0));
  if (half <= 0.0) return area;
  const RigidMotion frame = rim_frame(drilling);
  const Vec2 axis{drilling.axis.x, drilling.axis.y};
  const Vec2 side{frame.y.x, frame.y.y};
  constexpr int pieces = 4;
  const double step = 2.0 * half / pieces;
  for (int i = 0; i < pieces; ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      const double w = -half + step * (i + 0.5 * (1.0 + gauss_at[k]));
      // The frame's x runs toward B: where `at` is larger than the hole's, x is positive.
      Drilling ray = drilling;
      ray.radius = std::hypot(offset, w);
      const Angle phi = Angle::from_radians(std::atan2(w, -offset));
      const double skin = rim_point(tube, ray, phi).depth;
      const double bore = bore_depth(tube, ray, phi);
      const Vec2 origin = Vec2{drilling.point.x, drilling.point.y} + side * w;
      add_rod(area, origin, axis, bore, skin, 0.5 * step * gauss_weight[k]);
    }
  }
  return area;
}

/// From which direction to which an outline is cut by the section; none where it is not.
bool cut_range(const Outline& outline, double at, double& from, double& to) {
  const std::vector<Vec2>& points = outline.curve().points();
  from = 1e300;
  to = -1e300;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 p = points[i];
    const Vec2 q = points[(i + 1) % points.size()];
    if ((p.x > at) == (q.x > at)) continue;
    const double theta = p.y + (q.y - p.y) * (at - p.x) / (q.x - p.x);
    from = std::min(from, theta);
    to = std::max(to, theta);
  }
  return to > from;
}

Area opening_area(const Section& section, const Outline& outline) {
  Area area;
  double from = 0.0;
  double to = 0.0;
  if (!cut_range(outline, section.at(), from, to)) return area;
  constexpr int pieces = 6;
  const double step = (to - from) / pieces;
  for (int i = 0; i < pieces; ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      const Angle theta = Angle::from_radians(from + step * (i + 0.5 * (1.0 + gauss_at[k])));
      const SurfaceJet h = section.base_support(theta);
      const Vec2 skin = direction(theta) * h.f + tangent(theta) * h.f_t;
      const double wall = section.wall(theta);
      for (std::size_t j = 0; j < 3; ++j) {
        const double depth = 0.5 * wall * (1.0 + gauss_at[j]);
        const double size =
            (h.f + h.f_tt - depth) * 0.5 * step * gauss_weight[k] * 0.5 * wall * gauss_weight[j];
        area.add(skin - direction(theta) * depth, size);
      }
    }
  }
  return area;
}

Stiffness stiffness(const Area& area, Angle facing) {
  return {area.second_moment(direction(facing)), area.second_moment(tangent(facing))};
}

bool is_cut_by(const Outline& outline, double at) {
  double from = 0.0;
  double to = 0.0;
  return cut_range(outline, at, from, to);
}

/// Middles of everything cut, and of what two of them share along.
std::vector<double> places_to_look(const LaidOut& laid) {
  std::vector<const Outline*> cuts;
  for (const Outline& hole : laid.holes) cuts.push_back(&hole);
  for (std::size_t i = 0; i < laid.parts.size(); ++i) {
    if (laid.is(i, PartKind::opening)) cuts.push_back(&laid.parts[i]);
  }
  std::vector<double> places;
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    places.push_back(cuts[i]->middle_at());
    for (std::size_t j = i + 1; j < cuts.size(); ++j) {
      if (std::abs(cuts[i]->middle_at() - cuts[j]->middle_at()) > cuts[i]->reach() + cuts[j]->reach())
        continue;
      const double low = std::max(cuts[i]->least_at(), cuts[j]->least_at());
      const double high = std::min(cuts[i]->greatest_at(), cuts[j]->greatest_at());
      if (low < high) places.push_back(0.5 * (low + high));
    }
  }
  return places;
}

std::string sentence_of(const SectionLeft& section, double limit) {
  return "Where " + listing(section.ids) + (section.ids.size() > 1 ? " are" : " is") + " cut, at " +
         millimetres(section.at) + ", " + percent(section.front_to_back()) +
         " of the stiffness against bending front to back is left and " + percent(section.sideways()) +
         " of that sideways; at least " + percent(limit) + " should be.";
}

}  // namespace

SectionLeft section_left(const LaidOut& laid, double at) {
  SectionLeft result;
  result.at = at;
  const Section section = laid.tube.section(at);
  Area area = enclosed([&](Angle theta) { return section.base_support(theta); });
  area.add(enclosed([&](Angle theta) { return section.bore_support(theta); }), -1.0);
  result.whole = stiffness(area, laid.instrument.facing);
  for (std::size_t i = 0; i < laid.holes.size(); ++i) {
    if (!is_cut_by(laid.holes[i], at)) continue;
    area.add(hole_area(laid.tube, laid.instrument.keys[i].drilling, at), -1.0);
    result.ids.push_back(laid.key_id(i));
  }
  for (std::size_t i = 0; i < laid.parts.size(); ++i) {
    if (!laid.is(i, PartKind::opening) || !is_cut_by(laid.parts[i], at)) continue;
    area.add(opening_area(section, laid.parts[i]), -1.0);
    result.ids.push_back(laid.part_id(i));
  }
  result.left = stiffness(area, laid.instrument.facing);
  return result;
}

std::vector<Finding> weakest_section(const LaidOut& laid) {
  std::optional<SectionLeft> weakest;
  const auto look = [&](double at) {
    if (at <= laid.tube.end_a_at() || at >= laid.tube.end_b_at()) return;
    SectionLeft section = section_left(laid, at);
    if (!section.ids.empty() && (!weakest || section.least() < weakest->least())) weakest = section;
  };
  for (const double at : places_to_look(laid)) look(at);
  if (!weakest) return {};
  for (double step = 2.0; step > 0.1; step *= 0.5) {
    const double middle = weakest->at;
    look(middle - step);
    look(middle + step);
  }
  Tally tally("section");
  const double limit = laid.layout.limits.stiffness_left;
  Finding finding = tally.at_least(weakest->least(), limit);
  finding.ids = weakest->ids;
  finding.place = {weakest->at, 0.0};
  finding.sentence = sentence_of(*weakest, limit);
  tally.add(std::move(finding));
  return std::move(tally).take();
}

}  // namespace culmwright
