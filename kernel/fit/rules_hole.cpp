/// The hole itself: its width, its tilt, and what stands behind it.
#include <algorithm>
#include <cmath>

#include "base/numeric.hpp"
#include "fit/rule_checks.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Length of a twist drill's point over its diameter: 118° included, ½ / tan 59°. Common practice; brad
/// points and piloted bits are shorter.
const double point_per_diameter = 0.5 / std::tan(59.0 * pi / 180.0);

/// Depth along the axis (0 at the skin, negative inward) at which a line parallel to it, through `start`,
/// leaves the bore on the far side.
double far_wall_depth(const Tube& tube, const Drilling& drilling, Vec3 start) {
  const auto outside_bore = [&](double depth) {
    const Vec3 p = start + drilling.axis * depth;
    return tube.section(-p.z).outside_bore({p.x, p.y});
  };
  const double width = tube.section(-drilling.point.z).girth() / pi;
  // Inside the bore: where the line comes nearest to the middle of the section.
  const double middle = -(start.x * drilling.axis.x + start.y * drilling.axis.y);
  if (outside_bore(middle) >= 0.0) return middle;  // the line misses the bore: no room at all
  return find_root(outside_bore, middle, middle - width, 1e-9);
}

/// Room between the drill and the far wall at the moment its full width is through the near one.
double room_behind(const Tube& tube, const Drilling& drilling) {
  constexpr int directions = 24;
  const RigidMotion frame = rim_frame(drilling);
  double through = 0.0;
  for (int i = 0; i < directions; ++i) {
    through = std::min(through, bore_depth(tube, drilling, Angle::from_degrees(360.0 * i / directions)));
  }
  const double tip = through - point_per_diameter * 2.0 * drilling.radius;
  double room = tip - far_wall_depth(tube, drilling, drilling.point);
  for (int i = 0; i < directions; ++i) {
    const Angle phi = Angle::from_degrees(360.0 * i / directions);
    const Vec3 edge = drilling.point + (frame.x * phi.cos() + frame.y * phi.sin()) * drilling.radius;
    room = std::min(room, through - far_wall_depth(tube, drilling, edge));
  }
  return room;
}

/// Nothing more is drilled there.
bool is_through(const PlacedKey& placed) {
  return placed.drilled && placed.drilled->state != DrilledState::pilot;
}

}  // namespace

std::vector<Finding> hole_to_width(const LaidOut& laid) {
  Tally tally("hole-to-width");
  const double limit = laid.layout.limits.hole_to_width;
  for (const PlacedKey& placed : laid.instrument.keys) {
    const Section section = laid.tube.section(placed.place.at);
    const Angle aim = Angle::from_radians(std::atan2(placed.drilling.axis.y, placed.drilling.axis.x));
    const double width = section.width(aim + Angle::from_degrees(90.0));
    Finding finding = tally.at_most(placed.key.hole_diameter / width, limit);
    finding.ids = {placed.key.id};
    finding.place = placed.place;
    finding.sentence = "Hole " + placed.key.id + " of " + millimetres(placed.key.hole_diameter) + " takes " +
                       percent(finding.value) + " of the tube's width of " + millimetres(width) +
                       " there; at most " + percent(limit) + " is allowed.";
    tally.add(std::move(finding));
  }
  return std::move(tally).take();
}

std::vector<Finding> hole_tilt(const LaidOut& laid) {
  Tally tally("hole-tilt");
  const double limit = laid.layout.limits.tilt.degrees();
  for (const PlacedKey& placed : laid.instrument.keys) {
    if (is_through(placed)) continue;  // how it leans was not measured
    Finding finding = tally.at_most(placed.tilt.degrees(), limit);
    finding.ids = {placed.key.id};
    finding.place = placed.place;
    finding.sentence = "Hole " + placed.key.id + " leans " + degrees_of(finding.value) +
                       " from square to the skin; at most " + degrees_of(limit) + " is allowed.";
    tally.add(std::move(finding));
  }
  return std::move(tally).take();
}

std::vector<Finding> break_through(const LaidOut& laid) {
  Tally tally("break-through");
  const double limit = laid.layout.limits.break_through;
  for (const PlacedKey& placed : laid.instrument.keys) {
    if (is_through(placed)) continue;
    Finding finding = tally.at_least(room_behind(laid.tube, placed.drilling), limit);
    finding.ids = {placed.key.id};
    finding.place = placed.place;
    finding.sentence = "When hole " + placed.key.id + " is through, the drill has " +
                       millimetres(finding.value) + " to the far wall; it needs " + millimetres(limit) + ".";
    tally.add(std::move(finding));
  }
  return std::move(tally).take();
}

}  // namespace culmwright
