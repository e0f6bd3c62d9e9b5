#include <catch2/catch.hpp>

#include "base/interpolate.hpp"
#include "base/numeric.hpp"

using namespace culmwright;

TEST_CASE("monotone data give a monotone curve without overshoot") {
  // The property proved by Fritsch & Carlson 1980 for their limiter.
  const auto curve = PiecewiseCubic::monotone({0, 1, 2, 6, 7}, {0, 0.1, 3, 3.05, 9}, Beyond::linear);
  double before = curve(0).value;
  for (int i = 1; i <= 700; ++i) {
    const double value = curve(0.01 * i).value;
    CHECK(value >= before - 1e-12);
    before = value;
  }
}

TEST_CASE("a monotone curve passes its points and continues as told") {
  const auto held = PiecewiseCubic::monotone({0, 2, 4}, {1, 3, 4}, Beyond::held);
  CHECK(held(2).value == Approx(3.0));
  CHECK(held(9).value == Approx(4.0));
  const auto linear = PiecewiseCubic::monotone({0, 2}, {1, 3}, Beyond::linear);
  CHECK(linear(-1).value == Approx(0.0));
  CHECK(linear(5).value == Approx(6.0));
}

TEST_CASE("a natural spline through a straight line is that line, and its derivatives match differences") {
  const auto line = PiecewiseCubic::spline({0, 1, 5, 9}, {1, 2, 6, 10}, {false, false, false, false});
  CHECK(line(3.3).value == Approx(4.3));
  const auto curve = PiecewiseCubic::spline({0, 1, 5, 9}, {0, 2, 1, 0}, {false, false, false, false});
  for (double x : {0.4, 1.0, 3.0, 8.2}) {
    CHECK(curve(x).first == Approx((curve(x + 1e-5).value - curve(x - 1e-5).value) / 2e-5).margin(1e-6));
  }
  CHECK(curve(1.0 - 1e-9).second == Approx(curve(1.0 + 1e-9).second).margin(1e-6));
  CHECK(curve(1e-9).second == Approx(0.0).margin(1e-6));
}

TEST_CASE("a kink breaks the slope of a spline and nothing else") {
  const auto curve = PiecewiseCubic::spline({0, 4, 8}, {0, 2, 0}, {false, true, false});
  CHECK(curve(2).value == Approx(1.0));
  CHECK(curve(6).value == Approx(1.0));
  CHECK(curve(3.999).first == Approx(0.5));
  CHECK(curve(4.001).first == Approx(-0.5));
}

TEST_CASE("quadrature and root finding keep their accuracy") {
  CHECK(integrate([](double x) { return std::pow(x, 9); }, 0, 1, 1) == Approx(0.1).epsilon(1e-13));
  CHECK(find_root([](double x) { return std::cos(x) - x; }, 0, 1, 1e-14) == Approx(0.7390851332151607));
}
