#include <catch2/catch.hpp>
#include <cmath>

#include "plan/depth_sleeve.hpp"
#include "solid/admesh.hpp"
#include "solid/depth_sleeve_solid.hpp"

using namespace culmwright;

namespace {

DepthSleeve sleeve_of(double drill, double bush_outside, double stop_at) {
  DepthAtHole hole;
  hole.id = "R2";
  hole.drill = drill;
  hole.bush_outside = bush_outside;
  hole.depth.stop_at = stop_at;
  hole.depth.far_wall = stop_at + 20.0;
  return plan_depth_sleeves({hole}, Shop{}).sleeves.at(0);
}

}  // namespace

TEST_CASE("depth sleeves for drills of 2 to 12 pass the gate at the first build") {
  for (const double drill : {2.0, 3.0, 4.2, 6.0, 8.5, 12.0}) {
    for (const double outside : {0.0, 2.0 * drill}) {
      GateLog log;
      const DepthSleeve sleeve = sleeve_of(drill, outside, 14.0);
      const Solid solid = depth_sleeve_solid(sleeve, log);
      CHECK(log.size() == 1);
      // A prism over a hexagon of that width has (√3 / 2) a² L; the engraving takes at most a hundredth.
      const double a = sleeve.across, r = sleeve.bore_radius, L = sleeve.length;
      const double plain = (0.5 * std::sqrt(3.0) * a * a - pi * r * r) * L;
      const double made = volume(solid.mesh(sleeve_accuracy));
      CHECK(made < plain * 1.001);
      CHECK(made > plain * 0.97);
    }
  }
}

TEST_CASE("a short sleeve of many holes uses all its flats, opposite ones with letters alike too") {
  std::vector<DepthAtHole> holes;
  for (const char* id : {"L2", "L1", "L3", "LO", "LT", "L4", "R1", "R2", "L5"}) {
    DepthAtHole hole{id, 3.0, 6.0, {}};
    hole.depth.stop_at = 19.7;
    hole.depth.far_wall = 40.0;
    holes.push_back(hole);
  }
  const DepthSleeves planned = plan_depth_sleeves(holes, Shop{});
  REQUIRE(planned.sleeves.size() == 1);
  const DepthSleeve& sleeve = planned.sleeves[0];
  CHECK(sleeve.texts.size() == 6);
  REQUIRE(sleeve.notes.size() == 1);
  CHECK(sleeve.notes[0].find("D19.7") != std::string::npos);  // too short for it: said, not lost
  GateLog log;
  depth_sleeve_solid(sleeve, log);
  CHECK(log.size() == 1);
}

TEST_CASE("another reader finds a depth sleeve's file closed and without faults") {
  GateLog log;
  const DepthSleeve sleeve = sleeve_of(3.0, 6.0, 17.0);
  test::check_by_admesh(depth_sleeve_solid(sleeve, log).mesh(sleeve_accuracy), "depth-sleeve");
}
