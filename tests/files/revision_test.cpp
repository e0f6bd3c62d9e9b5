#include <catch2/catch.hpp>

#include "files/documents.hpp"

using namespace culmwright;

TEST_CASE("what a revision changed is written and read back with every number's history") {
  Placement placement;
  placement.id = "p";
  placement.tube_id = "t";
  placement.layout_id = "k";
  placement.mouth_cut_at.value = 0.0;
  placement.foot_cut_at.value = 400.0;
  PlacedId before;
  before.id = "L1";
  before.at.value = 123.25;
  before.at.origin = Origin::measured;
  before.at.revision = 1;
  before.at.error = 0.5;
  before.around.value = -3.5;
  Revision second{2, "2026-03-01", "Shifted: L1 2 mm toward foot"};
  second.before = Earlier{};
  second.before->keys = {before};
  second.before->unlisted = {"L2", "rest"};
  second.before->left_mark = HandMark{90.0, 1.0};
  second.before->held = Held{};
  second.before->held->mouth_end = End::b;
  second.before->held->foot_cut_at.value = 410.0;
  Revision third{3, "2026-03-02", "Undone: revision 2"};
  third.undoes = 2;
  placement.revisions = {{1, "2026-02-01", "First placement"}, second, third};
  const std::string text = placement_to_json(placement);
  const Placement back = read_placement_text(text, "placement").value;
  CHECK(placement_to_json(back) == text);
  REQUIRE(back.revisions.size() == 3);
  REQUIRE(back.revisions[1].before.has_value());
  const Earlier& earlier = *back.revisions[1].before;
  REQUIRE(earlier.keys.size() == 1);
  CHECK(earlier.keys[0].at.value == 123.25);
  CHECK(earlier.keys[0].at.origin == Origin::measured);
  CHECK(*earlier.keys[0].at.error == 0.5);
  CHECK(earlier.unlisted == std::vector<std::string>{"L2", "rest"});
  CHECK(earlier.left_mark->along == 90.0);
  CHECK_FALSE(earlier.right_mark.has_value());
  CHECK(earlier.held->mouth_end == End::b);
  CHECK_FALSE(back.revisions[0].before.has_value());
  CHECK(*back.revisions[2].undoes == 2);
}

TEST_CASE("weights and limits of proposals have defaults, so that a maker need not touch them") {
  const KeyLayout defaults;
  const std::string text = R"({"format": "culmwright key layout", "version": 1, "id": "k",
    "keys": [{"id": "L1", "hand": "left", "finger": "index", "along": 0, "around": 0, "hole_diameter": 8}],
    "weights": {"torque": 0.5}, "playing_angle_deg": 30})";
  const KeyLayout layout = read_key_layout_text(text, "k").value;
  CHECK(layout.weights.torque == 0.5);
  CHECK(layout.weights.departure == defaults.weights.departure);
  CHECK(layout.playing_angle.degrees() == Approx(30.0));
  CHECK(layout.mark_leeway == defaults.mark_leeway);
  CHECK_THROWS_AS(
      read_key_layout_text(
          R"({"format": "culmwright key layout", "version": 1, "id": "k", "keys": [], "weights": {"torqe": 1}})",
          "k"),
      InputError);
}
