#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <random>

#include "guide_samples.hpp"
#include "plan/printing.hpp"
#include "solid/admesh.hpp"
#include "solid/cradle_solid.hpp"

using namespace culmwright;

namespace {

Instrument any_instrument(const Tube& tube, std::mt19937& generator) {
  Instrument instrument = test::instrument_on(tube);
  std::uniform_real_distribution<double> anywhere(-0.5, 0.5), along(0.1, 0.9);
  const double girth = tube.girth(0.5 * tube.length());
  const int count = 3 + static_cast<int>(generator() % 9);
  for (int i = 0; i < count; ++i) {
    const double around = anywhere(generator) * girth * (i % 3 == 0 ? 1.0 : 0.3);
    instrument.keys.push_back(
        test::placed(tube, "K" + std::to_string(i + 1), {along(generator) * tube.length(), around}, 7.0));
  }
  instrument.mouth_end = generator() % 2 == 0 ? End::a : End::b;
  return instrument;
}

/// Lowest place of a mesh toward −up, and how many vertices stand there.
double lowest(const Mesh& mesh, Vec3 up) {
  double least = 1e300;
  for (const Vec3& p : mesh.vertices) least = std::min(least, dot(p, up));
  return least;
}

}  // namespace

TEST_CASE("cradles and wedges of random instruments pass the gate at the first build") {
  const bool campaign = std::getenv("CULMWRIGHT_LONG_TESTS") != nullptr;
  std::mt19937 generator(31);
  std::uniform_real_distribution<double> lengths(240.0, 700.0), radii(8.0, 45.0), shares(0.85, 1.15);
  int bodies = 0;
  int wedges = 0;
  int refused = 0;
  int repeated = 0;
  for (int i = 0; i < (campaign ? 100 : 4); ++i) {
    const double radius = radii(generator);
    const double length = lengths(generator);
    const Tube tube{i % 2 == 0 ? test::culm(length)
                               : test::round_tube(radius, radius * shares(generator), length, 0.2 * radius)};
    const Instrument instrument = any_instrument(tube, generator);
    std::vector<CradleSet> sets;
    try {
      sets = plan_cradles(tube, instrument, Shop{});
    } catch (const GeometryError& error) {
      std::printf("tube %d refused: %s\n", i, error.what());
      ++refused;
      continue;
    }
    for (const CradleSet& set : sets) {
      GateLog log;
      INFO("tube " << i << ", set " << set.number);
      for (const CradleBody& body : set.bodies) CHECK_NOTHROW(cradle_solid(set, body, log));
      for (const CradleWedge& wedge : set.wedges) CHECK_NOTHROW(wedge_solid(wedge, log));
      bodies += static_cast<int>(set.bodies.size());
      wedges += static_cast<int>(set.wedges.size());
      for (const GateEntry& entry : log) {
        INFO(entry.part << ": " << entry.failure);
        CHECK(entry.failure.empty());
        repeated += !entry.failure.empty();
      }
    }
  }
  std::printf("%d cradles, %d wedges, seed 31: %d builds failed the gate, %d instruments refused\n", bodies,
              wedges, repeated, refused);
  CHECK(refused == 0);
}

TEST_CASE("nothing of a cradle reaches below the facet it stands on, and the drill's way is clear") {
  const Tube tube{test::culm(460.0)};
  const Instrument instrument = test::twenty_holes(tube);
  for (const CradleSet& set : plan_cradles(tube, instrument, Shop{})) {
    GateLog log;
    for (const CradleBody& body : set.bodies) {
      const Mesh mesh = cradle_solid(set, body, log).mesh(cradle_accuracy);
      for (const CradleFacet& facet : set.facets) {
        const Vec3 up{facet.bores.axis.cos(), facet.bores.axis.sin(), 0.0};
        CHECK(lowest(mesh, up) == Approx(-set.foot).margin(1e-6));
        for (const PlacedKey& key : instrument.keys) {
          if (key.key.id != facet.bores.ids.front()) continue;
          const RigidMotion to_hole = rim_frame(key.drilling).inverse();
          double nearest = 1e300;
          for (const Vec3& p : mesh.vertices) {
            const Vec3 q = to_hole.apply(p);
            if (q.z > -12.0) nearest = std::min(nearest, std::hypot(q.x, q.y));  // above the tube's middle
          }
          CHECK(nearest > key.drilling.radius + 3.0);
        }
      }
    }
  }
}

TEST_CASE("the printed channel lies on the skin at its pads and off it in between") {
  const Tube tube{test::culm(460.0)};
  const CradleSet set = plan_cradles(tube, test::twenty_holes(tube), Shop{}).at(0);
  const CradleBody& body = set.bodies.at(0);
  GateLog log;
  const Mesh mesh = cradle_solid(set, body, log).mesh(cradle_accuracy);
  int bearing = 0;
  for (const Vec3& p : mesh.vertices) {
    const double outside = tube.outside(p);
    if (outside > 1.0) continue;
    CHECK(outside > -0.03);  // its facets' chord
    bearing += std::abs(outside) < 0.02;
  }
  CHECK(bearing > 20);
}

TEST_CASE("admesh finds nothing to mend in cradles and wedges laid on the bed") {
  const Tube tube{test::culm(460.0)};
  const CradleSet set = plan_cradles(tube, test::twenty_holes(tube), Shop{}).at(0);
  GateLog log;
  const CradleBody& body = set.bodies.at(1);
  const OnBed bed = on_bed(cradle_solid(set, body, log).mesh(cradle_accuracy), printing_position(set, body));
  test::check_by_admesh(bed.mesh, body.name);
  double highest = 0.0;
  for (const Vec3& p : bed.mesh.vertices) highest = std::max(highest, p.z);
  CHECK(highest == Approx(body.at.length()).margin(1e-6));  // it stands on its end
  for (const CradleWedge& wedge : set.wedges)
    test::check_by_admesh(wedge_solid(wedge, log).mesh(cradle_accuracy), wedge.part());
}
