/// A guide's faces, stop and feet.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr double greatest_stop_angle = 35.0;  ///< of the reference line from the guide's middle, degrees
constexpr double post_reach = 0.85;           ///< of the tube's radius, for the post's far side
constexpr double same_place = 0.05;           ///< a cut this near to the end is the end

double radians(double degrees) {
  return degrees * pi / 180.0;
}

}  // namespace

std::vector<const GuideBoss*> Job::bosses() const {
  std::vector<const GuideBoss*> all;
  for (const GuideHole& hole : holes) all.push_back(&hole);
  for (const GuidePeg& peg : pegs) all.push_back(&peg);
  return all;
}

bool Job::locked() const {
  return std::any_of(joints.begin(), joints.end(), [](const GuideJoint& joint) { return joint.tongue; });
}

const GuideJoint* Job::joint(End toward) const {
  const auto found = std::find_if(joints.begin(), joints.end(),
                                  [&](const GuideJoint& joint) { return joint.toward == toward; });
  return found == joints.end() ? nullptr : &*found;
}

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

namespace {

/// How far from the guide's middle a post may stand: beside it the saddle must still reach below the post's
/// root, or the post would hang in the air on slim tubes.
double greatest_post_turn(double tube_radius, double post_radius) {
  const double aside = std::clamp(post_reach - post_radius / tube_radius, 0.0, 1.0);
  return std::min(radians(greatest_stop_angle), std::asin(aside));
}

}  // namespace

Stop find_stop(const Job& job, Span& at) {
  const Span ends = job.ends();
  const double gap_a = at.from - ends.from;
  const double gap_b = ends.to - at.to;
  const End order[2] = {gap_a <= gap_b ? End::a : End::b, gap_a <= gap_b ? End::b : End::a};
  for (const End end : order) {
    if (job.joint(end) != nullptr) continue;
    const double cut_at = end == End::a ? ends.from : ends.to;
    const double gap = end == End::a ? gap_a : gap_b;
    const double radius =
        std::clamp(0.1 * job.base.section(cut_at).width(Angle::from_radians(job.middle)), 3.0, 6.0);
    const double beyond = 2.0 * radius + stop_margin;
    if (gap > stop_reach || at.length() + gap + beyond > job.longest()) continue;
    const double line = job.base.section(cut_at).line().radians();
    const double from_middle = std::remainder(line - job.middle, 2.0 * pi);
    const bool on_line =
        std::abs(from_middle) <= greatest_post_turn(0.5 * job.base.section(cut_at).width(Angle()), radius);
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
