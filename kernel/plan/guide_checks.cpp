/// What a guide's plan is held against before anything is built from it.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr double least_boss_above = 1.0;
constexpr double pad_in_saddle_deg = pad_middle_deg + pad_half_deg + 2.0;
constexpr int checks_along = 60;
constexpr int checks_around = 32;
constexpr double least_clear = 0.3;  ///< over ridges: what seating and the survey may be wrong by
constexpr double clear_step = 1.0;   ///< along
constexpr int clear_around = 17;

double radians(double degrees) {
  return degrees * pi / 180.0;
}

/// The corners of the four pads as a look along the hole's axis shows them; the axis is the origin.
std::vector<Vec2> bearing_seen_along(const GuidePlan& plan, const RigidMotion& frame) {
  const RigidMotion to_hole = frame.inverse();
  std::vector<Vec2> corners;
  for (const Span& pad : plan.pads) {
    for (const double at : {pad.from, pad.to}) {
      for (const double side : {-1.0, 1.0}) {
        for (const double end : {-1.0, 1.0}) {
          const double theta = plan.middle() + radians(side * pad_middle_deg + end * pad_half_deg);
          const Vec3 p = to_hole.apply(plan.inner.point(theta, at));
          corners.push_back({p.x, p.y});
        }
      }
    }
  }
  return corners;
}

/// Whether a point lies inside the convex hull of points: no direction has them all on its far side.
bool inside_hull(const std::vector<Vec2>& points, Vec2 q) {
  for (const Vec2& a : points) {
    for (const Vec2& b : points) {
      const Vec2 side = b - a;
      if (dot(side, side) < 1e-12) continue;
      const bool all_left =
          std::all_of(points.begin(), points.end(), [&](Vec2 p) { return cross(side, p - a) >= -1e-9; });
      if (all_left && cross(side, q - a) < 0.0) return false;
    }
  }
  return true;
}

}  // namespace

void settle_tops(GuidePlan& plan) {
  const auto settle = [&](GuideBoss& boss) {
    const RigidMotion frame = rim_frame(boss.drilling);
    for (int i = 0; i < checks_around; ++i) {
      const Vec2 aim = direction(Angle::from_degrees(360.0 * i / checks_around)) * boss.boss_radius;
      boss.top = std::max(boss.top, plan.outer.meet(frame, aim).height + least_boss_above);
    }
  };
  for (GuidePeg& peg : plan.pegs) settle(peg);
  for (GuideHole& hole : plan.holes) {
    settle(hole);
    if (!hole.plain && hole.top > hole.bush.length - 0.5 * bush_proud) {
      plan.notes.push_back("the bush of " + hole.id +
                           " ends inside its boss, which a ridge beside it raises");
    }
  }
}

void check_bosses(const GuidePlan& plan) {
  for (const GuideBoss* boss : plan.bosses()) {
    const RigidMotion frame = rim_frame(boss->drilling);
    double margin = 1e300;
    for (int i = 0; i < checks_around; ++i) {
      const Vec2 aim = direction(Angle::from_degrees(360.0 * i / checks_around)) * boss->boss_radius;
      const GuideFace::Meeting foot = plan.outer.meet(frame, aim);
      margin = std::min({margin, foot.at - plan.at.from, plan.at.to - foot.at});
      if (!plan.at.contains(foot.at)) break;
      const double radius = plan.outer.radius(foot.theta, foot.at);
      margin = std::min(margin, radius * (plan.foot_theta(plan.outer, 1, foot.at) - foot.theta));
      margin = std::min(margin, radius * (foot.theta - plan.foot_theta(plan.outer, -1, foot.at)));
      const Vec3 top = frame.apply({aim.x, aim.y, boss->top});
      margin = std::min(margin, dot(top - plan.foot.point, plan.foot.up));
    }
    if (margin >= edge_margin) continue;
    throw GeometryError(plan.name, "bosses",
                        "the boss of " + boss->id + " comes within " + number_text(margin, 3) +
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
    if (half < radians(pad_in_saddle_deg) && beside_pad) {
      throw GeometryError(plan.name, "pads",
                          "the tube is so bent that the saddle ends " + number_text(half * 180.0 / pi, 3) +
                              "° from its middle, inside its pads; use a shorter bed");
    }
  }
  if (plan.reach().length() <= longest) return;
  throw GeometryError(
      plan.name, "cutting to the bed",
      "it is " + number_text(plan.reach().length(), 4) + " long; the bed takes " + number_text(longest, 4));
}

void check_bearing(const GuidePlan& plan) {
  for (const GuideHole& hole : plan.holes) {
    if (inside_hull(bearing_seen_along(plan, rim_frame(hole.drilling)), {})) continue;
    throw GeometryError(plan.name, "bearing",
                        "the line of drilling of " + hole.id +
                            " passes outside its four pads: drilling there would tip the guide");
  }
}

void check_high_spots(const GuidePlan& plan, const Tube& tube) {
  for (const NodeBand& band : node_bands(tube)) {
    const Span over{std::max({band.at.from, plan.at.from, tube.end_a_at()}),
                    std::min({band.at.to, plan.at.to, tube.end_b_at()})};
    for (double at = over.from; at <= over.to; at += clear_step) {
      const Section section = tube.section(at);
      for (int i = 0; i < clear_around; ++i) {
        const double off = greatest_normal_deg * (2.0 * i / (clear_around - 1) - 1.0);
        const Vec3 p = plan.inner.point(plan.middle() + radians(off), at);
        const double clear = section.outside({p.x, p.y});
        if (clear >= least_clear) continue;
        throw GeometryError(plan.name, "reliefs",
                            "the skin comes within " + number_text(clear, 3) + " of the saddle at " +
                                number_text(at, 4) + ": the guide would rock there");
      }
    }
  }
}

}  // namespace culmwright::guide_parts
