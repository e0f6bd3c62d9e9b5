#include "plan/drilling_depth.hpp"

#include <catch2/catch.hpp>

#include "guide_samples.hpp"

using namespace culmwright;

namespace {

GuideHole pilot_on(const Tube& tube, double bush_length) {
  GuideHole hole;
  hole.id = "L1";
  hole.drilling = drilling_at(tube, {100.0, 0.0}, HoleSquare::to_skin, 5.0);
  hole.bush = {3.0, 6.0, bush_length};
  hole.bore_radius = 3.15;
  hole.boss_radius = 6.15;
  hole.top = bush_length - 1.0;
  return hole;
}

}  // namespace

TEST_CASE("depths on a straight pipe are bush, wall, tip and bore") {
  const Tube tube{test::round_tube(16.0, 16.0, 300.0, 4.0)};
  const DrillingDepth depth = drilling_depth(tube, pilot_on(tube, 12.0), 0.1);
  // The bush stands on the highest line of the pipe; the wall at the middle is 4, at the rim of a pilot of 3
  // √(16² − 1.5²) − √(12² − 1.5²) = 4.02365, calculated; two standard errors are 0.2; a 118° tip is 0.3 d.
  CHECK(depth.skin == Approx(12.0));
  CHECK(depth.breaks_in == Approx(12.0 + 4.0 - 0.2).margin(0.001));
  CHECK(depth.through == Approx(12.0 + 4.02365 + 0.2 + 0.9).margin(1e-4));
  CHECK(depth.far_wall == Approx(12.0 + 28.0 - 0.2).margin(1e-5));
  CHECK(depth.stop_at > depth.through);
  CHECK(depth.room == Approx(depth.far_wall - depth.stop_at));
  CHECK(depth_remarks(pilot_on(tube, 12.0), depth, Shop{}).empty());
}

TEST_CASE(
    "a drill whose flutes are too short, or that is not in the drawer, is remarked; so is a slim bore") {
  const Tube tube{test::round_tube(16.0, 16.0, 300.0, 4.0)};
  const GuideHole hole = pilot_on(tube, 16.0);
  const DrillingDepth depth = drilling_depth(tube, hole, 0.1);
  Shop shop;
  shop.drills = {{DrillKind::twist, 3.0, 3.0, 0.0, 16.0, {}}};
  REQUIRE(depth_remarks(hole, depth, shop).size() == 1);
  CHECK(depth_remarks(hole, depth, shop)[0].find("flutes") != std::string::npos);
  shop.drills[0].flute_length = 33.0;
  CHECK(depth_remarks(hole, depth, shop).empty());
  shop.drills[0].diameter = 4.0;
  CHECK(depth_remarks(hole, depth, shop)[0].find("no straight drill of 3") != std::string::npos);
  const Tube slim{test::round_tube(6.0, 6.0, 300.0, 4.0)};
  const GuideHole small = pilot_on(slim, 12.0);
  const auto remarks = depth_remarks(small, drilling_depth(slim, small, 0.1), Shop{});
  REQUIRE(remarks.size() == 1);
  CHECK(remarks[0].find("far wall") != std::string::npos);
}
