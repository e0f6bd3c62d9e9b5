#include "solid/fit_gauge_solid.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>

#include "outside/exact_mesh.hpp"
#include "stl.hpp"

using namespace culmwright;

TEST_CASE("the fit gauge passes the gate as first planned, and its mesh by exact arithmetic") {
  const FitGauge gauge = plan_fit_gauge(Shop{});
  GateLog log;
  const Solid solid = fit_gauge_solid(gauge, log);
  REQUIRE(log.size() == 1);
  CHECK(log[0].failure.empty());
  CHECK(log[0].meshing.empty());
  const Mesh mesh = solid.mesh(gauge_accuracy);
  CHECK(inspect(mesh).closed());
  CHECK(inspect(mesh).genus == 21);
  CHECK(test::crossing_pairs(mesh) == 0);
  if (const char* out = std::getenv("CULMWRIGHT_KEEP")) {
    std::ofstream(std::string(out) + "/fit-gauge.stl", std::ios::binary) << stl_bytes(mesh, "fit gauge");
  }
}

TEST_CASE("holes and pegs of the meshed gauge are as wide as they are engraved, to 0.006") {
  const FitGauge gauge = plan_fit_gauge(Shop{});
  GateLog log;
  const Mesh mesh = fit_gauge_solid(gauge, log).mesh(gauge_accuracy);
  for (const GaugeRow& row : gauge.rows) {
    for (const GaugeSpot& spot : row.spots) {
      // Half-way between corners an inscribed polygon is narrowest: middles of the wall's edges at either
      // end.
      double least = 1e9;
      double most = 0.0;
      for (const auto& t : mesh.triangles) {
        for (int i = 0; i < 3; ++i) {
          const Vec3 a = mesh.vertices[t[i]], b = mesh.vertices[t[(i + 1) % 3]];
          if (a.z != gauge_sizes::thickness || b.z != gauge_sizes::thickness) continue;
          const Vec2 from{a.x - spot.middle.x, a.y - spot.middle.y},
              to{b.x - spot.middle.x, b.y - spot.middle.y};
          if (std::abs(length(from) - 0.5 * spot.diameter) > 1e-6 ||
              std::abs(length(to) - 0.5 * spot.diameter) > 1e-6) {
            continue;
          }
          least = std::min(least, length((from + to) * 0.5));
          most = std::max(most, length(from));
        }
      }
      INFO(spot.diameter);
      CHECK(2.0 * most == Approx(spot.diameter).margin(1e-6));
      CHECK(2.0 * least > spot.diameter - 0.0061);
    }
  }
}
