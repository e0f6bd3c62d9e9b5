/// Bosses of holes and pegs, and what keeps them apart.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr double bush_guides = 1.5;   ///< guide length over pilot diameter, at least
constexpr double boss_above = 6.5;    ///< of a bush over the saddle: room for its lock, and to pull it by
constexpr double plain_guides = 1.5;  ///< guide length of a plain bore over its drill
constexpr double chip_window = 0.5;   ///< diameter of the window over the drill's
constexpr double side_wall = 1.2;     ///< over and under a side bore
constexpr int side_directions = 16;
constexpr double driver_reach = 25.0;  ///< a screwdriver's way out from the boss
constexpr double driver_radius = 3.5;
constexpr double foot_angle_deg = 80.0;  ///< the saddle reaches at least about so far from its middle

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

}  // namespace

bool bosses_clear(const GuideBoss& a, const GuideBoss& b, double level) {
  const auto axis = [&](const GuideBoss& hole) {
    const Vec3 low = hole.drilling.point + hole.drilling.axis * (0.5 * level);
    return BossAxis{low, hole.drilling.point + hole.drilling.axis * hole.top};
  };
  return distance_between(axis(a), axis(b)) >= a.boss_radius + b.boss_radius + boss_web;
}

namespace {

GuideHole plain_hole(const PlacedKey& key, const Shop& shop) {
  GuideHole hole;
  hole.id = key.key.id;
  hole.drilling = key.drilling;
  hole.plain = true;
  const double drill = key.key.hole_diameter;
  hole.bush = {drill, 0.0, 0.0};
  hole.bore_radius = plain_bore_radius(shop, drill);
  hole.boss_radius = hole.bore_radius + shop.boss_wall;
  const double window = chip_window * drill + 2.0 * side_wall;
  hole.top = std::max(plain_guides * drill, outer_level(shop) + window + 1.0);
  return hole;
}

}  // namespace

std::vector<GuideHole> corner_holes(const Tube& tube, const PlacedPart& opening, const Shop& shop) {
  const double radius = corner_radius_of(opening.part, shop);
  const double along = 0.5 * opening.part.length - radius;
  const double around = 0.5 * opening.part.width - radius;
  std::vector<GuideHole> corners;
  for (const Vec2 off : {Vec2{-1, -1}, Vec2{-1, 1}, Vec2{1, 1}, Vec2{1, -1}}) {
    const SkinPlace place{opening.place.at + off.x * along, opening.place.around + off.y * around};
    GuideHole hole;
    hole.id = opening.part.id + std::to_string(corners.size() + 1);
    hole.corner_of = opening.part.id;
    hole.drilling = drilling_at(tube, place, HoleSquare::to_skin, radius);
    hole.plain = true;
    hole.bush = {shop.pilot_diameter, 0.0, 0.0};
    hole.bore_radius = plain_bore_radius(shop, shop.pilot_diameter);
    hole.boss_radius = hole.bore_radius + std::min(peg_wall, shop.boss_wall);
    hole.top = std::max(plain_guides * shop.pilot_diameter, outer_level(shop) + peg_boss_above);
    corners.push_back(hole);
  }
  return corners;
}

GuideHole guide_hole(const PlacedKey& key, const Shop& shop) {
  if (shop.bores == GuideBores::full_size && key.key.hole_diameter <= shop.full_size_up_to)
    return plain_hole(key, shop);
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

double reach_of(const GuideBoss& hole, double level) {
  const double radius = length(Vec2{hole.drilling.point.x, hole.drilling.point.y}) + level;
  const double half = std::asin(std::min(0.95, hole.boss_radius / radius)) + (edge_margin + 1.0) / radius;
  return std::max(0.05, foot_angle_deg * pi / 180.0 - half);
}

GuidePeg guide_peg(const GuideHole& hole, const Shop& shop, const std::string& drilled_by) {
  GuidePeg peg;
  peg.id = hole.id;
  peg.drilling = hole.drilling;
  peg.diameter = shop.pilot_diameter;
  peg.drilled_by = drilled_by;
  peg.bore_radius = peg_bore_radius(shop);
  peg.boss_radius = peg.bore_radius + std::min(peg_wall, shop.boss_wall);
  peg.top = outer_level(shop) + peg_boss_above;
  return peg;
}

namespace {

/// The highest that the saddle or a ridge stands at a boss's foot within a side bore's width.
double foot_toward(const GuidePlan& plan, const GuideBoss& boss, Angle toward, double radius) {
  const RigidMotion frame = rim_frame(boss.drilling);
  const double half = std::asin(std::min(1.0, radius / boss.boss_radius));
  double highest = -1e300;
  for (int i = -2; i <= 2; ++i) {
    const Angle aim = Angle::from_radians(toward.radians() + 0.5 * half * i);
    highest = std::max(highest, plan.outer.meet(frame, direction(aim) * boss.boss_radius).height);
  }
  return highest;
}

/// How far a screwdriver's way from the boss outward stays clear of the other bosses and of the saddle.
double way_out(const GuidePlan& plan, const GuideBoss& boss, Angle toward, double height) {
  const RigidMotion frame = rim_frame(boss.drilling);
  const Vec2 aim = direction(toward);
  double clear = driver_reach;
  for (double out = boss.boss_radius + 1.0; out <= boss.boss_radius + driver_reach; out += 2.0) {
    const Vec3 p = frame.apply({aim.x * out, aim.y * out, height});
    for (const GuideBoss* other : plan.bosses()) {
      if (other == &boss) continue;
      const RigidMotion about = rim_frame(other->drilling);
      const Vec3 q = about.inverse().apply(p);
      if (q.z > other->top + driver_radius) continue;
      clear = std::min(clear, std::hypot(q.x, q.y) - other->boss_radius - driver_radius);
    }
  }
  return clear;
}

/// Where the boss has height for it, from the side that leaves most room to get at it.
std::optional<SideBore> side_bore(const GuidePlan& plan, const GuideBoss& boss, double radius) {
  std::optional<SideBore> best;
  double most = -1e300;
  for (int i = 0; i < side_directions; ++i) {
    // Around the tube first: there the saddle falls away from the boss.
    const Angle toward = Angle::from_degrees(90.0 + 360.0 * i / side_directions);
    const double low = foot_toward(plan, boss, toward, radius);
    if (boss.top - low < 2.0 * (radius + side_wall)) continue;
    const double height = 0.5 * (boss.top + low);
    const double clear = way_out(plan, boss, toward, height);
    if (clear <= most + 1e-6) continue;
    most = clear;
    best = SideBore{toward, height, radius};
  }
  return most > 0.0 ? best : std::nullopt;
}

}  // namespace

void add_side_bores(const Shop& shop, GuidePlan& plan) {
  std::vector<std::string> unlocked;
  for (GuideHole& hole : plan.holes) {
    const double diameter = hole.plain ? chip_window * hole.drill() : lock_core;
    hole.side = side_bore(plan, hole, 0.5 * (diameter + shop.printer.hole_undersize));
    if (!hole.side) unlocked.push_back(hole.id);
  }
  if (unlocked.empty()) return;
  plan.notes.push_back("no room for a side bore in the boss of " + listed(unlocked, " and ") +
                       ": hold a bush there down by hand, and clear chips more often");
}

}  // namespace culmwright::guide_parts
