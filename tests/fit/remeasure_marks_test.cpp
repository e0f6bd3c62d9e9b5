#include <catch2/catch.hpp>

#include "fit/remeasure_marks.hpp"
#include "layout/check_values.hpp"
#include "mock_up_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

WrapMark mark(const std::string& key, Hand hand, Finger finger, double along, double around) {
  WrapMark made;
  made.key = key;
  made.hand = hand;
  made.finger = finger;
  made.along = along;
  made.around = std::abs(around);
  if (around != 0.0) made.direction = around > 0.0 ? Toward::players_left : Toward::players_right;
  return made;
}

MeasuredMockUp six_marks() {
  MeasuredMockUp made;
  made.date = "2026-03-01";
  made.marks = {mark("L1", Hand::left, Finger::index, 80.0, 3.0),
                mark("L2", Hand::left, Finger::middle, 104.0, 0.0),
                mark("LT", Hand::left, Finger::thumb, 88.0, 40.0),
                mark("R1", Hand::right, Finger::index, 210.0, -1.0),
                mark("R2", Hand::right, Finger::middle, 234.0, 0.0),
                mark("RA", Hand::right, Finger::index, 204.0, -20.0)};
  made.marks[1].hole_diameter = 7.5;
  return made;
}

FirstLayoutOptions options_for(const std::string& id) {
  FirstLayoutOptions options;
  options.layout_id = id;
  return options;
}

}  // namespace

TEST_CASE("finger marks on a wrap make a key layout and the placement that they were taken from") {
  const Tube tube(culm());
  for (const End mouth_end : {End::a, End::b}) {
    FirstLayoutOptions options = options_for("first");
    options.mouth_end = mouth_end;
    options.facing = Angle::from_degrees(30.0);
    const MeasuredMockUp marks = six_marks();
    const FirstLayout first = layout_from_marks(tube, marks, options);
    CHECK(first.measured.contradictions.empty());
    CHECK(check_key_layout(first.layout).empty());
    // The index finger's mark, of two the one nearer to the mouth.
    CHECK(first.layout.left.along == 80.0);
    CHECK(first.layout.right.along == 204.0);
    CHECK(first.layout.left.around == 0.0);
    CHECK(first.layout.keys[1].hole_diameter == 7.5);
    CHECK(first.layout.keys[0].hole_diameter == usual_hole);
    const Placement& placement = first.measured.placement;
    CHECK(placement.id == "first-on-culm");
    CHECK(placement.mouth_end == mouth_end);
    REQUIRE(placement.revisions.size() == 1);
    CHECK(placement.revisions[0].date == "2026-03-01");
    CHECK_FALSE(placement.revisions[0].before.has_value());
    CHECK(check_placement(placement).empty());

    // As placed, and as the key layout alone would have it, every key stands where its mark is.
    Placement bare = placement;
    bare.keys.clear();
    for (const Placement& one : {placement, bare}) {
      const Instrument instrument = assemble(tube, first.layout, one);
      for (std::size_t i = 0; i < marks.marks.size(); ++i) {
        const PlacedKey& key = instrument.keys[i];
        const WrapMark& made = marks.marks[i];
        const double around = made.direction == Toward::players_right ? -*made.around : *made.around;
        // The wrap's middle lies 0.05 mm outside the skin, whose radius is 15.5 to 18 mm.
        CHECK(key.along == Approx(*made.along).margin(1e-3));
        CHECK(key.around == Approx(around * (1.0 - 0.05 / 16.5)).margin(0.02));
      }
    }
    CHECK(placement.keys[0].at.origin == Origin::measured);
    CHECK(placement.keys[0].at.revision == 1);
    CHECK(*placement.keys[0].at.error == 0.5);
  }
}

TEST_CASE("marks counted from the reference line go with whatever key line is chosen") {
  const Tube tube = pipe();
  MeasuredMockUp marks = six_marks();
  for (WrapMark& one : marks.marks) one.line = WrapLine::reference_line;
  marks.paper_thickness = 0.0;
  FirstLayoutOptions options = options_for("first");
  options.facing = Angle::from_degrees(10.0);
  const FirstLayout first = layout_from_marks(tube, marks, options);
  CHECK(first.measured.placement.keys[0].around.value == Approx(3.0).margin(kept));
  CHECK(first.layout.keys[0].around == Approx(3.0 - 15.0 * pi / 18.0).margin(2e-3));
}

TEST_CASE("a hand without an index finger has its mark in the middle of its keys") {
  const Tube tube = pipe();
  MeasuredMockUp marks;
  marks.marks = {mark("L2", Hand::left, Finger::middle, 100.0, 0.0),
                 mark("L3", Hand::left, Finger::ring, 121.0, 0.0)};
  const FirstLayout first = layout_from_marks(tube, marks, options_for("two"));
  CHECK(first.layout.left.along == 110.5);
  CHECK(first.layout.keys[0].along == Approx(-10.5).margin(kept));
}

TEST_CASE("readings beside the marks are settled with them") {
  const Tube tube = pipe();
  MeasuredMockUp marks = six_marks();
  marks.readings = {reading("R2", Way::along, 25.0, "R1", Toward::foot)};
  const FirstLayout first = layout_from_marks(tube, marks, options_for("first"));
  CHECK(first.measured.more_than_needed == 1);
  // Marks 210 and 234 ± 0.5, and 25 ± 0.5 between them: a third of the miss for each.
  CHECK(placed(first.measured.placement, "R1").at.value == Approx(210.0 - 1.0 / 3.0).margin(kept));
  CHECK(placed(first.measured.placement, "R2").at.value == Approx(234.0 + 1.0 / 3.0).margin(kept));
}

TEST_CASE("marks that say too little, or what cannot be, are told all at once") {
  const Tube tube = pipe();
  MeasuredMockUp marks = six_marks();
  marks.marks[0].hand.reset();
  marks.marks[1].finger.reset();
  marks.marks[2].around.reset();
  marks.marks[3].along = 500.0;
  marks.marks[4].around = 120.0;
  CHECK(troubles([&] { layout_from_marks(tube, marks, options_for("first")); }) ==
        std::vector<std::string>{"missing /marks/0", "missing /marks/1", "missing /marks/2",
                                 "place-outside /marks/3/along", "range /marks/4/around"});
  marks = six_marks();
  marks.marks[1].hole_diameter = 29.0;
  CHECK(troubles([&] { layout_from_marks(tube, marks, options_for("first")); }) ==
        std::vector<std::string>{"hole-too-wide /marks/1"});
  CHECK(troubles([&] { layout_from_marks(tube, {}, options_for("first")); }) ==
        std::vector<std::string>{"nothing-measured "});
}
