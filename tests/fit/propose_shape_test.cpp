#include "fit/propose_shape.hpp"

#include <catch2/catch.hpp>

#include "fit/outline.hpp"
#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

TEST_CASE("two circles need the square root of their distance less what is around") {
  // On a nearly flat skin rims are circles: Δv = √((r₁ + r₂ + limit)² − Δu²).
  const FlatOutline a = FlatOutline::of_hole(5.0, 1e6);
  const FlatOutline b = FlatOutline::of_hole(4.0, 1e6);
  for (const double around : {0.0, 2.0, 7.5, 12.0}) {
    const double reach = 5.0 + 4.0 + 6.0;
    const auto along = needed_along(a, b, around, {6.0, 6.0});
    REQUIRE(along.has_value());
    CHECK(*along == Approx(std::sqrt(reach * reach - around * around)).epsilon(1e-3));
    CHECK(*needed_around(a, b, around, {6.0, 6.0}) == Approx(*along).margin(1e-9));
  }
  CHECK_FALSE(needed_along(a, b, 15.01, {6.0, 6.0}).has_value());
}

TEST_CASE("two rectangles are clear beside each other at any place along") {
  const FlatOutline a = FlatOutline::of_patch(20.0, 10.0, 0.0);
  const FlatOutline b = FlatOutline::of_patch(10.0, 6.0, 0.0);
  CHECK_FALSE(needed_along(a, b, 8.01, {}).has_value());
  CHECK(*needed_along(a, b, 7.99, {}) == Approx(15.0).epsilon(1e-3));
  CHECK(*needed_around(a, b, 14.99, {}) == Approx(8.0).epsilon(1e-3));
}

TEST_CASE("of two limits only the one of the shortest way is asked for") {
  const FlatOutline hole = FlatOutline::of_hole(4.0, 1e6);
  // Straight along the grain the lower limit serves.
  CHECK(*needed_along(hole, hole, 0.0, {5.0, 6.0}) == Approx(13.0).margin(2e-3));
  CHECK(*needed_around(hole, hole, 0.0, {5.0, 6.0}) == Approx(14.0).margin(2e-3));
  for (double around = 0.0; around < 14.0; around += 0.7) {
    const auto along = needed_along(hole, hole, around, {5.0, 6.0});
    if (!along) continue;
    for (double more = 0.0; more < 4.0; more += 0.05) {
      CHECK(clear_of(hole, hole, {*along + more, around}, {5.0, 6.0}));
    }
  }
}

TEST_CASE("what is needed on paper leaves the web on the skin of a cylinder") {
  // Independent: exact rims and the shortest way along the skin (fit/outline.hpp).
  const Tube tube(round_tube(15.0, 15.0, 300.0, 4.0));
  const FlatOutline a = FlatOutline::of_hole(5.0, 15.0);
  const FlatOutline b = FlatOutline::of_hole(4.0, 15.0);
  const auto hole = [&](double radius, double at, double around) {
    return Outline::of_hole(tube, drilling_at(tube, {at, around}, HoleSquare::to_skin, radius));
  };
  for (const double around : {0.0, 3.0, 8.0, 11.0, 14.0}) {
    const auto along = needed_along(a, b, around, {5.5, 5.5});
    REQUIRE(along.has_value());
    const Gap gap = gap_between(tube, hole(5.0, 100.0, 0.0), hole(4.0, 100.0 + *along, around));
    CHECK(gap.distance >= 5.5 - 1e-4);
    CHECK(gap.distance == Approx(5.5).margin(0.01));
  }
}
