/// The solver against a general least-squares library on the same problem, written a second time.
#include "ceres_hand.hpp"

// The library's logging has a macro of this name too.
#undef CHECK
#include <catch2/catch.hpp>
#include <random>

#include "hand_samples.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

HandState state_of(const HandOnTube& laid) {
  HandState state{laid.palm, {}};
  for (const ReachedPlace& place : laid.places) state.turns.push_back(place.turns);
  return state;
}

}  // namespace

TEST_CASE("a general library finds the same hand on the tube, and the same cost for it") {
  for (const HandSize size : {HandSize{165, 72}, HandSize{184, 82}, HandSize{205, 94}}) {
    const HandModel hand = hand_model(size);
    for (const double radius : {13.0, 17.0, 20.0}) {
      const HandTask task = right_hand_of_six(radius);
      const HandOnTube laid = lay_hand(hand, task);
      INFO("hand " << size.length << ", tube " << 2.0 * radius);
      const ByCeres there = solve_by_ceres(hand, task, state_of(laid));
      // The two were written apart: rotation lines here, rotation matrices there.
      CHECK(there.first_cost == Approx(laid.cost).epsilon(1e-9));
      // No better place near it: what is left is less than a thousandth; the cost is flat there.
      CHECK(there.cost > laid.cost * 0.999);
      CHECK(length(there.state.palm.origin - laid.palm.origin) < 0.5);
    }
  }
}

TEST_CASE("the library comes back to the same hand from near by") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandOnTube laid = lay_hand(hand, task);
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal(0.0, 1.0);
  for (int round = 0; round < 5; ++round) {
    HandState start = state_of(laid);
    Vector6 step;
    for (int i = 0; i < 6; ++i) step[i] = (i < 3 ? 2.0 : 0.04) * normal(random);
    start.palm = moved_palm(start.palm, step);
    const ByCeres there = solve_by_ceres(hand, task, start);
    CHECK(there.first_cost > laid.cost + 5.0);
    CHECK(there.cost == Approx(laid.cost).epsilon(1e-4));
  }
}
