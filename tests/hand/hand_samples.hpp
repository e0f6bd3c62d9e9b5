#pragma once
/// Hands on straight round tubes, for the tests: places by finger, along and around as a key layout has them.
#include <cmath>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "hand/hand_task.hpp"

namespace culmwright::test {

struct SamplePlace {
  std::string id;
  Finger finger;
  double along;
  double around;
};

/// Mouth end A, front toward x, the first place's mark at along 200; elbow as for a tube 40° below the level.
inline HandTask task_on_round_tube(Hand hand, double radius, const std::vector<SamplePlace>& places) {
  HandTask task;
  task.hand = hand;
  const double mark = 200.0;
  for (const SamplePlace& place : places) {
    const double turn = place.around / radius;
    const Vec3 normal{std::cos(turn), std::sin(turn), 0.0};
    task.places.push_back(
        {place.id, place.finger, normal * radius + Vec3{0, 0, -mark - place.along}, normal, false});
  }
  task.tube = {{0, 0, -mark}, {0, 0, -1}, radius, 0.0};
  task.front = {1, 0, 0};
  const double angle = 40.0 * pi / 180.0;
  const Vec3 left{0, 1, 0};
  const Vec3 up = task.front * std::cos(angle) - task.tube.toward_foot * std::sin(angle);
  const Vec3 forward = task.tube.toward_foot * std::cos(angle) + task.front * std::sin(angle);
  task.elbow = up * -330.0 + left * (hand == Hand::left ? 230.0 : -230.0) + forward * 60.0;
  return task;
}

/// Four fingers, a second key of the little finger, and the thumb behind.
inline HandTask right_hand_of_six(double radius = 17.0) {
  return task_on_round_tube(Hand::right, radius,
                            {{"R1", Finger::index, 0, -3.6},
                             {"R2", Finger::middle, 20.5, 0.8},
                             {"R3", Finger::ring, 41, -1.8},
                             {"R4", Finger::little, 60, -8},
                             {"R5", Finger::little, 70, -19.5},
                             {"RT", Finger::thumb, 24, -42}});
}

/// Index to ring finger only: nothing that strains.
inline HandTask right_hand_of_three(double radius = 17.0) {
  return task_on_round_tube(
      Hand::right, radius,
      {{"R1", Finger::index, 0, -3.6}, {"R2", Finger::middle, 20.5, 0.8}, {"R3", Finger::ring, 41, -1.8}});
}

}  // namespace culmwright::test
