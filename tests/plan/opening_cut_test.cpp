/// Cutting openings out.
#include "plan/opening_cut.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "plan/guide_plan.hpp"

using namespace culmwright;

namespace {

Part opening(double length, double width, double corner_radius) {
  Part part;
  part.id = "access";
  part.kind = PartKind::opening;
  part.length = length;
  part.width = width;
  part.corner_radius = corner_radius;
  return part;
}

}  // namespace

TEST_CASE("a lid is smaller than its opening by the kerf on every side") {
  Shop shop;
  shop.saw_kerf = 0.6;
  const OpeningCut cut = opening_cut(opening(40.0, 20.0, 5.0), shop);
  CHECK(cut.corner_drill == Approx(10.0));
  CHECK(cut.lid_length == Approx(38.8));
  CHECK(cut.lid_width == Approx(18.8));
  // Two slopes of 30° from the normal, the kerf apart: one moves along the normal until they touch.
  const double lean = 30.0 * pi / 180.0;
  const Vec2 across{std::cos(lean), std::sin(lean)};  // unit normal of the slope: aside, inward
  CHECK(dot(across, Vec2{0.0, cut.lid_sinks}) == Approx(0.6));
}

TEST_CASE("a knife takes nothing away, and sharp corners are as round as the pilot drill") {
  Shop shop;
  shop.saw_kerf = 0.0;
  shop.pilot_diameter = 3.0;
  const OpeningCut cut = opening_cut(opening(40.0, 20.0, 0.0), shop);
  CHECK(cut.lid_length == 40.0);
  CHECK(cut.lid_sinks == 0.0);
  CHECK(cut.corner_drill == 3.0);
  CHECK(cut_words(cut).find("knife") != std::string::npos);
  CHECK(cut_words(cut).find("saw") == std::string::npos);
}

TEST_CASE("a kerf wider than half of an opening leaves no lid of less than nothing") {
  Shop shop;
  shop.saw_kerf = 5.0;
  CHECK(opening_cut(opening(40.0, 8.0, 2.0), shop).lid_width == 0.0);
}
