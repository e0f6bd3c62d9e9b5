#include "plan/wire_ways.hpp"

#include <cmath>

#include "plan/wire_list.hpp"

namespace culmwright {

namespace {

constexpr double along_step = 5.0;  ///< where the bore's width is looked at

}  // namespace

std::vector<WireSource> wire_sources(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  std::vector<WireSource> sources;
  for (const PlacedKey& key : instrument.keys) {
    const int wires = wires_of(key.key);
    if (wires == 0) continue;
    const bool says = key.key.cup_shape && key.key.cup_shape->wire_way;
    const double way = says                                  ? *key.key.cup_shape->wire_way
                       : key.key.cup == CupKind::switch_seat ? shop.cups.wire_way
                                                             : 0.0;
    sources.push_back({key.key.id, wires, key.key.wires_to, key.place.at, key.theta, key.wall, way});
  }
  for (const PlacedPart& part : instrument.parts) {
    const int wires = part.part.wires.value_or(0);
    if (wires == 0 || part.part.kind == PartKind::opening) continue;
    const double way = part.part.shape ? part.part.shape->wire_way.value_or(0.0) : 0.0;
    sources.push_back(
        {part.part.id, wires, part.part.wires_to, part.place.at, part.theta, tube.wall(part.place), way});
  }
  return sources;
}

std::vector<WireExit> wire_exits(const Tube& tube, const Instrument& instrument) {
  std::vector<WireExit> exits;
  for (const PlacedPart& part : instrument.parts) {
    if (part.part.kind != PartKind::opening) continue;
    const double reach = 0.5 * part.part.length;
    exits.push_back({part.part.id, part.place.at - reach, part.place.at + reach, part.theta,
                     tube.wall(part.place), std::min(part.part.length, part.part.width)});
  }
  const double mouth = instrument.mouth_cut_at, foot = instrument.foot_cut_at;
  exits.push_back({wires_to_mouth_end, mouth, mouth, {}, 0.0, 1e300});
  exits.push_back({wires_to_foot_end, foot, foot, {}, 0.0, 1e300});
  return exits;
}

double bore_across(const Tube& tube, double at) {
  const Section section = tube.section(at);
  double least = 1e300;
  for (int i = 0; i < 36; ++i) {
    const Angle theta = Angle::from_degrees(5.0 * i);
    least = std::min(
        least, section.bore_support(theta).f + section.bore_support(theta + Angle::from_degrees(180.0)).f);
  }
  return least;
}

double narrowest_bore(const Tube& tube, double from, double to) {
  const auto [low, high] = std::minmax(from, to);
  const int steps = 1 + static_cast<int>((high - low) / along_step);
  double least = 1e300;
  for (int i = 0; i <= steps; ++i) least = std::min(least, bore_across(tube, low + (high - low) * i / steps));
  return least;
}

}  // namespace culmwright
