/// Tongues and notches as solids.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "random_guides.hpp"
#include "solid/guide_solid.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// A bare saddle on a straight round tube of radius 15, inner face on the skin, outer face 5 above.
GuidePlan bare_saddle() {
  const Tube tube{round_tube(15.0, 15.0, 300.0, 3.0)};
  OffsetField field;
  const GuideFace inner(tube, 0.0, field);
  field.level = 5.0;
  return {"bare",
          "round",
          1,
          inner,
          GuideFace(tube, 0.0, field),
          {100.0, 140.0},
          {{2.0, 0.0, -100.0}, {1.0, 0.0, 0.0}},
          {},
          {},
          {},
          StopKind::sighting_only,
          {},
          {},
          {},
          {},
          {}};
}

double volume_of(const GuidePlan& plan) {
  return volume(build_guide(plan, 0.0).mesh(guide_mesh_accuracy()));
}

}  // namespace

TEST_CASE("a tongue adds and a notch takes away the sector of a ring") {
  const GuidePlan plain = bare_saddle();
  const double half = 0.2;
  for (const End end : {End::a, End::b}) {
    for (const bool tongue : {true, false}) {
      GuidePlan plan = plain;
      plan.joints = {{end, tongue, "other", end == End::a ? 100.0 : 140.0, {0.1 - half, 0.1 + half}, 6.0}};
      INFO((end == End::a ? "end A " : "end B ") << (tongue ? "tongue" : "notch"));
      const double sector = half * (20.0 * 20.0 - 15.0 * 15.0) * 6.0;
      const double change = expectation_of(plan).volume - expectation_of(plain).volume;
      CHECK(change == Approx(tongue ? sector : -sector).epsilon(1e-9));
      CHECK(volume_of(plan) - volume_of(plain) == Approx(tongue ? sector : -sector).epsilon(0.01));
      GateLog log;
      build_guide(plan, log);
      CHECK(log.size() == 1);
    }
  }
}

TEST_CASE("the gate refuses a guide whose notch is missing, shallow or beside its place") {
  GuidePlan plan = bare_saddle();
  plan.joints = {{End::b, false, "other", 140.0, {-0.2, 0.2}, 6.0}};
  const Expectation expected = expectation_of(plan);
  CHECK(hold(build_guide(plan, 0.0), expected, guide_mesh_accuracy()).sound());
  CHECK_FALSE(hold(build_guide(bare_saddle(), 0.0), expected, guide_mesh_accuracy()).sound());
  GuidePlan wrong = plan;
  wrong.joints[0].depth = 5.8;
  CHECK_FALSE(hold(build_guide(wrong, 0.0), expected, guide_mesh_accuracy()).sound());
  wrong = plan;
  wrong.joints[0].theta = {-0.19, 0.21};
  CHECK_FALSE(hold(build_guide(wrong, 0.0), expected, guide_mesh_accuracy()).sound());
}

TEST_CASE("joined guides of random tubes are sound") {
  const unsigned seed = 1618;
  Draw draw(seed);
  int jobs = 0;
  int joints = 0;
  int refused = 0;
  const int wanted = long_jobs(2, 100);
  while (joints < wanted) {
    const Tube tube = random_tube(draw);
    ++jobs;
    if (!check_shape(tube).empty() || tube.end_b_at() < 380.0) continue;
    Instrument instrument = instrument_on(tube);
    for (const double share : {0.12, 0.16, 0.5, 0.56}) {
      const double at = share * tube.end_b_at();
      const double radius = 0.5 * tube.section(at).width(Angle());
      instrument.keys.push_back(placed(tube, "K" + std::to_string(static_cast<int>(100 * share)),
                                       {at, draw.between(-0.3, 0.3) * radius}, 0.3 * radius));
    }
    std::vector<GuidePlan> plans;
    try {
      plans = plan_guides(tube, instrument, Shop{});
    } catch (const GeometryError&) {
      ++refused;
      continue;
    }
    for (const GuidePlan& plan : plans) {
      if (plan.joints.empty()) continue;
      joints += plan.joints.front().tongue;
      INFO("job " << jobs << ", " << plan.name << " of " << tube.id());
      GateLog log;
      CHECK_NOTHROW(build_guide(plan, log));
    }
  }
  std::printf("seed %u: %d jobs, %d refused in planning, %d joints\n", seed, jobs, refused, joints);
}
