#include "fit/assemble.hpp"

#include <catch2/catch.hpp>

#include "fit/frame.hpp"
#include "instruments.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// One key a hand and one part from each mark.
KeyLayout small_layout() {
  KeyLayout layout;
  layout.id = "small";
  layout.left = {80.0, 2.0};
  layout.right = {200.0, -3.0};
  layout.keys = {key("L1", Hand::left, Finger::index, 8.0), key("R1", Hand::right, Finger::index, 9.0)};
  layout.keys[0].along = 5.0;
  layout.keys[0].around = 4.0;
  layout.keys[1].along = -6.0;
  layout.keys[1].around = 1.5;
  const From froms[] = {From::mouth_end, From::foot_end, From::left_hand, From::right_hand};
  for (int i = 0; i < 4; ++i) {
    Part part;
    part.id = "P" + std::to_string(i);
    part.from = froms[i];
    part.along = 12.0;
    part.around = 10.0;
    layout.parts.push_back(part);
  }
  return layout;
}

Placement small_placement(const Tube& tube, End mouth) {
  Placement placement;
  placement.id = "small on culm";
  placement.tube_id = tube.id();
  placement.layout_id = "small";
  placement.mouth_end = mouth;
  placement.mouth_cut_at.value = mouth == End::a ? 5.0 : 415.0;
  placement.foot_cut_at.value = mouth == End::a ? 415.0 : 5.0;
  placement.facing.value = Angle::from_degrees(-35.0);
  return placement;
}

Problems problems_of(const Tube& tube, const KeyLayout& layout, const Placement& placement) {
  try {
    assemble(tube, layout, placement);
  } catch (const InputError& error) {
    return error.problems();
  }
  return {};
}

bool names(const Problems& problems, const char* code, const char* pointer) {
  for (const Problem& problem : problems) {
    if (problem.code == code && problem.where.pointer == pointer) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a key that is not listed stands at its offset from its hand's mark") {
  const Tube tube{culm()};
  for (const End mouth : {End::a, End::b}) {
    const Instrument instrument = assemble(tube, small_layout(), small_placement(tube, mouth));
    REQUIRE(instrument.keys.size() == 2);
    CHECK(instrument.keys[0].along == Approx(85.0).margin(1e-9));
    CHECK(instrument.keys[0].around == Approx(6.0).margin(1e-9));
    CHECK(instrument.keys[1].along == Approx(194.0).margin(1e-9));
    CHECK(instrument.keys[1].around == Approx(-1.5).margin(1e-9));
    REQUIRE(instrument.parts.size() == 4);
    CHECK(instrument.parts[0].along == Approx(12.0).margin(1e-9));
    CHECK(instrument.parts[1].along == Approx(410.0 - 12.0).margin(1e-9));
    CHECK(instrument.parts[2].along == Approx(92.0).margin(1e-9));
    CHECK(instrument.parts[2].around == Approx(12.0).margin(1e-9));
    CHECK(instrument.parts[3].along == Approx(212.0).margin(1e-9));
    CHECK(instrument.parts[3].around == Approx(7.0).margin(1e-9));
  }
}

TEST_CASE("the placement's own mark replaces the key layout's") {
  const Tube tube{culm()};
  Placement placement = small_placement(tube, End::a);
  placement.right_mark = HandMark{250.0, 0.0};
  const Instrument instrument = assemble(tube, small_layout(), placement);
  CHECK(instrument.keys[0].along == Approx(85.0).margin(1e-9));
  CHECK(instrument.keys[1].along == Approx(244.0).margin(1e-9));
  CHECK(instrument.parts[3].along == Approx(262.0).margin(1e-9));
}

TEST_CASE("a listed key stands where it is listed, with its history, and the hole is solved there") {
  const Tube tube{culm()};
  Placement placement = small_placement(tube, End::a);
  PlacedId listed = at_place("R1", 222.0, 15.0);
  listed.at.origin = Origin::measured;
  listed.at.locked = listed.around.locked = true;
  placement.keys.push_back(listed);
  const Instrument instrument = assemble(tube, small_layout(), placement);
  const PlacedKey& placed = instrument.keys[1];
  CHECK(placed.place.at == 222.0);
  CHECK(placed.place.around == Approx(15.0));
  CHECK(placed.origin == Origin::measured);
  CHECK(placed.locked);
  CHECK(std::abs(tube.outside(placed.drilling.point)) < 1e-9);
  CHECK(length(placed.drilling.point - tube.skin_point({222.0, 15.0}).point) < 1e-9);
  CHECK(placed.drilling.radius == Approx(4.5));
  CHECK(instrument.sign.state == SignState::draft);
}

TEST_CASE("wall and tilt of a hole on a round cylinder are the wall and nothing") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  Drilled drilled(tube);
  drilled.hole(8, 100, 10);
  const PlacedKey placed = assemble(tube, drilled.layout, drilled.placement).keys.front();
  CHECK(placed.wall == Approx(4.0).epsilon(1e-9));
  CHECK(placed.tilt.degrees() == Approx(0.0).margin(1e-6));
}

TEST_CASE("a cone tilts a hole square in its section by the slope of its side") {
  // Slope atan((r1 − r2) / L), r 18 → 15 over 300: closed form.
  const Tube tube{round_tube(15, 18, 300, 4)};
  Drilled drilled(tube);
  drilled.hole(8, 100, 10);
  const PlacedKey placed = assemble(tube, drilled.layout, drilled.placement).keys.front();
  CHECK(placed.tilt.radians() == Approx(std::atan(3.0 / 300.0)).epsilon(1e-9));
}

TEST_CASE("the explicit placement lists every key and part and gives the same instrument") {
  const Tube tube{culm()};
  const KeyLayout layout = small_layout();
  for (const End mouth : {End::a, End::b}) {
    Placement placement = small_placement(tube, mouth);
    placement.keys.push_back(at_place("R1", 222.0, 15.0));
    placement.keys[0].at.origin = Origin::shifted;
    const Placement full = explicit_placement(tube, layout, placement);
    REQUIRE(full.keys.size() == 2);
    REQUIRE(full.parts.size() == 4);
    CHECK(full.keys[1].at.origin == Origin::shifted);
    const Instrument one = assemble(tube, layout, placement);
    const Instrument two = assemble(tube, layout, full);
    for (std::size_t i = 0; i < one.keys.size(); ++i) {
      CHECK(length(one.keys[i].drilling.point - two.keys[i].drilling.point) < 1e-9);
    }
    for (std::size_t i = 0; i < one.parts.size(); ++i) {
      CHECK(length(one.parts[i].point - two.parts[i].point) < 1e-9);
    }
  }
}

TEST_CASE("every problem of a placement is named at once, each with its pointer") {
  const Tube tube{culm()};
  KeyLayout layout = small_layout();
  layout.parts[1].id = "L1";
  layout.keys[0].hole_diameter = 40.0;
  Placement placement = small_placement(tube, End::a);
  placement.tube_id = "another";
  placement.layout_id = "another";
  placement.keys = {at_place("X9", 100, 0), at_place("R1", 500, 0), at_place("R1", 100, 0)};
  placement.parts = {at_place("P0", 100, 200)};
  const Problems problems = problems_of(tube, layout, placement);
  CHECK(names(problems, "wrong-tube", "/tube"));
  CHECK(names(problems, "wrong-key-layout", "/key_layout"));
  CHECK(names(problems, "unknown-id", "/keys/0/id"));
  CHECK(names(problems, "duplicate-id", "/keys/2/id"));
  CHECK(names(problems, "place-outside", "/keys/1/at"));
  CHECK(names(problems, "place-outside", "/parts/0/around"));
  CHECK(names(problems, "hole-too-wide", "/keys/0/hole_diameter"));
  CHECK(names(problems, "duplicate-id", "/parts/1/id"));
  CHECK(problems.size() == 8);
}

TEST_CASE("cuts outside the tube or in the wrong order are refused") {
  const Tube tube{culm()};
  Placement placement = small_placement(tube, End::a);
  placement.foot_cut_at.value = 430.0;
  CHECK(names(problems_of(tube, small_layout(), placement), "cut-outside", "/foot_cut_at"));
  placement = small_placement(tube, End::a);
  placement.mouth_end = End::b;
  CHECK(names(problems_of(tube, small_layout(), placement), "cut-order", "/foot_cut_at"));
}

TEST_CASE("an offset that leaves the tube is refused with the key that has it") {
  const Tube tube{culm()};
  KeyLayout layout = small_layout();
  layout.keys[1].along = 400.0;
  const Problems problems = problems_of(tube, layout, small_placement(tube, End::a));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].where.file == key_layout_document);
  CHECK(problems[0].where.pointer == "/keys/1/along");
}

TEST_CASE("a hole wider than the bore beside its axis is refused, an eccentric bore counted") {
  // The bore of radius 11 lies 2 to one side: on that axis 9 is left on the narrow side, of which 95 % may
  // go.
  TubeShape shape = round_tube(15, 15, 300, 4);
  shape.wall = FourierAlong({{0, constant(4.0), {}}, {1, constant(0.0), constant(-2.0)}});
  const Tube tube(shape);
  for (const auto& [diameter, fits] :
       {std::pair<double, bool>{17.0, true}, std::pair<double, bool>{17.2, false}}) {
    Drilled drilled(tube);
    drilled.hole(diameter, 100, 0);
    CHECK(problems_of(tube, drilled.layout, drilled.placement).empty() == fits);
  }
}

TEST_CASE("a bow does not narrow the bore beside a hole's axis") {
  TubeShape shape = round_tube(15, 15, 300, 4);
  shape.skin = FourierAlong({{0, constant(15.0), {}}, {1, constant(0.0), constant(3.0)}});
  const Tube tube(shape);
  Drilled drilled(tube);
  drilled.hole(20, 100, tube.section(100).around(Angle()));  // of 0.95 · 22 allowed
  CHECK(problems_of(tube, drilled.layout, drilled.placement).empty());
}

TEST_CASE("a hole so wide that it would need skin far beyond the end is refused") {
  // The skin is known for 30 beyond an end; a rim of radius 35 at 2 from it would need 33.
  const Tube tube{round_tube(60, 60, 300, 5)};
  Drilled drilled(tube);
  drilled.hole(70, 2, 0);
  CHECK(names(problems_of(tube, drilled.layout, drilled.placement), "place-outside", "/keys/0/at"));
}
