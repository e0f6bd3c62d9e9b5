#include "plan/outline.hpp"

#include <catch2/catch.hpp>

using namespace culmwright;

TEST_CASE("a polygon's area and middle are those of the textbook, whichever way it runs") {
  // Triangle: half base times height; the middle at the mean of its corners (Euclid, Elements I.41; common
  // practice).
  const std::vector<Vec2> triangle{{10.0, -4.0}, {16.0, -4.0}, {10.0, -1.0}};
  CHECK(polygon_area(triangle) == Approx(9.0).margin(1e-12));
  CHECK(length(polygon_middle(triangle) - Vec2{12.0, -3.0}) < 1e-12);
  const std::vector<Vec2> turned{triangle[2], triangle[1], triangle[0]};
  CHECK(polygon_area(turned) == Approx(-9.0).margin(1e-12));
  CHECK(length(polygon_middle(turned) - Vec2{12.0, -3.0}) < 1e-12);

  // An L of two rectangles, 4 × 1 and 1 × 2: its middle is the mean of theirs, weighted by area.
  const std::vector<Vec2> angle{{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 3}, {0, 3}};
  CHECK(polygon_area(angle) == Approx(6.0).margin(1e-12));
  CHECK(length(polygon_middle(angle) - Vec2{(4 * 2.0 + 2 * 0.5) / 6, (4 * 0.5 + 2 * 2.0) / 6}) < 1e-12);
}
