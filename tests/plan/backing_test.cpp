#include "plan/backing_plan.hpp"

#include <catch2/catch.hpp>

#include "guide_samples.hpp"

using namespace culmwright;

namespace {

Node whole_node(double at) {
  Node node;
  node.at_line = node.at_far = at;
  node.band = 8.0;
  node.diaphragm = 3.0;
  return node;
}

/// A pipe of bore 24 over 400 with a node at 150 and one at 280.
TubeShape pipe_with_nodes() {
  TubeShape shape = test::round_tube(16.0, 16.0, 400.0, 4.0);
  shape.nodes = {whole_node(150.0), whole_node(280.0)};
  return shape;
}

const BoreAtHole& bore(const BackingPlan& plan, const std::string& id) {
  for (const BoreAtHole& one : plan.bores) {
    if (one.id == id) return one;
  }
  FAIL("no bore " + id);
  return plan.bores.front();
}

}  // namespace

TEST_CASE("the way into a straight bore is as wide as the bore") {
  const Tube tube{test::round_tube(16.0, 16.0, 400.0, 4.0)};
  CHECK(way_in(tube, End::a, 200.0).diameter == Approx(24.0).margin(0.01));
  CHECK(way_in(tube, End::b, 200.0).diameter == Approx(24.0).margin(0.01));
}

TEST_CASE("the way into a tapered bore is that of its narrower end") {
  // Outer radii 15 to 20 over 400, wall 3: the bore is 24 at A, 27 at 120 mm.
  const Tube tube{test::round_tube(15.0, 20.0, 400.0, 3.0)};
  CHECK(way_in(tube, End::a, 120.0).diameter == Approx(24.0).margin(0.01));
  CHECK(way_in(tube, End::b, 120.0).diameter == Approx(27.0).margin(0.01));
}

TEST_CASE("a bow takes its own height from a straight way in") {
  // Two circles of 12 whose middles lie 3 apart have a circle of 12 − 1.5 in common.
  TubeShape shape = test::round_tube(16.0, 16.0, 400.0, 4.0);
  std::vector<FourierAlong::Term> terms = shape.skin.terms();
  const std::vector<bool> smooth(3, false);
  terms.push_back({1, PiecewiseCubic::spline({0.0, 200.0, 400.0}, {0.0, 3.0, 0.0}, smooth),
                   PiecewiseCubic::spline({0.0, 200.0, 400.0}, {0.0, 0.0, 0.0}, smooth)});
  shape.skin = FourierAlong(terms);
  const Tube tube{shape};
  CHECK(way_in(tube, End::a, 200.0).diameter == Approx(21.0).margin(0.02));
}

TEST_CASE("a whole node closes the way, a pierced one narrows it, both by name") {
  TubeShape shape = pipe_with_nodes();
  shape.nodes[1].pierced_diameter = 9.0;
  const Tube tube{shape};
  CHECK(way_in(tube, End::a, 200.0).diameter == 0.0);
  CHECK(way_in(tube, End::a, 200.0).narrowest == "node 1, not pierced");
  CHECK(way_in(tube, End::b, 200.0).diameter == Approx(9.0).margin(0.01));
  CHECK(way_in(tube, End::b, 200.0).narrowest == "node 2, pierced 9 mm");
  CHECK(way_in(tube, End::a, 100.0).diameter == Approx(24.0).margin(0.01));
}

TEST_CASE("holes near an open end are backed from there; those behind whole nodes are named with the node") {
  const Tube tube{pipe_with_nodes()};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "L1", {60.0, 0.0}, 8.0));
  instrument.keys.push_back(test::placed(tube, "L2", {90.0, 3.0}, 8.0));
  instrument.keys.push_back(test::placed(tube, "M", {210.0, 0.0}, 8.0));
  instrument.keys.push_back(test::placed(tube, "R1", {330.0, -2.0}, 8.0));
  const BackingPlan plan = plan_backing(tube, instrument, Shop{});
  REQUIRE(plan.bores.size() == 4);
  CHECK(bore(plan, "L1").least_across == Approx(24.0).margin(1e-6));
  CHECK(bore(plan, "L1").shoe == bore(plan, "L2").shoe);
  CHECK(bore(plan, "L1").way.from == End::a);
  CHECK(bore(plan, "R1").way.from == End::b);
  CHECK_FALSE(bore(plan, "R1").shoe.empty());
  CHECK(bore(plan, "M").shoe.empty());
  CHECK(bore(plan, "M").why_none.find("node 1, not pierced") != std::string::npos);
  CHECK(plan.shoes.size() == 2);
}

TEST_CASE("a node pierced too narrow for the backing says so by name") {
  TubeShape shape = pipe_with_nodes();
  shape.nodes[0].pierced_diameter = 14.0;
  const Tube narrow{shape};
  Instrument instrument = test::instrument_on(narrow);
  instrument.keys.push_back(test::placed(narrow, "M", {210.0, 0.0}, 8.0));
  const BackingPlan refused = plan_backing(narrow, instrument, Shop{});
  CHECK(refused.shoes.empty());
  CHECK(bore(refused, "M").why_none.find("node 1, pierced 14 mm") != std::string::npos);
  // Whole, the shoe is 2 · 11.7 · sin 70° = 22.0 wide; through 18 it goes when it is cut down to 45°, 16.5.
  for (const double pierced : {23.0, 18.0}) {
    shape.nodes[0].pierced_diameter = pierced;
    const BackingPlan plan = plan_backing(Tube{shape}, instrument, Shop{});
    REQUIRE(plan.shoes.size() == 1);
    CHECK(plan.shoes[0].width == Approx(pierced == 23.0 ? 21.99 : 16.55).margin(0.01));
  }
}

TEST_CASE("a shoe lies its fit off the bore under its holes, and the stick fills the rest") {
  const Tube tube{test::round_tube(16.0, 16.0, 400.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "L1", {60.0, 0.0}, 8.0));
  const BackingPlan plan = plan_backing(tube, instrument, Shop{});
  REQUIRE(plan.shoes.size() == 1);
  const BackingShoe& shoe = plan.shoes[0];
  CHECK(shoe.at.from == Approx(48.0));
  CHECK(shoe.at.to == Approx(72.0));
  for (const double deg : {-60.0, -20.0, 0.0, 45.0}) {
    const Vec3 p = shoe.face.point(shoe.face.middle() + deg * pi / 180.0, 60.0);
    CHECK(std::hypot(p.x, p.y) == Approx(11.7).margin(1e-6));
  }
  CHECK(shoe.flat == Approx(11.7 * std::cos(70.0 * pi / 180.0)).margin(1e-6));
  CHECK(shoe.width == Approx(2.0 * 11.7 * std::sin(70.0 * pi / 180.0)).margin(0.01));
  CHECK(shoe.stick.to == Approx(shoe.flat + 12.0).margin(1e-6));
  // Half a round bar cut by a chord: r² (α − sin α cos α) over 24.
  const double a = 70.0 * pi / 180.0;
  const double strokes = [&] {
    double area = 0.0;
    for (const PlaneText& text : shoe.texts) {
      for (const StrokeOutline& stroke : text.strokes) {
        for (std::size_t i = 0; i < stroke.size(); ++i)
          area += 0.5 * cross(stroke[i], stroke[(i + 1) % stroke.size()]);
      }
    }
    return area;
  }();
  CHECK(expectation_of(shoe).volume ==
        Approx(11.7 * 11.7 * (a - std::sin(a) * std::cos(a)) * 24.0 - 0.5 * strokes).epsilon(1e-6));
}

TEST_CASE("on a culm the bore taken as a skin is the bore") {
  const Tube tube{test::culm(460.0)};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "L1", {45.0, 6.0}, 8.0));
  const BackingPlan plan = plan_backing(tube, instrument, Shop{});
  REQUIRE(plan.shoes.size() == 1);
  const BackingShoe& shoe = plan.shoes[0];
  for (const double at : {shoe.at.from, shoe.at.middle(), shoe.at.to}) {
    const Section section = tube.section(at);
    for (const double deg : {-65.0, -30.0, 0.0, 40.0, 65.0}) {
      const Vec3 p = shoe.face.point(shoe.face.middle() + deg * pi / 180.0, at);
      CHECK(section.outside_bore({p.x, p.y}) == Approx(-0.3).margin(1e-4));
    }
  }
}
