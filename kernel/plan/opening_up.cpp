/// Opening pilot holes up: which drills, and how deep.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "base/words.hpp"
#include "plan/drilling_schedule.hpp"

namespace culmwright {

namespace {

using namespace drilling_practice;

constexpr double tip_per_diameter = 0.3;  ///< 118° point: 1 / (2 tan 59°)
constexpr double sigmas = 2.0;
constexpr int rim_count = 48;

double hole_of(const Drill& drill) {
  return drill.measured_hole.value_or(drill.diameter);
}

/// Of drills of one size: spurs cut the fibres of the rim first, a twist drill wedges them apart.
int rank_of(DrillKind kind) {
  return kind == DrillKind::brad_point ? 0 : kind == DrillKind::forstner ? 1 : 2;
}

/// Along the axis inward from the skin to the far side of the bore, `aside` from the axis in the section.
double far_side(const Tube& tube, const Drilling& drilling, double aside) {
  const Section section = tube.section(-drilling.point.z);
  const Vec2 inward = unit(Vec2{drilling.axis.x, drilling.axis.y} * -1.0);
  const Vec2 start = Vec2{drilling.point.x, drilling.point.y} + Vec2{-inward.y, inward.x} * aside;
  const double width = section.width(Angle::from_radians(std::atan2(drilling.axis.y, drilling.axis.x)));
  double in_bore = 0.0;
  double deepest = 1e300;
  for (double depth = 0.0; depth <= width; depth += 0.02 * width) {
    const double out = section.outside_bore(start + inward * depth);
    if (out >= deepest) continue;
    deepest = out;
    in_bore = depth;
  }
  if (deepest >= 0.0) return 0.0;  // the line passes beside the bore
  return find_root([&](double depth) { return section.outside_bore(start + inward * depth); }, in_bore,
                   1.2 * width, 1e-6);
}

}  // namespace

std::string drill_words(const Drill& drill) {
  const char* kind = drill.kind == DrillKind::twist        ? "twist drill "
                     : drill.kind == DrillKind::brad_point ? "brad-point drill "
                     : drill.kind == DrillKind::forstner   ? "Forstner bit "
                                                           : "step drill ";
  return kind + number_text(drill.diameter) + " mm";
}

double tip_length(const Drill& drill) {
  if (drill.kind == DrillKind::brad_point) return brad_point;
  if (drill.kind == DrillKind::forstner) return forstner_point;
  return tip_per_diameter * drill.diameter;
}

bool is_tuned(const Key& key) {
  return key.leeway.along == 0.0 && (key.cup == CupKind::padded_cup || key.cup == CupKind::sleeve);
}

std::vector<Drill> opening_drills(const Shop& shop, double from, double largest) {
  std::vector<Drill> fit;
  for (const Drill& drill : shop.drills) {
    if (drill.kind == DrillKind::step || hole_of(drill) <= from + same_size ||
        hole_of(drill) > largest + 1e-9)
      continue;
    fit.push_back(drill);
  }
  std::stable_sort(fit.begin(), fit.end(), [](const Drill& a, const Drill& b) {
    if (hole_of(a) != hole_of(b)) return hole_of(a) < hole_of(b);
    return rank_of(a.kind) < rank_of(b.kind);
  });
  std::vector<Drill> chosen;
  double reached = from;
  for (std::size_t i = 0; i < fit.size(); ++i) {
    // Taken when the next one would be too great a step, and at the end. Of one size: the first.
    const bool last = hole_of(fit.back()) <= hole_of(fit[i]) + same_size;
    std::size_t next = i + 1;
    while (next < fit.size() && hole_of(fit[next]) <= hole_of(fit[i]) + same_size) ++next;
    if (last || hole_of(fit[next]) - reached > opening_step + 1e-9) {
      chosen.push_back(fit[i]);
      reached = hole_of(fit[i]);
    }
    i = next - 1;
  }
  return chosen;
}

OpeningDepth opening_depth(const DrillBench& bench, const PlacedKey& key, const Drill& drill) {
  const Drilling bore{key.drilling.point, key.drilling.axis, 0.5 * drill.diameter};
  double lowest = 0.0;
  for (int i = 0; i < rim_count; ++i) {
    const double depth = bore_depth(bench.tube(), bore, Angle::from_degrees(360.0 * i / rim_count));
    lowest = std::max(lowest, -depth);
  }
  const Angle theta = Angle::from_radians(std::atan2(bore.axis.y, bore.axis.x));
  const double uncertain = sigmas * bench.fit.wall_sigma(-bore.point.z, theta);
  const double tip = tip_length(drill);
  OpeningDepth opening;
  opening.stop = lowest + uncertain + tip + beyond;
  const double at_rim =
      std::min(far_side(bench.tube(), bore, bore.radius), far_side(bench.tube(), bore, -bore.radius));
  const double at_tip = far_side(bench.tube(), bore, 0.0);
  opening.room = std::min(at_tip - opening.stop, at_rim - (opening.stop - tip)) - uncertain;
  return opening;
}

}  // namespace culmwright
