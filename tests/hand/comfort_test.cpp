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
