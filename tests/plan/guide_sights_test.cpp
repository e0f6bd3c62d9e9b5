/// Sighting windows on tubes that are bent.
#include <catch2/catch.hpp>
#include <cmath>

#include "guide_samples.hpp"
#include "plan/guide_plan.hpp"

using namespace culmwright;
using namespace culmwright::test;

TEST_CASE("sighting windows stand only where their line runs over the skin") {
  // So slim and bent that planes at a right angle to the bow miss the skin in the middle.
  TubeShape shape = round_tube(6.5, 6.5, 540.0, 1.5);
  const std::vector<double> at{0.0, 270.0, 540.0};
  const std::vector<bool> smooth{false, false, false};
  shape.skin = FourierAlong({{0, constant(6.5), {}},
                             {1, PiecewiseCubic::spline(at, {0.0, 13.0, 0.0}, smooth),
                              PiecewiseCubic::spline(at, {0.0, 2.0, 0.0}, smooth)}});
  const Tube tube{shape};
  Instrument instrument = instrument_on(tube);
  for (int i = 0; i < 6; ++i) {
    instrument.keys.push_back(
        placed(tube, "K" + std::to_string(i), {60.0 + 80.0 * i, i % 2 == 0 ? 9.0 : -9.0}, 3.0));
  }
  int windows = 0;
  for (const GuidePlan& plan : plan_guides(tube, instrument, Shop{})) {
    for (const SightingWindow& window : plan.sights) {
      ++windows;
      for (const int corner : {0, 2}) {
        const Vec2 c = window.corners[corner];
        CHECK(std::abs(c.x - plan.middle()) < 84.0 * pi / 180.0);
        const Vec2 p = tube.section(c.y).point(Angle::from_radians(c.x));
        CHECK(std::abs(dot(p, tangent(plan.sighting_line->facing))) < 1e-6);
      }
    }
  }
  CHECK(windows > 0);
}
