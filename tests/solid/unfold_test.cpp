#include "solid/unfold.hpp"

#include <catch2/catch.hpp>

using namespace culmwright;

namespace {

double area(const std::vector<Vec2>& places, const PlaneTriangle& t) {
  const Vec2 a = places[t.corner[0]];
  return 0.5 * cross(places[t.corner[1]] - a, places[t.corner[2]] - a);
}

}  // namespace

TEST_CASE("a facet across a dent of the border is turned to its neighbour, and every border side stays") {
  // A square whose lower side has a dent at 1: in the scale that made the triangles it bulged outward.
  const std::vector<Vec2> places{{0, 0}, {2, 0.5}, {4, 0}, {4, 4}, {0, 4}};
  std::vector<PlaneTriangle> triangles{
      {{0, 1, 2}, {true, true, false}}, {{0, 2, 4}, {false, false, true}}, {{2, 3, 4}, {true, true, false}}};
  REQUIRE(area(places, triangles[0]) < 0.0);
  REQUIRE(unfold(places, triangles));
  double sum = 0.0;
  int border = 0;
  for (const PlaneTriangle& t : triangles) {
    CHECK(area(places, t) > 0.0);
    sum += area(places, t);
    for (int k = 0; k < 3; ++k) {
      border += t.on_border[k];
      const int from = t.corner[k];
      if (t.on_border[k]) CHECK(t.corner[(k + 1) % 3] == (from + 1) % 5);
    }
  }
  CHECK(border == 5);
  CHECK(sum == Approx(16.0 - 1.0));  // the dent's triangle
}

TEST_CASE("what is sound stays as it is, and what no turn mends is said") {
  const std::vector<Vec2> places{{0, 0}, {1, 0}, {0, 1}};
  std::vector<PlaneTriangle> sound{{{0, 1, 2}, {true, true, true}}};
  CHECK(unfold(places, sound));
  CHECK(sound[0].corner == std::array<int, 3>{0, 1, 2});
  std::vector<PlaneTriangle> turned{{{0, 2, 1}, {true, true, true}}};
  CHECK_FALSE(unfold(places, turned));
}
