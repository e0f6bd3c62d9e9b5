#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <random>

#include "guide_samples.hpp"
#include "plan/printing.hpp"
#include "solid/admesh.hpp"
#include "solid/backing_solid.hpp"

using namespace culmwright;

TEST_CASE("backing shoes of random tubes pass the gate at the first build") {
  const bool campaign = std::getenv("CULMWRIGHT_LONG_TESTS") != nullptr;
  std::mt19937 generator(44);
  std::uniform_real_distribution<double> lengths(240.0, 700.0), shares(0.06, 0.94), around(-0.5, 0.5);
  int shoes = 0;
  int repeated = 0;
  for (int i = 0; i < (campaign ? 100 : 5); ++i) {
    TubeShape shape = test::culm(lengths(generator));
    for (Node& node : shape.nodes) {
      if (generator() % 3 != 0) node.pierced_diameter = 40.0;  // as wide as the bore
    }
    const Tube tube{shape};
    Instrument instrument = test::instrument_on(tube);
    for (int k = 0; k < 7; ++k) {
      const SkinPlace place{shares(generator) * tube.length(), around(generator) * tube.girth(100.0)};
      instrument.keys.push_back(test::placed(tube, "K" + std::to_string(k + 1), place, 8.0));
    }
    for (const BackingShoe& shoe : plan_backing(tube, instrument, Shop{}).shoes) {
      GateLog log;
      INFO("tube " << i << ", " << shoe.name);
      CHECK_NOTHROW(backing_solid(shoe, log));
      INFO(log.front().failure);
      CHECK(log.size() == 1);
      repeated += static_cast<int>(log.size()) - 1;
      ++shoes;
    }
  }
  std::printf("%d backing shoes, seed 44, %d builds repeated\n", shoes, repeated);
  CHECK(shoes > 4);
}

TEST_CASE("admesh finds nothing to mend in a backing shoe, which lies flat on the bed") {
  const Tube tube{test::culm(460.0)};
  Instrument instrument = test::instrument_on(tube);
  instrument.keys.push_back(test::placed(tube, "L1", {45.0, 6.0}, 8.0));
  const BackingShoe shoe = plan_backing(tube, instrument, Shop{}).shoes.at(0);
  GateLog log;
  const OnBed bed =
      on_bed(backing_solid(shoe, log).mesh(backing_accuracy), printing_position(shoe, Shop{}.printer));
  test::check_by_admesh(bed.mesh, shoe.name);
  double on_table = 0.0;
  double highest = 0.0;
  for (const auto& triangle : bed.mesh.triangles) {
    const Vec3 a = bed.mesh.vertices[triangle[0]];
    const Vec3 b = bed.mesh.vertices[triangle[1]];
    const Vec3 c = bed.mesh.vertices[triangle[2]];
    highest = std::max({highest, a.z, b.z, c.z});
    if (a.z < 1e-6 && b.z < 1e-6 && c.z < 1e-6) on_table += 0.5 * length(cross(b - a, c - a));
  }
  CHECK(on_table > 0.8 * shoe.width * shoe.at.length());
  CHECK(highest < 0.75 * shoe.width);
}
