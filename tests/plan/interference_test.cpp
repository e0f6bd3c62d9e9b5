#include "plan/interference.hpp"

#include <catch2/catch.hpp>

#include "sample_meshes.hpp"
#include "shapes.hpp"

using namespace culmwright;

namespace {

using Kind = StandingPart::Kind;

StandingPart box_at(const std::string& name, Vec3 corner, Vec3 size, Kind kind = Kind::fitted) {
  return {kind, name,
          MeshTree(moved(samples::box(size.x, size.y, size.z), {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, corner}))};
}

Tube round() {
  return Tube(test::round_tube(15, 15, 400, 3));
}

/// The tube's own body, as its mesh: hollow, 48-sided.
StandingPart body() {
  return {Kind::tube, "tube", MeshTree(samples::turned({{12, -400}, {15, -400}, {15, 0}, {12, 0}}, 48))};
}

}  // namespace

TEST_CASE("parts that stand apart are listed with their distance, those that come too near fail by name") {
  // On the front, tops at 22: caps of 10 × 10 a millimetre apart, then a third 0.3 from the second.
  const std::vector<StandingPart> parts{
      box_at("cup L1", {16, -5, -110}, {6, 10, 10}), box_at("cup L2", {16, -5, -99}, {6, 10, 10}),
      box_at("cup L3", {16, -5, -88.7}, {6, 10, 10}), box_at("cup L4", {16, -5, -40}, {6, 10, 10})};
  const std::vector<Clearance> found = clearances(parts, round());
  REQUIRE(found.size() == 3);  // L1-L2, L1-L3 (11.3 apart), L2-L3; L4 is far from all
  CHECK(found[0].found.distance == Approx(1.0).margin(1e-9));
  CHECK_FALSE(found[0].fails);
  CHECK_FALSE(found[0].inside);
  CHECK(found[1].found.distance == Approx(11.3).margin(1e-9));
  CHECK(found[2].found.distance == Approx(0.3).margin(1e-9));
  CHECK(found[2].fails);
  CHECK(found[2].sentence ==
        "cup L2 and cup L3 stand 0.30 mm apart at 89 along the tube, 0.50 mm at least: move one of them, or "
        "make a touch or footprint smaller");
}

TEST_CASE("spigots that meet inside a thin tube are said to do so inside it") {
  const std::vector<StandingPart> parts{box_at("plug A", {2, -3, -103}, {14, 6, 6}),
                                        box_at("plug B", {-3, 2, -103}, {6, 14, 6})};
  const std::vector<Clearance> found = clearances(parts, round());
  REQUIRE(found.size() == 1);
  CHECK(found[0].fails);
  CHECK(found[0].inside);
  CHECK(found[0].found.meet());
  CHECK(found[0].sentence.find("run into each other") != std::string::npos);
  CHECK(found[0].sentence.find("inside it") != std::string::npos);
}

TEST_CASE("a part may lie against the tube by the chords of both meshes, no deeper") {
  // The 48-sided body's flats lie 15·(1 − cos 3.75°) = 0.032 inside the circle.
  const auto seat = [](double low) { return box_at("rest", {low, -1, -210}, {5, 2, 20}); };
  const auto against = clearances({body(), seat(14.98)}, round());
  REQUIRE(against.size() == 1);
  CHECK_FALSE(against[0].fails);
  const auto apart = clearances({body(), seat(15.5)}, round());
  CHECK(apart[0].found.distance == Approx(0.5).margin(0.04));
  CHECK_FALSE(apart[0].fails);
  const auto into = clearances({body(), seat(14.2)}, round());
  CHECK(into[0].fails);
  CHECK(into[0].found.depth == Approx(0.8).margin(0.05));
}

TEST_CASE("the space over an opening keeps parts off its edge") {
  BodyCut cut;
  cut.name = "opening cable";
  // On the front of the tube, z outward, x toward end B.
  cut.frame = {{0, 0, -1}, cross(Vec3{1, 0, 0}, Vec3{0, 0, -1}), {1, 0, 0}, {15, 0, -100}};
  cut.outline = {30, 12, 3};
  const StandingPart space = space_over(cut);
  CHECK(space.kind == Kind::opening);
  // Its end toward B lies at −115; a cap from −120 to −117 keeps 2 from it.
  const auto found = clearances({box_at("cup R1", {15.1, -5, -127}, {5, 10, 10}), space}, round());
  REQUIRE(found.size() == 1);
  CHECK(found[0].found.distance == Approx(2.0).margin(1e-9));
  CHECK_FALSE(found[0].fails);
  const auto over = clearances({box_at("cup R1", {15.1, -5, -123}, {5, 10, 10}), space}, round());
  CHECK(over[0].fails);
  // Past a rounded corner: diagonal from the corner's own arc.
  const auto corner = clearances({box_at("cup R2", {15.1, 6, -125}, {5, 10, 10}), space}, round());
  CHECK(corner[0].found.distance == Approx(3.0 * std::sqrt(2.0) - 3.0).margin(0.02));
  CHECK(clearances({space, space_over(cut), body()}, round()).empty());
}
