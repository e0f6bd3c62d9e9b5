/// A hand laid on a tube: exact derivatives, limits kept, symmetric, and never worse for growing.
#include <catch2/catch.hpp>
#include <random>

#include "base/angle.hpp"
#include "hand/hand_objective.hpp"
#include "hand/hand_solve.hpp"
#include "hand_samples.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

constexpr Firmness every_firmness[] = {yielding, firmer, firm};

/// Somewhere near the tube, every joint anywhere within its limits.
HandState random_state(const HandModel& hand, const HandTask& task, std::mt19937_64& random) {
  const auto between = [&](double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(random);
  };
  HandState state;
  Vector6 step;
  for (int i = 0; i < 3; ++i) step[i] = between(-40.0, 40.0);
  for (int i = 3; i < 6; ++i) step[i] = between(-0.7, 0.7);
  const Vec3 foot = task.tube.toward_foot;
  state.palm = moved_palm({foot, cross(task.front, foot), task.front, {20.0, -90.0, -220.0}}, step);
  for (const ReachTask& place : task.places) {
    const FingerModel& finger = hand.finger(place.finger);
    ChainTurns turns{};
    for (std::size_t t = 0; t < turns_per_chain; ++t)
      turns[t] = between(finger.least[t], finger.greatest[t] + 1e-9);
    state.turns.push_back(turns);
  }
  return state;
}

void check_slope(double difference, double gradient, double scale) {
  CHECK(std::abs(difference - gradient) < 2e-6 * scale + 1e-5);
}

HandTask with_everything() {
  HandTask task = right_hand_of_six();
  const HandTask sides = task_on_round_tube(Hand::right, 17.0, {{"RA", Finger::side, 4, -27}});
  task.places.push_back(sides.places.front());
  return task;
}

}  // namespace

TEST_CASE("gradients are those of the cost, against differences at random states") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = with_everything();
  std::mt19937_64 random(7);
  for (int round = 0; round < 40; ++round) {
    const HandState state = random_state(hand, task, random);
    const Firmness firmness = every_firmness[round % 3];
    Arrow arrow;
    judge(hand, task, state, firmness, arrow);
    CHECK(arrow.cost == Approx(cost_of(hand, task, state, firmness)));
    for (int k = 0; k < 6; ++k) {
      Vector6 step = Vector6::Zero();
      step[k] = k < 3 ? 1e-4 : 1e-6;
      HandState plus = state;
      HandState minus = state;
      plus.palm = moved_palm(state.palm, step);
      minus.palm = moved_palm(state.palm, -step);
      const double rise = cost_of(hand, task, plus, firmness) - cost_of(hand, task, minus, firmness);
      check_slope(rise / (2.0 * step[k]), arrow.gradient[k], arrow.gradient.norm());
    }
    for (std::size_t i = 0; i < state.turns.size(); ++i) {
      for (std::size_t t = 0; t < turns_per_chain; ++t) {
        constexpr double step = 1e-6;
        HandState plus = state;
        HandState minus = state;
        plus.turns[i][t] += step;
        minus.turns[i][t] -= step;
        const double rise = cost_of(hand, task, plus, firmness) - cost_of(hand, task, minus, firmness);
        check_slope(rise / (2.0 * step), arrow.chains[i].gradient[static_cast<int>(t)],
                    arrow.chains[i].gradient.norm());
      }
    }
  }
}

TEST_CASE("a hand of usual size reaches keys of usual spacing, joints within their limits") {
  for (const HandSize size : {HandSize{165, 72}, HandSize{184, 82}, HandSize{210, 96}}) {
    const HandModel hand = hand_model(size);
    for (const double radius : {13.0, 17.0, 21.0}) {
      const HandTask task = right_hand_of_six(radius);
      const HandOnTube laid = lay_hand(hand, task);
      INFO("hand " << size.length << ", tube " << 2.0 * radius);
      CHECK(laid.fingers_reach());
      for (std::size_t i = 0; i < laid.places.size(); ++i) {
        INFO(laid.places[i].id << " misses by " << laid.places[i].miss);
        const FingerModel& finger = hand.finger(laid.places[i].finger);
        for (std::size_t t = 0; t < turns_per_chain; ++t) {
          CHECK(laid.places[i].turns[t] >= finger.least[t]);
          CHECK(laid.places[i].turns[t] <= finger.greatest[t]);
        }
      }
    }
  }
}

TEST_CASE("side keys are reached with every finger at its key, on either hand, the wrist within its limits") {
  const HandModel hand = hand_model({192, 86});
  HandTask task = right_hand_of_six();
  const HandTask sides =
      task_on_round_tube(Hand::right, 17.0, {{"RA", Finger::side, 4, -27}, {"RB", Finger::side, 25, -26.5}});
  task.places.insert(task.places.end(), sides.places.begin(), sides.places.end());
  for (const HandTask& played : {task, mirrored(task)}) {
    const HandOnTube laid = lay_hand(hand, played);
    for (const ReachedPlace& place : laid.places) {
      INFO(place.id << " misses by " << place.miss);
      CHECK(place.reached);
    }
    CHECK(laid.extension < hand.wrist.extension_greatest);
    CHECK(laid.wrist_sideways > hand.wrist.sideways_least);
    CHECK(laid.wrist_sideways < hand.wrist.sideways_greatest);
  }
}

TEST_CASE("a hand on its tube is where the cost can be lowered no more") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandOnTube laid = lay_hand(hand, task);
  HandState state{laid.palm, {}};
  for (const ReachedPlace& place : laid.places) state.turns.push_back(place.turns);
  std::mt19937_64 random(3);
  std::normal_distribution<double> small(0.0, 0.01);
  for (int round = 0; round < 500; ++round) {
    HandState near = state;
    Vector6 step;
    for (int i = 0; i < 6; ++i) step[i] = (i < 3 ? 10.0 : 0.3) * small(random);
    near.palm = moved_palm(state.palm, step);
    for (std::size_t i = 0; i < near.turns.size(); ++i) {
      const FingerModel& finger = hand.finger(task.places[i].finger);
      for (std::size_t t = 0; t < turns_per_chain; ++t) {
        near.turns[i][t] = std::clamp(near.turns[i][t] + small(random), finger.least[t], finger.greatest[t]);
      }
    }
    CHECK(cost_of(hand, task, near, firm) > laid.cost - 1e-3);
  }
}

TEST_CASE("the other hand on the mirror image is the mirror image") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandTask mirror = mirrored(task);
  CHECK(mirror.hand == Hand::left);
  const HandOnTube right = lay_hand(hand, task);
  const HandOnTube left = lay_hand(hand, mirror);
  REQUIRE(left.places.size() == right.places.size());
  CHECK(left.cost == right.cost);
  for (std::size_t i = 0; i < left.places.size(); ++i) {
    CHECK(left.places[i].turns == right.places[i].turns);
    const ChainInSpace a = chain_in_space(hand, mirror, left, left.places[i].finger, left.places[i].turns);
    const ChainInSpace b = chain_in_space(hand, task, right, right.places[i].finger, right.places[i].turns);
    CHECK(length(a.pad - Vec3{b.pad.x, -b.pad.y, b.pad.z}) < 1e-12);
  }
}

TEST_CASE("turning the tube with everything on it turns the hand with it") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  HandTask turned = task;
  const auto about = [](Vec3 v) { return Vec3{-v.y, v.x, v.z}; };
  for (ReachTask& place : turned.places) {
    place.point = about(place.point);
    place.normal = about(place.normal);
  }
  turned.front = about(task.front);
  turned.elbow = about(task.elbow);
  const HandOnTube a = lay_hand(hand, task);
  const HandOnTube b = lay_hand(hand, turned);
  CHECK(a.cost == Approx(b.cost).epsilon(1e-4));
  CHECK(length(about(a.palm.origin) - b.palm.origin) < 0.5);
}

TEST_CASE("a key far beyond the little finger is named, and the others are still reached") {
  HandTask task = right_hand_of_six();
  const HandTask far = task_on_round_tube(Hand::right, 17.0, {{"R6", Finger::little, 190, 0}});
  task.places.push_back(far.places.front());
  const HandOnTube laid = lay_hand(hand_model({184, 82}), task);
  CHECK_FALSE(laid.fingers_reach());
  for (const ReachedPlace& place : laid.places) {
    if (place.finger == Finger::thumb) continue;
    INFO(place.id << " misses by " << place.miss);
    CHECK(place.reached == (place.id != "R6"));
  }
  CHECK(laid.places.back().miss > 30.0);
}

TEST_CASE("a thumb out of reach is no finger out of reach") {
  HandTask task = right_hand_of_three();
  const HandTask far = task_on_round_tube(Hand::right, 17.0, {{"RT", Finger::thumb, -160, -42}});
  task.places.push_back(far.places.front());
  const HandOnTube laid = lay_hand(hand_model({184, 82}), task);
  CHECK(laid.fingers_reach());
  CHECK_FALSE(laid.places.back().reached);
}

TEST_CASE("a growing hand reaches farther, never less") {
  // How far the little finger's key may stand from the index finger's.
  double before = 0.0;
  for (double size = 150.0; size <= 220.0; size += 10.0) {
    const HandModel hand = hand_model({size, 0.445 * size});
    double low = 40.0;
    double high = 200.0;
    while (high - low > 0.25) {
      const double along = 0.5 * (low + high);
      const HandTask task = task_on_round_tube(
          Hand::right, 15.0, {{"R1", Finger::index, 0, 0}, {"R4", Finger::little, along, -4}});
      (lay_hand(hand, task).fingers_reach() ? low : high) = along;
    }
    INFO("hand of " << size << " mm: " << low);
    CHECK(low > before);
    before = low;
  }
}

TEST_CASE("a finger that moves while the palm stays comes back to its own turns") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandOnTube laid = lay_hand(hand, task);
  const ReachedPlace& middle = laid.places[1];
  const FingerAt away =
      move_finger(hand, task, laid, moved_on_tube(task.places[1], task, 4.0, 2.0), middle.turns);
  CHECK(away.miss < 0.05);
  const FingerAt back = move_finger(hand, task, laid, task.places[1], away.turns);
  CHECK(back.miss < 0.05);
  for (std::size_t t = 0; t < turns_per_chain; ++t)
    CHECK(back.turns[t] == Approx(middle.turns[t]).margin(0.03));
}

TEST_CASE("a place moved on a round tube stays on it") {
  const HandTask task = right_hand_of_six(17.0);
  const ReachTask moved = moved_on_tube(task.places[0], task, 7.0, 5.0);
  CHECK(std::hypot(moved.point.x, moved.point.y) == Approx(17.0));
  CHECK(moved.point.z == Approx(task.places[0].point.z - 7.0));
  // Around grows to the player's left, +y with the front at +x and mouth end A.
  const double turned =
      std::atan2(moved.point.y, moved.point.x) - std::atan2(task.places[0].point.y, task.places[0].point.x);
  CHECK(17.0 * turned == Approx(5.0));
}
