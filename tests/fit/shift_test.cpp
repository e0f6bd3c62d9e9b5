#include <catch2/catch.hpp>

#include "fit/frame.hpp"
#include "fit/shift.hpp"
#include "instruments.hpp"
#include "propose_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Placement bare_placement(const Tube& tube, const KeyLayout& layout, End mouth = End::a) {
  Placement placement;
  placement.id = "bare";
  placement.tube_id = tube.id();
  placement.layout_id = layout.id;
  placement.mouth_end = mouth;
  placement.mouth_cut_at.value = mouth == End::a ? 0.0 : 500.0;
  placement.foot_cut_at.value = mouth == End::a ? 500.0 : 0.0;
  placement.facing.value = Angle::from_degrees(40.0);
  placement.revisions = {{1, "2026-02-01", "First placement"}};
  return placement;
}

const PlacedKey& key_of(const Instrument& instrument, const std::string& id) {
  for (const PlacedKey& key : instrument.keys) {
    if (key.key.id == id) return key;
  }
  throw std::logic_error("no key " + id);
}

Shifted shifted(const Tube& tube, const KeyLayout& layout, const Placement& placement, const char* words) {
  return shift(tube, layout, placement, parse_shift(words, layout), "2026-03-01");
}

/// The codes of all problems of the words.
std::vector<std::string> codes(const KeyLayout& layout, const std::string& words) {
  try {
    parse_shift(words, layout);
  } catch (const InputError& error) {
    std::vector<std::string> found;
    for (const Problem& problem : error.problems()) found.push_back(problem.code);
    return found;
  }
  return {};
}

using Codes = std::vector<std::string>;

}  // namespace

TEST_CASE("moves are read from words and said again as they can be read") {
  const KeyLayout layout = tenor_of_17();
  const auto orders = parse_shift(
      "R2 2 toward foot, 1.5 mm to the player’s left; left hand 3 toward the mouth; rest 4 to "
      "player's right",
      layout);
  REQUIRE(orders.size() == 3);
  CHECK(orders[0].along == 2.0);
  CHECK(orders[0].around == 1.5);
  CHECK(orders[1].what == ShiftOrder::What::hand);
  CHECK(orders[1].along == -3.0);
  CHECK(orders[2].what == ShiftOrder::What::part);
  CHECK(orders[2].around == -4.0);
  for (const ShiftOrder& order : orders) {
    const auto again = parse_shift(words_of(order), layout);
    REQUIRE(again.size() == 1);
    CHECK(again[0].along == order.along);
    CHECK(again[0].around == order.around);
    CHECK(again[0].id == order.id);
  }
}

TEST_CASE("words that say no clear move are refused with what is wrong, all at once") {
  const KeyLayout layout = tenor_of_17();
  CHECK(codes(layout, "") == Codes{"shift-empty"});
  CHECK(codes(layout, "R2") == Codes{"shift-move"});
  CHECK(codes(layout, "R9 2 toward foot") == Codes{"shift-subject"});
  CHECK(codes(layout, "R2 -2 toward foot") == Codes{"shift-number"});
  CHECK(codes(layout, "R2 +2 toward foot") == Codes{"shift-number"});
  CHECK(codes(layout, "R2 0 toward foot") == Codes{"shift-number"});
  CHECK(codes(layout, "R2 501 toward foot") == Codes{"shift-number"});
  CHECK(codes(layout, "R2 1e2 toward foot") == Codes{"shift-number"});
  CHECK(codes(layout, "R2 nan toward foot") == Codes{"shift-subject", "shift-move"});
  CHECK(codes(layout, "R2 2 down") == Codes{"shift-direction"});
  CHECK(codes(layout, "R2 1,5 toward foot") == Codes{"shift-direction"});
  CHECK(codes(layout, "R2 1 toward foot, 1 toward mouth") == Codes{"shift-twice"});
  CHECK(codes(layout, "R2 0 toward foot; ; Q 1 toward foot") ==
        Codes{"shift-number", "shift-empty", "shift-subject"});
}

TEST_CASE("a shifted key moves by what was said, as the player sees it, whichever end is the mouth") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  for (const End mouth : {End::a, End::b}) {
    const Placement placement = bare_placement(tube, layout, mouth);
    const Shifted result = shifted(tube, layout, placement, "R2 2 toward foot, 1 to player's left");
    const Instrument before = assemble(tube, layout, placement);
    const Instrument after = assemble(tube, layout, result.placement);
    for (const PlacedKey& key : before.keys) {
      const bool moved = key.key.id == "R2";
      const PlacedKey& now = key_of(after, key.key.id);
      CHECK(now.along - key.along == Approx(moved ? 2.0 : 0.0).margin(1e-3));
      CHECK(now.around - key.around == Approx(moved ? 1.0 : 0.0).margin(1e-3));
    }
    REQUIRE(result.placement.keys.size() == 1);
    CHECK(result.placement.keys[0].at.origin == Origin::shifted);
    CHECK(result.placement.keys[0].at.revision == 2);
    CHECK(result.placement.revision() == 2);
    CHECK(result.placement.signature() == nullptr);
  }
}

TEST_CASE("a hand moves with its keys, its parts and its mark, and nothing else moves") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  const Placement placement = explicit_placement(tube, layout, bare_placement(tube, layout));
  const Shifted result = shifted(tube, layout, placement, "right hand 3 toward mouth");
  const Instrument before = assemble(tube, layout, placement);
  const Instrument after = assemble(tube, layout, result.placement);
  for (std::size_t i = 0; i < before.keys.size(); ++i) {
    const double wanted = before.keys[i].key.hand == Hand::right ? -3.0 : 0.0;
    CHECK(after.keys[i].along - before.keys[i].along == Approx(wanted).margin(1e-3));
    CHECK(after.keys[i].around - before.keys[i].around == Approx(0.0).margin(1e-3));
  }
  for (std::size_t i = 0; i < before.parts.size(); ++i) {
    const double wanted = before.parts[i].part.from == From::right_hand ? -3.0 : 0.0;
    CHECK(after.parts[i].along - before.parts[i].along == Approx(wanted).margin(1e-3));
  }
  CHECK(result.placement.right_mark->along == layout.right.along - 3.0);
}

TEST_CASE("what is locked or drilled never moves") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  Placement placement = explicit_placement(tube, layout, bare_placement(tube, layout));
  const auto number_of = [](Placement& p, const std::string& id) -> PlacedId& {
    for (PlacedId& placed : p.keys) {
      if (placed.id == id) return placed;
    }
    throw std::logic_error("no " + id);
  };
  number_of(placement, "R2").at.origin = Origin::drilled;
  number_of(placement, "R3").at.locked = true;
  CHECK_THROWS_AS(shifted(tube, layout, placement, "R2 2 toward foot"), InputError);
  CHECK_THROWS_AS(shifted(tube, layout, placement, "R3 2 toward foot"), InputError);
  CHECK_NOTHROW(shifted(tube, layout, placement, "R3 2 to player's left"));
  Shifted result = shifted(tube, layout, placement, "right hand 2 toward foot");
  CHECK(result.stayed.size() == 2);
  for (const char* id : {"R2", "R3"}) {
    CHECK(number_of(result.placement, id).at.value == number_of(placement, id).at.value);
    CHECK(number_of(result.placement, id).around.value == number_of(placement, id).around.value);
  }
  // Nor by undoing.
  Shifted once = shifted(tube, layout, placement, "R1 2 toward foot");
  number_of(once.placement, "R1").at.origin = Origin::drilled;
  Placement back = undone(once.placement, "");
  CHECK(number_of(back, "R1").at.value == number_of(once.placement, "R1").at.value);
}

TEST_CASE("undoing restores every number with its history, step by step") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  const Placement first = bare_placement(tube, layout);
  const Placement second = shifted(tube, layout, first, "R2 2 toward foot").placement;
  const Placement third =
      shifted(tube, layout, second, "R2 1 toward mouth; left hand 4 toward foot").placement;

  const Placement back = undone(third, "2026-03-02");
  REQUIRE(back.keys.size() == 1);
  CHECK(back.keys[0].at.value == second.keys[0].at.value);
  CHECK(back.keys[0].at.revision == 2);
  CHECK_FALSE(back.left_mark.has_value());
  CHECK(back.revision() == 4);
  CHECK(back.revisions.size() == 4);

  const Placement farther = undone(back, "2026-03-02");
  CHECK(farther.keys.empty());
  CHECK(farther.revision() == 5);
  CHECK_THROWS_AS(undone(farther, ""), InputError);

  const Placement anew = shifted(tube, layout, farther, "L1 1 toward foot").placement;
  CHECK(undone(anew, "").keys.empty());
  const auto lines = history(back);
  REQUIRE(lines.size() == 4);
  CHECK(lines[1] == "Revision 2, 2026-03-01, draft: Shifted: R2 2 mm toward foot");
  CHECK(lines[3].find("Undone: revision 3") != std::string::npos);
}

TEST_CASE("a key shifted off the tube or twice in one go is refused") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  const Placement placement = bare_placement(tube, layout);
  CHECK_THROWS_AS(shifted(tube, layout, placement, "R2 400 toward foot"), InputError);
  CHECK_THROWS_AS(shifted(tube, layout, placement, "R2 1 toward foot; R2 1 toward foot"), InputError);
  CHECK_THROWS_AS(shifted(tube, layout, placement, "right hand 1 toward foot; R2 1 toward foot"), InputError);
  CHECK_THROWS_AS(shifted(tube, layout, placement, "left hand 300 toward mouth"), InputError);
}
