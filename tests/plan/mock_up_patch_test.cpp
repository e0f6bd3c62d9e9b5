#include "plan/mock_up_patch_plan.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

MockUpPatch patch(SkinPlace place, double length, double width, double corner) {
  return {"K1", "touch", place, length, width, corner, 0.0};
}

const FaceExpectation& face(const Expectation& expected, const std::string& name) {
  for (const FaceExpectation& one : expected.faces) {
    if (one.name == name) return one;
  }
  FAIL("no face " + name);
  return expected.faces.front();
}

}  // namespace

TEST_CASE("a chart of the skin finds the place again, ridges and all") {
  const Tube tube{culm()};
  std::mt19937 generator(20);
  std::uniform_real_distribution<double> along(-18.0, 18.0), around(-14.0, 14.0), outward(0.0, 6.0);
  for (const double at : {50.0, 92.4, 240.0}) {
    const SkinChart chart(tube, {at, 9.0});
    for (int i = 0; i < 100; ++i) {
      const Vec2 xy{along(generator), around(generator)};
      const double c = outward(generator);
      const SkinChart::Place found = chart.place(chart.point(xy, c));
      CHECK(found.xy.x == Approx(xy.x).margin(1e-9));
      CHECK(found.xy.y == Approx(xy.y).margin(1e-7));
      CHECK(found.c == Approx(c).margin(1e-9));
    }
  }
}

TEST_CASE("a chart measures around as the skin does") {
  const Tube tube{culm()};
  const SkinChart chart(tube, {150.0, 9.0});
  const Section section = tube.section(150.0);
  CHECK(section.around(chart.theta({0.0, 6.5})) == Approx(15.5).margin(1e-9));
  CHECK(section.around(chart.theta({0.0, -6.5})) == Approx(2.5).margin(1e-9));
}

TEST_CASE("on a round pipe a patch has the volume and faces of its outline raised on a circle") {
  const double R = 15.0;
  const Tube tube{round_tube(R, R, 200.0, 3.0)};
  MockUpPatchPlan plan = plan_mock_up_patch(tube, patch({100, 4}, 22, 14, 5), End::a, Shop{});
  plan.strokes.clear();
  const Expectation expected = expectation_of(plan);
  const double e = plan.edge;
  const double notch = plan.edge_at_notch(0.0) - plan.notch_floor;
  REQUIRE(e == Approx(1.0));
  // The outline's area at an inset d, less the notch; a layer at c holds (1 + c/R) of it. Midpoints.
  const auto area = [&](double d) {
    return (22 - 2 * d) * (14 - 2 * d) - (4 - pi) * (5 - d) * (5 - d) - 2 * plan.notch_half * (notch - d);
  };
  double volume = 0.0;
  const int steps = 20000;
  for (int i = 0; i < steps; ++i) {
    const double c = plan.low + (plan.high - plan.low) * (i + 0.5) / steps;
    const double up = std::max(0.0, c - (plan.high - e));
    volume += area(e - std::sqrt(e * e - up * up)) * (1 + c / R) * (plan.high - plan.low) / steps;
  }
  CHECK(expected.volume == Approx(volume).epsilon(1e-4));
  CHECK(*face(expected, "underside").area == Approx(area(0.0) * (1 + plan.low / R)).epsilon(1e-6));
  CHECK(*face(expected, "top").area == Approx(area(e) * (1 + plan.high / R)).epsilon(1e-6));
  // Walls: the straight ends and half the corners lie across, and are spread by their distance from the axis;
  // corners between the two by the mean of √(sin² + k² cos²).
  const double k = 1 + 0.5 * (plan.low + plan.high - e) / R;
  double corner = 0.0;
  for (int i = 0; i < 1000; ++i) {
    const double a = 0.5 * pi * (i + 0.5) / 1000;
    corner += 5.0 * std::hypot(std::sin(a), k * std::cos(a)) * 0.5 * pi / 1000;
  }
  const double around = 2 * (22 - 10) + k * (2 * (14 - 10) - 2 * plan.notch_half) + 4 * corner;
  CHECK(*face(expected, "side walls").area == Approx(around * (plan.high - e - plan.low)).epsilon(1e-4));
}

TEST_CASE("a printed patch is as thick as the foam over the skin, its underside the glue line from it") {
  const Tube tube{culm()};
  Shop shop;
  shop.foam_thickness = 4.5;
  shop.fits.glue_line = 0.2;
  const MockUpPatchPlan plan = plan_mock_up_patch(tube, patch({150, 0}, 16, 16, 8), End::a, shop);
  CHECK(plan.high == 4.5);
  CHECK(plan.low == 0.2);
  shop.foam_thickness = 0.5;
  const MockUpPatchPlan thin = plan_mock_up_patch(tube, patch({150, 0}, 16, 16, 8), End::a, shop);
  CHECK(thin.high == Approx(1.4));
  CHECK(thin.strokes.empty());
}

TEST_CASE("the outline's pieces join into one closed line but for the notch, at every inset") {
  const Tube tube{round_tube(15.0, 15.0, 200.0, 3.0)};
  const MockUpPatch shapes[] = {patch({100, 4}, 22, 14, 5), patch({100, 4}, 16, 16, 8),
                                patch({100, 4}, 20, 10, 5), patch({100, 4}, 30, 12, 0),
                                patch({100, 4}, 16, 14, 5.9)};
  for (const MockUpPatch& shape : shapes) {
    const MockUpPatchPlan plan = plan_mock_up_patch(tube, shape, End::a, Shop{});
    const std::vector<PatchPiece> pieces = patch_pieces(plan);
    for (const double inset : {0.0, 0.5 * plan.edge, plan.edge}) {
      for (std::size_t i = 0; i + 1 < pieces.size(); ++i)
        CHECK(length(pieces[i].at(1.0, inset) - pieces[i + 1].at(0.0, inset)) < 1e-9);
      CHECK(pieces.front().at(0.0, inset).y == Approx(plan.notch_half).margin(1e-9));
      CHECK(pieces.back().at(1.0, inset).y == Approx(-plan.notch_half).margin(1e-9));
      CHECK(pieces.front().at(0.0, inset).x == Approx(plan.edge_at_notch(inset)).margin(1e-9));
      for (const PatchPiece& piece : pieces) {
        for (const double t : {0.0, 0.3, 0.7, 1.0})
          CHECK(plan.outline.distance(piece.at(t, inset)) == Approx(-inset).margin(1e-9));
      }
    }
  }
}

TEST_CASE("the engraved id stays on the top, clear of the notch, and is left out on a ridge") {
  const Tube tube{culm()};
  const MockUpPatchPlan plan = plan_mock_up_patch(tube, patch({150, 0}, 18, 15, 6), End::b, Shop{});
  REQUIRE_FALSE(plan.strokes.empty());
  for (const StrokeOutline& stroke : plan.strokes) {
    for (const Vec2& p : stroke) {
      CHECK(plan.outline.distance(p) < -plan.edge - 0.5);
      CHECK(p.x < plan.notch_floor - 0.5);
    }
  }
  const double ridge = tube.nodes().front().at();
  const MockUpPatchPlan on_ridge = plan_mock_up_patch(tube, patch({ridge, 0}, 18, 15, 6), End::b, Shop{});
  CHECK(on_ridge.strokes.empty());
}

TEST_CASE("a patch that wraps too far, is too small or stands off the tube is refused by name") {
  const Tube tube{round_tube(10.0, 10.0, 200.0, 2.0)};
  const auto refused = [&](const MockUpPatch& one) {
    try {
      plan_mock_up_patch(tube, one, End::a, Shop{});
      return std::string();
    } catch (const GeometryError& error) {
      return std::string(error.what());
    }
  };
  CHECK(refused(patch({100, 0}, 20, 29, 4)).find("K1") != std::string::npos);  // 166° of 10
  CHECK(refused(patch({100, 0}, 20, 27, 4)).empty());                          // 155°
  CHECK(refused(patch({100, 0}, 4, 10, 2)).find("K1") != std::string::npos);
  CHECK(refused(patch({-25, 0}, 20, 10, 2)).find("beyond") != std::string::npos);
}
