#include "plan/drilling_depth.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "base/words.hpp"

namespace culmwright {

namespace {

constexpr double tip_per_diameter = 0.3;  ///< 1 / (2 tan 59°)
constexpr double beyond = 1.0;            ///< of the stop over what it takes for certain
constexpr double sigmas = 2.0;
constexpr double same_drill = 0.05;
constexpr int rim_count = 48;

/// The bush drops onto the skin: its lower end stands on the highest place of the skin under it.
double seat_of(const Tube& tube, const GuideHole& hole) {
  double seat = -1e300;
  const Drilling under{hole.drilling.point, hole.drilling.axis, 0.5 * hole.bush.outside};
  for (const RimPoint& point : rim(tube, under, rim_count)) seat = std::max(seat, point.depth);
  return seat;
}

/// Along the axis inward from the skin to the far side of the bore.
double far_inside(const Tube& tube, const Drilling& drilling, double wall) {
  const Section section = tube.section(-drilling.point.z);
  const Vec2 start{drilling.point.x, drilling.point.y};
  const Vec2 inward = Vec2{drilling.axis.x, drilling.axis.y} * -1.0;
  const double width = section.width(Angle::from_radians(std::atan2(drilling.axis.y, drilling.axis.x)));
  const auto beyond_bore = [&](double depth) { return section.outside_bore(start + inward * depth); };
  return find_root(beyond_bore, 0.5 * width, 1.1 * width + wall, 1e-6);
}

}  // namespace

DrillingDepth drilling_depth(const Tube& tube, const GuideHole& hole, double wall_sigma) {
  const Drilling pilot{hole.drilling.point, hole.drilling.axis, 0.5 * hole.drill()};
  const WallRange wall = wall_along_axis(tube, pilot);
  const double uncertain = sigmas * wall_sigma;
  DrillingDepth depth;
  depth.skin = hole.plain ? hole.top : seat_of(tube, hole) + hole.bush.length;
  depth.breaks_in = depth.skin + std::max(0.0, wall.least - uncertain);
  depth.through = depth.skin + wall.greatest + uncertain + tip_per_diameter * hole.drill();
  depth.far_wall = depth.skin + far_inside(tube, pilot, wall.greatest) - uncertain;
  depth.stop_at = depth.through + beyond;
  depth.room = depth.far_wall - depth.stop_at;
  return depth;
}

std::vector<std::string> depth_remarks(const GuideHole& hole, const DrillingDepth& depth, const Shop& shop) {
  std::vector<std::string> remarks;
  if (depth.room < least_room) {
    remarks.push_back(hole.id + ": only " + fixed_text(depth.room, 1) +
                      " left before the far wall: put a backing stick into the bore");
  }
  const auto drill = std::find_if(shop.drills.begin(), shop.drills.end(), [&](const Drill& d) {
    return d.kind != DrillKind::forstner && d.kind != DrillKind::step &&
           std::abs(d.diameter - hole.drill()) <= same_drill;
  });
  if (drill == shop.drills.end()) {
    if (!shop.drills.empty())
      remarks.push_back(hole.id + ": no straight drill of " + number_text(hole.drill()) + " in the drawer");
  } else if (drill->flute_length > 0.0 && drill->flute_length < depth.stop_at) {
    remarks.push_back(hole.id + ": the flutes of the drill of " + number_text(hole.drill()) + " are " +
                      number_text(drill->flute_length) + " long, the hole is " +
                      fixed_text(depth.stop_at, 1) +
                      " deep from the top of its guide: lift it often, for chips pack in the bush");
  }
  return remarks;
}

}  // namespace culmwright
