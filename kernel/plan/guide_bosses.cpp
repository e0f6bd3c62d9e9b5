/// Bosses of holes and pegs, and what keeps them apart.
#include <algorithm>
#include <cmath>

#include "plan/guide_parts.hpp"

namespace culmwright::guide_parts {

using namespace guide_sizes;

namespace {

constexpr double bush_guides = 1.5;      ///< guide length over pilot diameter, at least
constexpr double boss_above = 2.5;       ///< of a boss over the saddle, about, for the choice of the bush
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

}  // namespace culmwright::guide_parts
