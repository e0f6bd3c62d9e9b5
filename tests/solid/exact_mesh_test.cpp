/// Meshes of parts, judged from outside: CGAL for crossings and for distances from the skin, admesh for the
/// files. A few parts by default; guides of many random jobs with CULMWRIGHT_LONG_TESTS set.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <thread>

#include "guide_samples.hpp"
#include "outside/exact_mesh.hpp"
#include "plan/sample_meshes.hpp"
#include "random_guides.hpp"
#include "solid/admesh.hpp"
#include "solid/body_routes.hpp"
#include "solid/body_solid.hpp"
#include "solid/guide_solid.hpp"
#include "solid/sample_bodies.hpp"
#include "stl.hpp"

using namespace culmwright;

namespace {

/// As the file says it: coordinates rounded to float.
Mesh as_written(Mesh mesh) {
  for (Vec3& v : mesh.vertices) {
    v = {static_cast<double>(static_cast<float>(v.x)), static_cast<double>(static_cast<float>(v.y)),
         static_cast<double>(static_cast<float>(v.z))};
  }
  return mesh;
}

/// Skin under the full width and length of each pad, clear of what is cut into the pads.
std::vector<Vec3> skin_under_pads(const GuidePlan& plan) {
  constexpr double degree = pi / 180.0;
  const Tube& skin = plan.inner.base();
  std::vector<Vec3> points;
  for (const Span& pad : plan.pads) {
    for (const double side : {-1.0, 1.0}) {
      for (int i = 0; i <= 20; ++i) {
        for (int j = 0; j <= 20; ++j) {
          const double theta = plan.middle() + side * guide_sizes::pad_middle_deg * degree +
                               (i / 10.0 - 1.0) * guide_sizes::pad_half_deg * degree;
          const double at = pad.from + pad.length() * j / 20.0;
          if (plan.inner.field()(theta, at).value != 0.0) continue;  // a groove or a neighbour's flank
          points.push_back(skin.skin_point(at, Angle::from_radians(theta)).point);
        }
      }
    }
  }
  return points;
}

}  // namespace

TEST_CASE("CGAL finds crossing facets where there are some") {
  Mesh two = samples::box(10, 10, 10);
  const Mesh other = samples::box(3, 3, 20);
  const int first = static_cast<int>(two.vertices.size());
  for (const Vec3& v : other.vertices) two.vertices.push_back(v + Vec3{2, 2, -5});
  for (const auto& t : other.triangles) two.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
  CHECK(test::crossing_pairs(two) > 0);
  CHECK(test::crossing_pairs(samples::box(10, 10, 10)) == 0);
  CHECK(test::distances_from(samples::box(10, 10, 10), {{5, 5, 13}, {5, 5, 4}}) == std::vector<double>{3, 4});
}

TEST_CASE("no two facets of guides with letters, and of a tube's body, cross, by exact arithmetic") {
  const Tube tube{test::culm(460.0)};
  for (const GuidePlan& plan : plan_guides(tube, test::twenty_holes(tube), Shop{})) {
    INFO(plan.name);
    const Mesh mesh = build_guide(plan, 0.0).mesh(guide_mesh_accuracy());
    CHECK(test::crossing_pairs(mesh) == 0);
    CHECK(test::crossing_pairs(as_written(mesh)) == 0);
    test::check_by_admesh(mesh, plan.name);
  }
  const Tube piece{test::culm(200)};
  Instrument instrument = samples::piece(12, 190);
  samples::drill(instrument, piece, "L1", {25, -10}, 8);
  samples::open(instrument, piece, {95, 40}, 20, 10);
  const Mesh body = body_directly(plan_body(piece, instrument), piece, 0.0).mesh(body_accuracy);
  CHECK(test::crossing_pairs(as_written(body)) == 0);
}

TEST_CASE("pads bear on the skin within two hundredths, by CGAL's distance from the mesh that is printed") {
  const Tube tube{test::culm(460.0)};
  for (const GuidePlan& plan : plan_guides(tube, test::twenty_holes(tube), Shop{})) {
    const Mesh mesh = build_guide(plan, 0.0).mesh(guide_mesh_accuracy());
    const std::vector<Vec3> skin = skin_under_pads(plan);
    INFO(plan.name << ", " << skin.size() << " places");
    CHECK(skin.size() > 400);
    double farthest = 0.0;
    for (const double d : test::distances_from(mesh, skin)) farthest = std::max(farthest, d);
    CHECK(farthest < 0.02);
  }
}

TEST_CASE("guides meshed by two threads at once have the bytes of those meshed one after the other") {
  const Tube tube{test::culm(460.0)};
  const std::vector<GuidePlan> plans = plan_guides(tube, test::twenty_holes(tube), Shop{});
  const auto bytes_of = [&](const GuidePlan& plan) {
    return stl_bytes(build_guide(plan, 0.0).mesh(guide_mesh_accuracy()), plan.name);
  };
  std::vector<std::string> alone;
  for (const GuidePlan& plan : plans) alone.push_back(bytes_of(plan));
  std::vector<std::string> together(plans.size());
  const auto every_second = [&](std::size_t from) {
    for (std::size_t i = from; i < plans.size(); i += 2) together[i] = bytes_of(plans[i]);
  };
  std::thread other(every_second, 1);
  every_second(0);
  other.join();
  CHECK(alone == together);
}

TEST_CASE("guides of random jobs: no crossings, clean files, pads on the skin") {
  const unsigned seed = 31415;
  test::Draw draw(seed);
  const int wanted = test::long_jobs(1, 100);
  int guides = 0;
  std::size_t facets = 0;
  int general = 0;
  double farthest = 0.0;
  for (int job = 0; job < wanted; ++job) {
    const Tube tube = test::random_tube(draw);
    if (!check_shape(tube).empty()) continue;
    const Instrument instrument = test::random_instrument(draw, tube);
    std::vector<GuidePlan> plans;
    try {
      plans = plan_guides(tube, instrument, Shop{});
    } catch (const GeometryError&) {
      continue;  // refused by name: the campaign of guides counts those
    }
    for (const GuidePlan& plan : plans) {
      INFO("job " << job << ", " << plan.name);
      const Solid guide = build_guide(plan, 0.0);
      const Mesh mesh = guide.mesh(guide_mesh_accuracy());
      general += !guide.meshing(guide_mesh_accuracy()).fallback.empty();
      CHECK(test::crossing_pairs(mesh) == 0);
      CHECK(test::crossing_pairs(as_written(mesh)) == 0);
      test::check_by_admesh(mesh, plan.name);
      for (const double d : test::distances_from(mesh, skin_under_pads(plan)))
        farthest = std::max(farthest, d);
      ++guides;
      facets += mesh.triangles.size();
    }
  }
  std::printf(
      "seed %u: %d jobs, %d guides, %zu facets, %d by the general mesher, pads within %.4f of the skin\n",
      seed, wanted, guides, facets, general, farthest);
  CHECK(guides > 0);
  CHECK(general == 0);
  CHECK(farthest < 0.02);
}
