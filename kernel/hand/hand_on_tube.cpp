#include "hand/hand_on_tube.hpp"

#include <algorithm>

namespace culmwright {

namespace {

/// From the mouth end of the tube to an elbow that hangs beside the body: down, aside, forward. Common
/// practice; the forearm's direction changes little with it.
constexpr double elbow_down = 330.0;
constexpr double elbow_aside = 230.0;
constexpr double elbow_forward = 60.0;

bool is_rest_of(const PlacedPart& part, Hand hand) {
  return part.part.kind == PartKind::thumb_rest &&
         part.part.from == (hand == Hand::left ? From::left_hand : From::right_hand);
}

/// Over the span of `places`, from the tube's girths.
TubeNearHand tube_near(const Tube& tube, const Instrument& instrument, const std::vector<ReachTask>& places) {
  const double sense = instrument.mouth_end == End::a ? 1.0 : -1.0;
  double low = 1e300;
  double high = -1e300;
  for (const ReachTask& place : places) {
    low = std::min(low, -place.point.z);
    high = std::max(high, -place.point.z);
  }
  const double reach = 20.0;  // so that a single key gives a slope too
  low = std::max(low - reach, tube.end_a_at());
  high = std::min(high + reach, tube.end_b_at());
  const Section section = tube.section(0.5 * (low + high));
  // The middle of the section: halfway between opposite tangents.
  const auto half = [&](double degrees) {
    return 0.5 * (section.base_support(Angle::from_degrees(degrees)).f -
                  section.base_support(Angle::from_degrees(degrees + 180.0)).f);
  };
  TubeNearHand near;
  near.middle = {half(0.0), half(90.0), -section.at()};
  near.toward_foot = {0.0, 0.0, -sense};
  near.radius = section.girth() / (2.0 * pi);
  near.slope = sense * (tube.girth(high) - tube.girth(low)) / (2.0 * pi * (high - low));
  return near;
}

Vec3 elbow_of(const Instrument& instrument, Hand hand, Angle playing_angle, Vec3 front, Vec3 foot) {
  const Vec3 left = cross(front, foot);
  const Vec3 forward = foot * playing_angle.cos() + front * playing_angle.sin();
  const Vec3 up = front * playing_angle.cos() - foot * playing_angle.sin();
  const Vec3 mouth{0.0, 0.0, -instrument.mouth_cut_at};
  return mouth - up * elbow_down + left * (hand == Hand::left ? elbow_aside : -elbow_aside) +
         forward * elbow_forward;
}

}  // namespace

std::optional<HandTask> hand_task(const Tube& tube, const Instrument& instrument, Hand hand,
                                  Angle playing_angle) {
  HandTask task;
  task.hand = hand;
  for (const PlacedKey& key : instrument.keys) {
    if (key.key.hand != hand) continue;
    const SkinPoint skin = tube.skin_point(key.place);
    task.places.push_back({key.key.id, key.key.finger, skin.point, skin.normal, false});
  }
  if (task.places.empty()) return std::nullopt;
  for (const PlacedPart& part : instrument.parts) {
    if (!is_rest_of(part, hand)) continue;
    task.places.push_back({part.part.id, Finger::thumb, part.point, part.normal, true});
  }
  task.tube = tube_near(tube, instrument, task.places);
  const Vec2 facing = direction(instrument.facing);
  task.front = {facing.x, facing.y, 0.0};
  task.elbow = elbow_of(instrument, hand, playing_angle, task.front, task.tube.toward_foot);
  return task;
}

}  // namespace culmwright
