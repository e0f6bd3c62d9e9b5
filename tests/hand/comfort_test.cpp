/// Comfort: margins are what they say, and what strains costs more.
#include <catch2/catch.hpp>

#include "base/angle.hpp"
#include "hand/comfort.hpp"
#include "hand_samples.hpp"

using namespace culmwright;
using namespace culmwright::test;

TEST_CASE("a touch moved by less than its margin is reached, by more it is not") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandComfort comfort = hand_comfort(hand, task);
  int limited = 0;
  for (std::size_t i = 0; i < comfort.places.size(); ++i) {
    const ReachMargin& margin = comfort.places[i].margin;
    const struct {
      double far, along, around;
    } ways[] = {{margin.toward_mouth, -1, 0},
                {margin.toward_foot, 1, 0},
                {margin.to_left, 0, 1},
                {margin.to_right, 0, -1}};
    for (const auto& way : ways) {
      INFO(comfort.places[i].place.id << " " << way.along << " " << way.around << ": " << way.far);
      const auto miss = [&](double distance) {
        const ReachTask moved =
            moved_on_tube(task.places[i], task, way.along * distance, way.around * distance);
        return move_finger(hand, task, comfort.laid, moved, comfort.places[i].place.turns).miss;
      };
      if (way.far > 0.5) CHECK(miss(0.5 * way.far) < 0.5);
      if (way.far < farthest_margin) {
        ++limited;
        CHECK(miss(way.far + 3.0) > 0.5);
      }
    }
  }
  CHECK(limited > 4);
}

TEST_CASE("the corners of a reach area agree with the margins") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandComfort comfort = hand_comfort(hand, task);
  const std::vector<Offset> area = reach_area(hand, task, comfort.laid, 1, farthest_margin, 4);
  CHECK(area[0].along == Approx(comfort.places[1].margin.toward_foot));
  CHECK(area[1].around == Approx(comfort.places[1].margin.to_left));
  CHECK(area[2].along == Approx(-comfort.places[1].margin.toward_mouth));
  CHECK(area[3].around == Approx(-comfort.places[1].margin.to_right));
}

TEST_CASE("a way between two keys of a finger is as long as they stand apart") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandComfort comfort = hand_comfort(hand, task);
  REQUIRE(comfort.ways.size() == 1);
  CHECK(comfort.ways[0].from == "R4");
  CHECK(comfort.ways[0].to == "R5");
  CHECK(comfort.ways[0].distance == Approx(length(task.places[4].point - task.places[3].point)));
  CHECK(comfort.ways[0].turn > 0.0);
}

TEST_CASE("the room on a finger's way is the least that it has beside its neighbours, wherever it is on it") {
  const HandModel hand = hand_model({184, 82});
  const HandTask task = right_hand_of_six();
  const HandComfort comfort = hand_comfort(hand, task);
  REQUIRE(comfort.ways.size() == 1);
  REQUIRE(comfort.ways[0].room);
  // Points of the segments one by one, instead of nearest points: R3 holds, R4 goes to R5.
  const auto in_between = [](const ChainPose& pose, std::size_t k, double share) {
    return pose.joints[k] * (1.0 - share) + pose.joints[k + 1] * share;
  };
  const auto& places = comfort.laid.places;
  const ChainPose held = chain_pose(hand, Finger::ring, places[2].turns);
  const FingerModel& ring = hand.finger(Finger::ring);
  const FingerModel& little = hand.finger(Finger::little);
  double least = 1e9;
  for (int step = 0; step <= 40; ++step) {
    ChainTurns turns{};
    for (std::size_t t = 0; t < turns_per_chain; ++t) {
      turns[t] = places[3].turns[t] + step / 40.0 * (places[4].turns[t] - places[3].turns[t]);
    }
    const ChainPose pose = chain_pose(hand, Finger::little, turns);
    for (std::size_t a = 1; a < 3; ++a) {
      for (std::size_t b = 1; b < 3; ++b) {
        for (int i = 0; i <= 40; ++i) {
          for (int k = 0; k <= 40; ++k) {
            const double apart = length(in_between(held, a, i / 40.0) - in_between(pose, b, k / 40.0));
            least = std::min(least, apart - ring.radius[a] - little.radius[b]);
          }
        }
      }
    }
  }
  CHECK(*comfort.ways[0].room == Approx(least).margin(0.1));
}

TEST_CASE("a way that presses on the finger beside it costs points, and a thumb has none beside it") {
  const HandModel broad = hand_model({200, 110});
  const auto ways_at = [&](double along) {
    return hand_comfort(broad, task_on_round_tube(Hand::right, 17.0,
                                                  {{"R3", Finger::ring, 0, 0},
                                                   {"R4", Finger::little, along, 0},
                                                   {"R5", Finger::little, along, -16},
                                                   {"RT", Finger::thumb, -16, -42},
                                                   {"RO", Finger::thumb, -26, -42}}));
  };
  const HandComfort wide = ways_at(24.0);
  const HandComfort tight = ways_at(13.0);
  REQUIRE(tight.ways.size() == 2);
  REQUIRE(tight.ways[0].room);
  CHECK(*tight.ways[0].room < 0.0);
  CHECK(*wide.ways[0].room > *tight.ways[0].room);
  CHECK(tight.way_points > wide.way_points);
  CHECK_FALSE(tight.ways[1].room);
}

TEST_CASE("keys spread beyond what a hand does at ease cost points") {
  const HandModel hand = hand_model({170, 75});
  const auto points = [&](double apart) {
    return hand_comfort(hand, task_on_round_tube(Hand::right, 15.0,
                                                 {{"R1", Finger::index, 0, 0},
                                                  {"R2", Finger::middle, apart, 0},
                                                  {"R3", Finger::ring, 2 * apart, 0},
                                                  {"R4", Finger::little, 3 * apart, -4}}));
  };
  const HandComfort easy = points(19.0);
  const HandComfort wide = points(29.0);
  CHECK(wide.points() > easy.points() + 2.0);
  CHECK(wide.spread_points > easy.spread_points);
  for (const SpreadComfort& spread : easy.spreads) CHECK(spread.share() < 1.0);
}
