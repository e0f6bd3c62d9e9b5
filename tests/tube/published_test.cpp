/// Sections and masses against handbook values.
#include <catch2/catch.hpp>

#include "shapes.hpp"
#include "tube/mass.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// The support function of an ellipse, √(a² cos² θ + b² sin² θ), as a series of even orders up to 24.
Tube elliptic(double a, double b) {
  std::vector<FourierAlong::Term> terms;
  const int steps = 256;
  for (int order = 0; order <= 24; order += 2) {
    double sum = 0.0;
    for (int i = 0; i < steps; ++i) {
      const double t = 2 * pi * i / steps;
      sum += std::hypot(a * std::cos(t), b * std::sin(t)) * std::cos(order * t);
    }
    terms.push_back({order, constant(sum * (order == 0 ? 1.0 : 2.0) / steps), constant(0.0)});
  }
  TubeShape shape;
  shape.end_b_at = 100.0;
  shape.skin = FourierAlong(terms);
  shape.wall = FourierAlong({{0, constant(1.0), {}}});
  return Tube(shape);
}

}  // namespace

TEST_CASE("the girth of an ellipse is its perimeter") {
  // P = π(a+b)K(m), m = (a−b)/(a+b) (Petroleum & Natural Gas Handbook, p. 11, K = 1.002 at m = 0.1, 1.010 at
  // 0.2); digits calculated by two routes.
  const std::vector<std::array<double, 3>> cases{
      {5, 4, 28.3616678890}, {10, 7, 53.8236898147}, {16, 15, 97.4147093341}, {20, 18, 119.4632086505}};
  for (const auto& [a, b, perimeter] : cases) {
    CHECK(elliptic(a, b).section(50).girth() == Approx(perimeter).epsilon(1e-9));
    CHECK(elliptic(a, b).section(50).area() == Approx(pi * a * b).epsilon(1e-9));
  }
  for (const auto& [m, k] : {std::pair<double, double>{0.1, 1.002}, {0.2, 1.010}}) {
    const double perimeter = elliptic(10 * (1 + m), 10 * (1 - m)).section(50).girth();
    CHECK(perimeter / (pi * 20.0) == Approx(k).margin(0.0006));  // the table has three decimals
  }
}

TEST_CASE("the area of a tube's wall follows ISO 22157") {
  // A = π/4 [D² − (D − 2t)²]; D = 30, t = 4: 326.7256 mm² (formula from memory, calculated).
  const Section section = Tube(round_tube(15, 15, 100, 4)).section(50);
  CHECK(section.area() - section.bore_area() == Approx(326.7256).margin(5e-5));
}

TEST_CASE("a hollow cylinder has the handbook's volume") {
  // Machinery's Handbook, 31st ed., p. 90: h 28, D 36, t 4: V 11259.5.
  CHECK(wall_moments(Tube(round_tube(18, 18, 28, 4))).volume == Approx(11259.5).margin(0.05));
}

TEST_CASE("a weighed tube of 30/22 by 400 at 700 kg/m³") {
  // V 130690.254, 91.483 g (calculated).
  TubeShape shape = round_tube(15, 15, 400, 4);
  shape.density = 700e-6;
  CHECK(wall_moments(Tube(shape)).volume == Approx(130690.254).margin(1e-3));
  CHECK(mass_of(Tube(shape), 0, 400)->mass_g == Approx(91.483).margin(5e-4));
}

TEST_CASE("the centre of a thin tapered shell is the handbook's") {
  // z = h(R + 2r)/[3(R + r)] from the large end; (15, 13, 300): 146.428571. A wall that is thin and follows
  // the radius differs from the shell by its own thickness only.
  TubeShape shape = round_tube(15, 13, 300, 1e-4);
  const WallMoments moments = wall_moments(Tube(shape));
  CHECK(moments.at / moments.volume == Approx(146.428571).margin(1e-3));
}

TEST_CASE("the centre of a frustum less its bore agrees with the closed forms of both") {
  // Solid frustum z = h(R² + 2Rr + 3r²)/[4(R² + Rr + r²)], (15, 13, 300): 142.869270; the bore here is 11
  // → 9.
  const auto volume = [](double R, double r) { return pi * 300.0 / 3.0 * (R * R + R * r + r * r); };
  const auto centre = [](double R, double r) {
    return 300.0 * (R * R + 2 * R * r + 3 * r * r) / (4.0 * (R * R + R * r + r * r));
  };
  REQUIRE(centre(15, 13) == Approx(142.869270).margin(1e-6));
  const WallMoments moments = wall_moments(Tube(round_tube(15, 13, 300, 4)));
  const double expected =
      (volume(15, 13) * centre(15, 13) - volume(11, 9) * centre(11, 9)) / (volume(15, 13) - volume(11, 9));
  CHECK(moments.at / moments.volume == Approx(expected).epsilon(1e-9));
}

TEST_CASE("a bowed tube's centre of mass lies on the belly's side by the mean of the bow") {
  TubeShape shape = round_tube(15, 15, 300, 4);
  const std::vector<double> at{0, 150, 300};
  shape.skin =
      FourierAlong({{0, constant(15.0), {}},
                    {1, PiecewiseCubic::spline(at, {0, 2, 0}, {false, false, false}), constant(0.0)}});
  shape.density = 700e-6;
  // Natural cubic through (0, 0), (150, 2), (300, 0): mean 2 · 5/8.
  CHECK(mass_of(Tube(shape), 0, 300)->centre.x == Approx(2.0 * 5.0 / 8.0).epsilon(1e-9));
}

TEST_CASE("a pierced diaphragm weighs its ring") {
  TubeShape shape = round_tube(15, 15, 300, 4);
  const double bare = wall_moments(Tube(shape)).volume;
  Node node;
  node.at_line = node.at_far = 150.0;
  node.diaphragm = 3.0;
  shape.nodes = {node};
  CHECK(wall_moments(Tube(shape)).volume - bare == Approx(pi * 121.0 * 3.0).epsilon(1e-9));
  shape.nodes[0].pierced_diameter = 12.0;
  CHECK(wall_moments(Tube(shape)).volume - bare == Approx(pi * (121.0 - 36.0) * 3.0).epsilon(1e-9));
}
