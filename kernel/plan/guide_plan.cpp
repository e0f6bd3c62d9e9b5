#include "plan/guide_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_groups.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright {

using namespace guide_sizes;
using namespace guide_parts;

namespace {

constexpr double bush_guides = 1.5;  ///< guide length over pilot diameter, at least
constexpr double boss_above = 2.5;   ///< of a boss over the saddle, about, for the choice of the bush
constexpr double least_boss_above = 1.0;
constexpr double foot_angle_deg = 80.0;  ///< the saddle reaches at least about so far from its middle
constexpr double pad_in_saddle_deg = pad_middle_deg + pad_half_deg + 2.0;
constexpr double strap_surround = 9.5;  ///< of a strap: its groove's steps and margins
constexpr int checks_along = 60;
constexpr int checks_around = 32;
constexpr double least_saddle_wall = 2.0;  ///< leaves 1.2 under the engraving and under a strap

/// Where along its axis a boss may meet its neighbour: from the saddle's face up to its top.
struct BossAxis {
  Vec3 low;
  Vec3 high;
};

double distance_between(const BossAxis& a, const BossAxis& b) {
  // Closest points of two segments, each clamped in turn.
  const Vec3 u = a.high - a.low;
  const Vec3 v = b.high - b.low;
  double s = 0.5;
  double t = 0.5;
  for (int i = 0; i < 40; ++i) {
    t = std::clamp(dot(a.low + u * s - b.low, v) / dot(v, v), 0.0, 1.0);
    s = std::clamp(dot(b.low + v * t - a.low, u) / dot(u, u), 0.0, 1.0);
  }
  return length(a.low + u * s - (b.low + v * t));
}

bool bosses_clear(const GuideHole& a, const GuideHole& b, double level) {
  const auto axis = [&](const GuideHole& hole) {
    const Vec3 low = hole.drilling.point + hole.drilling.axis * (0.5 * level);
    return BossAxis{low, hole.drilling.point + hole.drilling.axis * hole.top};
  };
  return distance_between(axis(a), axis(b)) >= a.boss_radius + b.boss_radius + boss_web;
}

GuideHole guide_hole(const PlacedKey& key, const Shop& shop) {
  GuideHole hole;
  hole.id = key.key.id;
  hole.drilling = key.drilling;
  const double least_length = std::max(bush_guides * shop.pilot_diameter, outer_level(shop) + boss_above);
  hole.bush = pilot_bush(shop, least_length);
  hole.bore_radius = bush_bore_radius(shop, hole.bush);
  hole.boss_radius = hole.bore_radius + shop.boss_wall;
  hole.top = hole.bush.length - bush_proud;
  return hole;
}

/// How far the guide's middle may lie from a hole's axis.
double reach_of(const GuideHole& hole, double level) {
  const double radius = length(Vec2{hole.drilling.point.x, hole.drilling.point.y}) + level;
  const double half = std::asin(std::min(0.95, hole.boss_radius / radius)) + (edge_margin + 1.0) / radius;
  return std::max(0.05, foot_angle_deg * pi / 180.0 - half);
}

/// A run whose bosses would come too near to each other is divided among as many guides as that takes.
std::vector<HoleGroup> divided_by_webs(const HoleGroup& run, const std::vector<GuideHole>& holes,
                                       double level) {
  std::vector<HoleGroup> guides;
  for (const int i : run.holes) {
    const auto fits = [&](const HoleGroup& guide) {
      return std::all_of(guide.holes.begin(), guide.holes.end(),
                         [&](int other) { return bosses_clear(holes[i], holes[other], level); });
    };
    auto guide = std::find_if(guides.begin(), guides.end(), fits);
    if (guide == guides.end()) guide = guides.insert(guides.end(), {run.middle, {}});
    guide->holes.push_back(i);
  }
  return guides;
}

std::vector<HoleGroup> grouped(const Tube& base, const std::vector<GuideHole>& holes,
                               const Instrument& instrument, const Shop& shop) {
  const double level = outer_level(shop);
  std::vector<HoleToGroup> to_group;
  double widest = 0.0;
  for (const GuideHole& hole : holes) {
    const double theta = std::atan2(hole.drilling.axis.y, hole.drilling.axis.x);
    to_group.push_back({theta, reach_of(hole, level), -hole.drilling.point.z});
    widest = std::max(widest, hole.boss_radius);
  }
  std::vector<HoleGroup> around = groups_around(to_group);
  const auto from_front = [&](const HoleGroup& group) {
    return std::abs(std::remainder(group.middle - instrument.facing.radians(), 2.0 * pi));
  };
  std::stable_sort(around.begin(), around.end(),
                   [&](const HoleGroup& a, const HoleGroup& b) { return from_front(a) < from_front(b); });
  // Both ends of a guide hold a boss and a strap outside it.
  const double bed = longest_on_bed(shop.printer, saddle_width(base, shop));
  const double longest = bed - 2.0 * (widest + shop.strap_width + strap_surround);
  if (longest < 0.0) {
    throw GeometryError("guides", "cutting to the bed",
                        "a bed of " + number_text(bed + 2.0 * bed_margin) +
                            " takes no guide; it needs at least " +
                            number_text(bed + 2.0 * bed_margin - longest));
  }
  std::vector<HoleGroup> guides;
  for (const HoleGroup& group : around) {
    for (const HoleGroup& run : runs_along(group, to_group, longest)) {
      for (const HoleGroup& guide : divided_by_webs(run, holes, level)) guides.push_back(guide);
    }
  }
  return guides;
}

/// Raises the tops that the saddle would swallow.
void settle_tops(GuidePlan& plan) {
  for (GuideHole& hole : plan.holes) {
    const RigidMotion frame = rim_frame(hole.drilling);
    for (int i = 0; i < checks_around; ++i) {
      const Vec2 aim = direction(Angle::from_degrees(360.0 * i / checks_around)) * hole.boss_radius;
      hole.top = std::max(hole.top, plan.outer.meet(frame, aim).height + least_boss_above);
    }
    if (hole.top > hole.bush.length - 0.5 * bush_proud) {
      plan.notes.push_back("the bush of " + hole.id +
                           " ends inside its boss, which a ridge beside it raises");
    }
  }
}

void check_bosses(const GuidePlan& plan) {
  for (const GuideHole& hole : plan.holes) {
    const RigidMotion frame = rim_frame(hole.drilling);
    double margin = 1e300;
    for (int i = 0; i < checks_around; ++i) {
      const Vec2 aim = direction(Angle::from_degrees(360.0 * i / checks_around)) * hole.boss_radius;
      const GuideFace::Meeting foot = plan.outer.meet(frame, aim);
      margin = std::min({margin, foot.at - plan.at.from, plan.at.to - foot.at});
      if (!plan.at.contains(foot.at)) break;
      const double radius = plan.outer.radius(foot.theta, foot.at);
      margin = std::min(margin, radius * (plan.foot_theta(plan.outer, 1, foot.at) - foot.theta));
      margin = std::min(margin, radius * (foot.theta - plan.foot_theta(plan.outer, -1, foot.at)));
      const Vec3 top = frame.apply({aim.x, aim.y, hole.top});
      margin = std::min(margin, dot(top - plan.foot.point, plan.foot.up));
    }
    if (margin >= edge_margin) continue;
    throw GeometryError(plan.name, "bosses",
                        "the boss of " + hole.id + " comes within " + number_text(margin, 3) +
                            " of the saddle's edge; it needs " + number_text(edge_margin));
  }
}

void check_saddle(const GuidePlan& plan, double longest) {
  for (int i = 0; i <= checks_along; ++i) {
    const double at = plan.at.from + plan.at.length() * i / checks_along;
    const double half = std::min(plan.foot_theta(plan.inner, 1, at) - plan.middle(),
                                 plan.middle() - plan.foot_theta(plan.inner, -1, at));
    const bool beside_pad =
        std::any_of(plan.pads.begin(), plan.pads.end(), [&](const Span& pad) { return pad.contains(at); });
    if (half < pad_in_saddle_deg * pi / 180.0 && beside_pad) {
      throw GeometryError(plan.name, "pads",
                          "the tube is so bent that the saddle ends " + number_text(half * 180.0 / pi, 3) +
                              "° from its middle, inside its pads; use a shorter bed");
    }
  }
  if (plan.at.length() <= longest) return;
  throw GeometryError(
      plan.name, "cutting to the bed",
      "it is " + number_text(plan.at.length(), 4) + " long; the bed takes " + number_text(longest, 4));
}

}  // namespace

double GuidePlan::foot_theta(const GuideFace& face, int side, double place) const {
  const Section section = face.base().section(place);
  double theta = middle() + side * greatest_normal_deg * pi / 180.0;
  for (int i = 0; i < 40; ++i) {
    const GuideFace::Jet jet = face.jet(section, theta);
    const double off = dot(jet.point - foot.point, foot.up);
    const double step = std::clamp(off / dot(jet.by_theta, foot.up), -0.1, 0.1);
    theta -= step;
    if (std::abs(step) < 1e-13) break;
  }
  return theta;
}

namespace guide_parts {

namespace {

/// Makes room for sighting windows outside the straps, where there is no stop.
void lengthen_for_sights(const Job& job, const Stop& stop, Span& at) {
  const double more = sight_length + 2.5;
  const bool stop_a = stop.post && stop.post->end == End::a;
  const bool stop_b = stop.post && stop.post->end == End::b;
  if (!stop_a && at.length() + more <= job.longest())
    at.from = std::max(at.from - more, std::min(at.from, job.ends().from));
  if (!stop_b && at.length() + more <= job.longest())
    at.to = std::min(at.to + more, std::max(at.to, job.ends().to));
}

}  // namespace

GuidePlan lay_out(const Job& job) {
  EndZone low = end_zone(job, -1, true);
  EndZone high = end_zone(job, 1, true);
  if (high.end_at - low.end_at > job.longest()) {
    low = end_zone(job, -1, false);
    high = end_zone(job, 1, false);
  }
  Span at{low.end_at, high.end_at};
  const Stop stop = find_stop(job, at);
  if (stop.post) {
    const int side = stop.post->end == End::a ? -1 : 1;
    if (const auto zone = stop_end_zone(job, side)) (side < 0 ? low : high) = *zone;
  }
  std::vector<std::string> notes;
  std::vector<Span> pads;
  std::vector<Span> straps;
  for (const EndZone& zone : {low, high}) {
    pads.push_back({zone.pad - 0.5 * pad_length, zone.pad + 0.5 * pad_length});
    const double half = 0.5 * job.shop.strap_width + 0.5;
    if (zone.strap) {
      straps.push_back({*zone.strap - half, *zone.strap + half});
    } else {
      notes.push_back("no room for a strap's groove near at " + number_text(zone.end_at, 4) +
                      ": lead the strap between the bosses");
    }
  }
  if (!stop.post) {
    notes.push_back(
        "no end within reach: set it along the tube by its sighting windows, which stand at the places "
        "in the record");
  } else if (stop.kind == StopKind::end_on_middle) {
    notes.push_back("the stop touches the end away from the reference line: true for an end sawn square");
  }
  if (stop.post) {
    const bool end_a = stop.post->end == End::a;
    const double cut = end_a ? job.ends().from : job.ends().to;
    const double own = end_a ? job.tube.end_a_at() : job.tube.end_b_at();
    if (std::abs(cut - own) > 0.05)
      notes.push_back("the stop touches the tube as cut: cut it to length first");
  }
  lengthen_for_sights(job, stop, at);
  const GuideFace inner(job.base, job.middle, inner_field(job, pads));
  const GuideFace outer(job.base, job.middle, outer_field(job, straps));
  GuidePlan plan{job.name(),
                 job.tube.id(),
                 job.number,
                 inner,
                 outer,
                 at,
                 foot_plane(job, inner, at),
                 job.holes,
                 {},
                 {},
                 stop.kind,
                 stop.post,
                 {},
                 straps,
                 pads,
                 notes};
  settle_tops(plan);
  check_saddle(plan, job.longest());
  check_bosses(plan);
  if (plan.post) {
    // The post ends flat just above the plane on which the guide stands.
    StopPost& post = *plan.post;
    const double lean = length(cross(post.up, plan.foot.up)) / dot(post.up, plan.foot.up);
    post.foot = dot(plan.foot.point - post.axis_point, plan.foot.up) / dot(post.up, plan.foot.up) +
                lean * post.radius;
  }
  FlatMap map(plan);
  add_sights(job, plan, map);
  add_lettering(job, plan, map);
  return plan;
}

}  // namespace guide_parts

std::vector<GuidePlan> plan_guides(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  if (shop.saddle_wall < least_saddle_wall || shop.boss_wall < least_wall) {
    throw GeometryError("guides", "walls",
                        "a saddle wall of " + number_text(shop.saddle_wall) + " and a boss wall of " +
                            number_text(shop.boss_wall) + "; at least " + number_text(least_saddle_wall) +
                            " and " + number_text(least_wall) + " are needed");
  }
  std::vector<GuideHole> holes;
  for (const PlacedKey& key : instrument.keys) holes.push_back(guide_hole(key, shop));
  if (holes.empty()) return {};
  const Tube base = smooth_tube(tube);
  std::vector<GuidePlan> plans;
  for (const HoleGroup& group : grouped(base, holes, instrument, shop)) {
    Job job{tube, base, instrument, shop, static_cast<int>(plans.size()) + 1, group.middle, {}};
    for (const int i : group.holes) job.holes.push_back(holes[i]);
    plans.push_back(lay_out(job));
  }
  return plans;
}

RigidMotion printing_position(const GuidePlan& plan, const Printer& printer) {
  const Vec3 up = plan.foot.up;
  const Vec3 toward_b{0.0, 0.0, -1.0};
  const Vec3 along = unit(toward_b - up * dot(toward_b, up));
  const Vec3 aside = cross(up, along);
  const double longer = std::max(printer.bed_x, printer.bed_y) - 2.0 * bed_margin;
  double turn = printer.bed_x >= printer.bed_y ? 0.0 : 0.5 * pi;
  if (plan.at.length() > longer) turn = 0.25 * pi;
  // The bed's x and y, so that the guide's length lies `turn` from x.
  const Vec3 x = along * std::cos(turn) - aside * std::sin(turn);
  const Vec3 y = along * std::sin(turn) + aside * std::cos(turn);
  return RigidMotion{x, y, up, plan.foot.point}.inverse();
}

}  // namespace culmwright
