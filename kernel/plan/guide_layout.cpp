/// Where a guide's pads, straps, ends, stop and feet are.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr double pad_along_step = 3.0;
constexpr double strap_step = 3.0;
constexpr double strap_room = 0.5;  ///< each side of the strap in its groove
constexpr double boss_room = 1.0;   ///< from a boss to a strap groove
constexpr double end_margin = 1.5;  ///< from a groove to the guide's end
constexpr double node_step = 4.0;   ///< over which the relief of a ridge rises
constexpr double node_room = 1.0;   ///< of full relief beyond the ridge
constexpr double search_step = 0.5;
constexpr double search_reach = 45.0;
constexpr double greatest_stop_angle = 35.0;  ///< of the reference line from the guide's middle, degrees
constexpr double stop_margin = 2.5;           ///< saddle beyond the post
constexpr double same_place = 0.05;           ///< a cut this near to the end is the end

double radians(double degrees) {
  return degrees * pi / 180.0;
}

bool overlap(const Span& a, const Span& b) {
  return a.from < b.to && b.from < a.to;
}

/// A patch of the skin that no pad may stand on.
struct BadPatch {
  Span at;
  Span theta;
};

std::vector<BadPatch> bad_patches(const Job& job) {
  std::vector<BadPatch> patches;
  const auto add = [&](SkinPlace place, double length, double width) {
    const Section section = job.base.section(place.at);
    const double theta = section.theta_at(place.around).radians();
    const double middle = job.middle + std::remainder(theta - job.middle, 2.0 * pi);
    const double half = 0.5 * width / (0.5 * section.width(Angle::from_radians(theta)));
    patches.push_back({{place.at - 0.5 * length, place.at + 0.5 * length}, {middle - half, middle + half}});
  };
  for (const Groove& groove : job.tube.grooves()) add(groove.place, groove.length, groove.width);
  for (const Blemish& blemish : job.tube.blemishes()) add(blemish.place, blemish.length, blemish.width);
  for (const GuideHole& hole : job.holes) {
    const double theta = std::atan2(hole.drilling.axis.y, hole.drilling.axis.x);
    const double middle = job.middle + std::remainder(theta - job.middle, 2.0 * pi);
    const double half = hole.bore_radius / length(Vec2{hole.drilling.point.x, hole.drilling.point.y});
    const double at = -hole.drilling.point.z;
    patches.push_back({{at - hole.bore_radius, at + hole.bore_radius}, {middle - half, middle + half}});
  }
  return patches;
}

bool pads_clear(const Job& job, double at) {
  const Span whole{at - 0.5 * pad_length - pad_along_step, at + 0.5 * pad_length + pad_along_step};
  for (const NodeBand& band : node_bands(job.tube)) {
    const double room = band.ridge_height > 0.0 ? node_room + node_step : node_room;
    if (overlap(whole, {band.at.from - room, band.at.to + room})) return false;
  }
  const Span flat{at - 0.5 * pad_length, at + 0.5 * pad_length};
  for (const BadPatch& patch : bad_patches(job)) {
    if (!overlap(flat, patch.at)) continue;
    for (const double side : {-1.0, 1.0}) {
      const double middle = job.middle + side * radians(pad_middle_deg);
      const double half = radians(pad_half_deg);
      if (overlap({middle - half, middle + half}, patch.theta)) return false;
    }
  }
  return true;
}

/// The outermost edge of the bosses on that side.
double boss_edge(const Job& job, int side) {
  double edge = -1e300;
  for (const GuideHole& hole : job.holes) {
    edge = std::max(edge, -side * hole.drilling.point.z + hole.boss_radius);
  }
  return side * edge;
}

}  // namespace

Span Job::ends() const {
  const auto [low, high] = std::minmax(instrument.mouth_cut_at, instrument.foot_cut_at);
  return {low, high};
}

double longest_on_bed(const Printer& printer, double width) {
  const double straight = std::max(printer.bed_x, printer.bed_y) - 2.0 * bed_margin;
  const double across_corners =
      std::sqrt(2.0) * (std::min(printer.bed_x, printer.bed_y) - 2.0 * bed_margin) - width;
  return std::max(straight, across_corners);
}

double saddle_width(const Tube& base, const Shop& shop) {
  double widest = 0.0;
  for (const double at : {base.end_a_at(), base.end_b_at()}) {
    for (int i = 0; i < 8; ++i) {
      widest = std::max(widest, base.section(at).width(Angle::from_degrees(22.5 * i)));
    }
  }
  return widest + 2.0 * outer_level(shop) + 1.0;
}

double outer_level(const Shop& shop) {
  return shop.saddle_wall + crown_relief;
}

std::vector<NodeBand> node_bands(const Tube& tube) {
  std::vector<NodeBand> bands;
  for (const Node& node : tube.nodes()) {
    const double half = 0.5 * (node.band + std::abs(node.at_line - node.at_far));
    bands.push_back({{node.at() - half, node.at() + half}, node.ridge_height});
  }
  return bands;
}

EndZone end_zone(const Job& job, int side, bool with_strap) {
  const double end = side < 0 ? job.ends().from : job.ends().to;
  const double edge = boss_edge(job, side);
  const double half_strap = 0.5 * job.shop.strap_width + strap_room;
  const auto outermost = [&](double a, double b) { return side * std::max(side * a, side * b); };
  if (with_strap) {
    for (double out = 0.0; out <= search_reach; out += search_step) {
      const double middle = edge + side * (boss_room + strap_step + half_strap + out);
      if (side * middle + 0.5 * job.shop.strap_width > side * end) break;
      if (!pads_clear(job, middle)) continue;
      const double groove_end = middle + side * (half_strap + strap_step + end_margin);
      return {middle, middle, outermost(groove_end, edge + side * stop_margin)};
    }
  }
  // Without room for a strap outside the bosses: pads as far out as may be, wherever the skin lets them.
  const double half_pad = 0.5 * pad_length + pad_along_step;
  const double outer = side * std::min(side * end - 0.5 * pad_length - 1.0, side * edge + half_pad);
  for (double in = 0.0; in <= 2.0 * search_reach; in += search_step) {
    const double middle = outer - side * in;
    if (!pads_clear(job, middle)) continue;
    return {middle, {}, outermost(middle + side * half_pad, edge + side * stop_margin)};
  }
  throw GeometryError(job.name(), "pads",
                      "no place near at " + number_text(edge, 4) +
                          " where pads would stand clear of nodes, grooves, blemishes and bores");
}

std::optional<EndZone> stop_end_zone(const Job& job, int side) {
  const double end = side < 0 ? job.ends().from : job.ends().to;
  const double edge = boss_edge(job, side);
  const double half_strap = 0.5 * job.shop.strap_width + strap_room;
  const double innermost = side * edge + boss_room + strap_step + half_strap;
  for (double out = side * end - half_strap - end_margin; out >= innermost; out -= search_step) {
    if (pads_clear(job, side * out)) return EndZone{side * out, side * out, end};
  }
  return {};
}

OffsetField inner_field(const Job& job, const std::vector<Span>& pads) {
  OffsetField field;
  field.level = crown_relief;
  for (const Span& pad : pads) {
    for (const double side : {-1.0, 1.0}) {
      const double middle = job.middle + side * radians(pad_middle_deg);
      const Span theta{middle - radians(pad_half_deg), middle + radians(pad_half_deg)};
      field.patches.push_back({-crown_relief, pad, pad_along_step, theta, radians(pad_step_deg)});
    }
  }
  for (const NodeBand& band : node_bands(job.tube)) {
    if (band.ridge_height <= 0.0) continue;
    const double more = band.ridge_height + ridge_clearance - crown_relief;
    field.patches.push_back({more, {band.at.from - node_room, band.at.to + node_room}, node_step, {}, 1.0});
  }
  return field;
}

OffsetField outer_field(const Job& job, const std::vector<Span>& straps) {
  OffsetField field;
  field.level = outer_level(job.shop);
  for (const NodeBand& band : node_bands(job.tube)) {
    if (band.ridge_height <= 0.0) continue;
    const double more = band.ridge_height + ridge_clearance - crown_relief;
    field.patches.push_back({more, {band.at.from - node_room, band.at.to + node_room}, node_step, {}, 1.0});
  }
  const double groove = std::min(strap_groove, job.shop.saddle_wall - least_wall - 0.5);
  for (const Span& strap : straps) {
    field.patches.push_back({-groove, strap, strap_step, {}, 1.0});
  }
  return field;
}

namespace {

/// Where the end's edge lies at a point of the section: square unless the survey knows better.
double end_at_point(const Job& job, End end, double cut_at, Vec2 p) {
  const TubeShape& shape = job.tube.shape();
  const double own = end == End::a ? shape.end_a_at : shape.end_b_at;
  const std::optional<EndTilt>& tilt = end == End::a ? shape.tilt_a : shape.tilt_b;
  if (!tilt || std::abs(own - cut_at) > same_place) return cut_at;
  const double lean = std::tan(tilt->tilt.radians()) * dot(p, direction(tilt->toward));
  return end == End::a ? own - lean : own + lean;
}

StopPost post_at(const Job& job, End end, double cut_at, double theta, double radius) {
  const int side = end == End::a ? -1 : 1;
  const Section section = job.base.section(cut_at);
  const Angle angle = Angle::from_radians(theta);
  const Vec2 skin = section.point(angle);
  const Vec2 up = direction(Angle::from_radians(job.middle));
  // Along the post's line over the wall's end the highest place decides.
  const Vec2 inner = skin - up * section.wall(angle);
  const double at_skin = end_at_point(job, end, cut_at, skin);
  const double at_inner = end_at_point(job, end, cut_at, inner);
  const bool skin_first = side * at_skin >= side * at_inner;
  const double touch_at = skin_first ? at_skin : at_inner;
  const Vec2 touch = skin_first ? skin : inner;
  StopPost post;
  post.end = end;
  post.radius = radius;
  post.up = {up.x, up.y, 0.0};
  post.axis_point = {skin.x, skin.y, -(touch_at + side * radius)};
  post.touches = {touch.x, touch.y, -touch_at};
  return post;
}

}  // namespace

Stop find_stop(const Job& job, Span& at) {
  const Span ends = job.ends();
  const double gap_a = at.from - ends.from;
  const double gap_b = ends.to - at.to;
  const End order[2] = {gap_a <= gap_b ? End::a : End::b, gap_a <= gap_b ? End::b : End::a};
  for (const End end : order) {
    const double cut_at = end == End::a ? ends.from : ends.to;
    const double gap = end == End::a ? gap_a : gap_b;
    const double radius =
        std::clamp(0.1 * job.base.section(cut_at).width(Angle::from_radians(job.middle)), 3.0, 6.0);
    const double beyond = 2.0 * radius + stop_margin;
    if (gap > stop_reach || at.length() + gap + beyond > job.longest()) continue;
    const double line = job.base.section(cut_at).line().radians();
    const double from_middle = std::remainder(line - job.middle, 2.0 * pi);
    const bool on_line = std::abs(from_middle) <= radians(greatest_stop_angle);
    const double theta = job.middle + (on_line ? from_middle : 0.0);
    const StopPost post = post_at(job, end, cut_at, theta, radius);
    const double touch_at = -post.touches.z;
    if (end == End::a) {
      at.from = touch_at - beyond;
    } else {
      at.to = touch_at + beyond;
    }
    return {on_line ? StopKind::end_on_line : StopKind::end_on_middle, post};
  }
  return {};
}

FootPlane foot_plane(const Job& job, const GuideFace& inner, const Span& at) {
  // The lowest plane, straight along the guide, that no inner normal beyond the greatest angle reaches.
  constexpr int samples = 41;
  const Vec2 up = direction(Angle::from_radians(job.middle));
  std::vector<double> level(samples);
  double mean = 0.0;
  double slope_sum = 0.0;
  double square_sum = 0.0;
  for (int i = 0; i < samples; ++i) {
    const double place = at.from + at.length() * i / (samples - 1);
    level[i] = -1e300;
    for (const double side : {-1.0, 1.0}) {
      const Vec3 p = inner.point(job.middle + side * radians(greatest_normal_deg), place);
      level[i] = std::max(level[i], p.x * up.x + p.y * up.y);
    }
    mean += level[i] / samples;
    const double from_middle = place - at.middle();
    slope_sum += from_middle * level[i];
    square_sum += from_middle * from_middle;
  }
  const double slope = slope_sum / square_sum;
  double lift = -1e300;
  for (int i = 0; i < samples; ++i) {
    const double from_middle = at.length() * (static_cast<double>(i) / (samples - 1) - 0.5);
    lift = std::max(lift, level[i] - mean - slope * from_middle);
  }
  // p · up = mean + lift + slope (at − middle), with at = −z.
  const double height = mean + lift;
  return {{up.x * height, up.y * height, -at.middle()}, unit(Vec3{up.x, up.y, slope})};
}

}  // namespace culmwright::guide_parts
