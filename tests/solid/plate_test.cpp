#include <catch2/catch.hpp>

#include "base/problem.hpp"
#include "shapes.hpp"
#include "solid/admesh.hpp"
#include "solid/plate_solid.hpp"

using namespace culmwright;

namespace {

std::string failures_of(const GateLog& log) {
  std::string text;
  for (const GateEntry& entry : log) text += entry.failure + "\n";
  return text;
}

}  // namespace

TEST_CASE("both survey plates of a culm pass the gate at the first build, for 8, 12, 14 and 16 flats") {
  const Tube tube(test::culm());
  for (const int flats : {8, 12, 14, 16}) {
    for (const PlatePlan& plan : plan_plates(tube, flats)) {
      GateLog log;
      CHECK_NOTHROW(plate_solid(plan, log));
      INFO(failures_of(log));
      CHECK(log.size() == 1);
    }
  }
}

TEST_CASE("a plate's flats lie at half the across-flats, wherever it is rolled to") {
  const PlatePlan plan = plan_plates(36.0, 40.0)[0];
  CHECK(plan.across_flats >= 60.0);
  GateLog log;
  const Mesh mesh = plate_solid(plan, log).mesh(plate_accuracy);
  for (int i = 0; i < plan.flats; ++i) {
    const Vec2 n = direction(Angle::from_degrees(22.5 * i));
    double reach = 0.0;
    for (const Vec3& p : mesh.vertices) reach = std::max(reach, dot(Vec2{p.x, p.y}, n));
    CHECK(reach == Approx(0.5 * plan.across_flats).epsilon(1e-9));
  }
}

TEST_CASE("a plate's volume is that of prism, collar, recess and hole by handbook formulas") {
  // Regular polygon: n r² tan(180°/n) with r half the across-flats (Machinery's Handbook; from memory).
  const PlatePlan plan = plan_plates(36.0, 40.0)[1];
  REQUIRE(plan.across_flats == 60.0);
  const double r = 18.5;
  const double polygon = 16 * 30.0 * 30.0 * std::tan(pi / 16) - 10 * 1.2 * 1.0;
  const double by_hand = polygon * 8.0 + pi * (r + 2.4) * (r + 2.4) * 6.0 - pi * r * r * 9.0 - pi * 9.0 * 5.0;
  CHECK(expectation_of(plan).volume == Approx(by_hand).epsilon(1e-12));
  GateLog log;
  CHECK(volume(plate_solid(plan, log).mesh({0.005, 0.05})) == Approx(by_hand).epsilon(0.001));
}

TEST_CASE("the marks of both plates agree when both reference flats point to the reference line") {
  const std::vector<PlatePlan> plans = plan_plates(36.0, 40.0);
  for (const PlatePlan& plan : plans) {
    REQUIRE(plan.marks.size() == 4);
    for (const FlatMark& mark : plan.marks) {
      const Vec2 facing = direction(plan.facing(mark.flat));
      const Vec3 in_tube = plan.to_tube(100.0).turn({facing.x, facing.y, 0.0});
      const Vec2 wanted = direction(Angle::from_degrees(22.5 * mark.flat));
      CHECK(in_tube.x == Approx(wanted.x).margin(1e-12));
      CHECK(in_tube.y == Approx(wanted.y).margin(1e-12));
    }
  }
  // Plate A stands above end A, collar down the tube; plate B below end B, collar up.
  CHECK(plans[0].to_tube(0.0).apply({0, 0, 5.0}).z == Approx(0.0));
  CHECK(plans[0].to_tube(0.0).apply({0, 0, 14.0}).z == Approx(-9.0));
  CHECK(plans[1].to_tube(420.0).apply({0, 0, 5.0}).z == Approx(-420.0));
  CHECK(plans[1].to_tube(420.0).apply({0, 0, 14.0}).z == Approx(-411.0));
}

TEST_CASE("the notches of a plate are counted in its solid: one, two, three and four") {
  const PlatePlan plan = plan_plates(36.0, 40.0)[0];
  GateLog log;
  const Mesh mesh = plate_solid(plan, log).mesh(plate_accuracy);
  for (const FlatMark& mark : plan.marks) {
    const Vec2 n = direction(plan.facing(mark.flat));
    int corners = 0;  // two at the floor of each notch, on the outer face
    for (const Vec3& p : mesh.vertices) {
      corners += p.z == 0.0 && std::abs(dot(Vec2{p.x, p.y}, n) - (0.5 * plan.across_flats - 1.0)) < 1e-9 &&
                 std::abs(cross(Vec2{p.x, p.y}, n)) < 5.5;
    }
    CHECK(corners == 2 * mark.notches);
  }
}

TEST_CASE("a tube wider than sixty, or bowed, gets plates on which it clears the board") {
  const PlatePlan plan = plan_plates(70.0, 90.0)[0];
  CHECK(plan.across_flats >= 98.0);
  CHECK_THROWS_AS(plan_plates(36.0, 40.0, 6), GeometryError);
  CHECK_THROWS_AS(plan_plates(36.0, 40.0, 32), GeometryError);
}

TEST_CASE("admesh finds nothing to mend in a survey plate") {
  for (const PlatePlan& plan : plan_plates(36.0, 40.0)) {
    GateLog log;
    test::check_by_admesh(plate_solid(plan, log).mesh(plate_accuracy), plan.part());
  }
}
