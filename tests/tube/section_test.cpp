#include <catch2/catch.hpp>

#include "base/numeric.hpp"
#include "shapes.hpp"
#include "tube/hole.hpp"
#include "tube/tube.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// A section with the support function of an ellipse is not a short Fourier series; this one is, and its
/// figures are closed forms.
Tube lobed() {
  TubeShape shape;
  shape.end_b_at = 100.0;
  shape.skin = FourierAlong({{0, constant(15.0), {}},
                             {1, constant(0.7), constant(-0.4)},
                             {2, constant(0.5), constant(0.2)},
                             {3, constant(0.1), constant(0.05)}});
  shape.wall = FourierAlong({{0, constant(4.0), {}}});
  return Tube(shape);
}

}  // namespace

TEST_CASE("girth, width and area of a support function are the closed forms") {
  // girth = ∫h dθ (Cauchy); width = h(θ) + h(θ+π); area = ½∫(h² − h′²) dθ.
  const Section section = lobed().section(50.0);
  CHECK(section.girth() == Approx(2 * pi * 15.0).epsilon(1e-13));
  for (double degrees : {0.0, 37.0, 90.0, 211.0}) {
    const double t = degrees * pi / 180.0;
    CHECK(section.width(Angle::from_degrees(degrees)) ==
          Approx(2 * (15.0 + 0.5 * std::cos(2 * t) + 0.2 * std::sin(2 * t))).epsilon(1e-13));
  }
  const double area = pi * 225.0 + 0.5 * pi * ((1 - 4) * (0.25 + 0.04) + (1 - 9) * (0.01 + 0.0025));
  CHECK(section.area() == Approx(area).epsilon(1e-13));
  // The offset of the section changes neither.
  const double by_green = 0.5 * integrate(
                                    [&](double t) {
                                      const Angle theta = Angle::from_radians(t);
                                      const SurfaceJet h = section.support(theta);
                                      return cross(section.point(theta), tangent(theta)) * (h.f + h.f_tt);
                                    },
                                    0.0, 2 * pi, 40);
  CHECK(by_green == Approx(area).epsilon(1e-10));
}

TEST_CASE("a curve of constant width hides its lobes from every caliper width") {
  // h(θ) + h(θ+π) constant for odd lobes: public mathematics of constant-width curves.
  TubeShape shape;
  shape.end_b_at = 10.0;
  shape.skin = FourierAlong({{0, constant(15.0), {}}, {3, constant(0.5), constant(0.0)}});
  shape.wall = FourierAlong({{0, constant(4.0), {}}});
  const Section section = Tube(shape).section(5.0);
  for (int i = 0; i < 36; ++i) CHECK(section.width(Angle::from_degrees(10 * i)) == Approx(30.0));
  CHECK(section.support(Angle()).f - section.support(Angle::from_degrees(60)).f == Approx(1.0));
}

TEST_CASE("arc from the line and direction at that arc undo each other") {
  const Tube tube{culm()};
  for (double at : {0.0, 33.0, 92.0, 200.0, 236.0, 420.0}) {  // 92 and 236 lie on ridges
    const Section section = tube.section(at);
    CHECK(std::abs(section.point(section.line()).y) < 1e-10);
    for (double around : {-44.0, -20.0, 0.0, 7.5, 31.0}) {
      CHECK(section.around(section.theta_at(around)) == Approx(around).margin(1e-9));
    }
  }
}

TEST_CASE("two millimetres of sideways bow at radius 15 move the line's normal by 7.7 degrees") {
  TubeShape shape = round_tube(15.0, 15.0, 100.0, 4.0);
  shape.skin = FourierAlong({{0, constant(15.0), {}}, {1, constant(0.0), constant(2.0)}});
  const Section section = Tube(shape).section(50.0);
  CHECK(std::abs(section.line().degrees()) == Approx(std::asin(2.0 / 15.0) * 180 / pi).epsilon(1e-10));
  CHECK(std::abs(section.line().degrees()) == Approx(7.7).margin(0.05));
}

TEST_CASE("derivatives of the skin agree with differences, ridges and slant included") {
  const Tube tube{culm()};
  const double d = 1e-4;
  for (double at : {30.0, 91.0, 94.0, 235.0, 300.0}) {
    for (double degrees : {0.0, 50.0, 133.0, 280.0}) {
      const Angle theta = Angle::from_degrees(degrees);
      const auto h = [&](double a, double t) {
        return tube.section(a).support(Angle::from_radians(theta.radians() + t));
      };
      const SurfaceJet jet = h(at, 0.0);
      CHECK(jet.f_t == Approx((h(at, d).f - h(at, -d).f) / (2 * d)).margin(2e-6));
      CHECK(jet.f_tt == Approx((h(at, d).f_t - h(at, -d).f_t) / (2 * d)).margin(2e-6));
      CHECK(jet.f_s == Approx((h(at + d, 0).f - h(at - d, 0).f) / (2 * d)).margin(2e-6));
      CHECK(jet.f_ts == Approx((h(at + d, 0).f_t - h(at - d, 0).f_t) / (2 * d)).margin(2e-6));
      CHECK(jet.f_ss == Approx((h(at + d, 0).f_s - h(at - d, 0).f_s) / (2 * d)).margin(2e-4));
    }
  }
}

TEST_CASE("the distance outside a section is the support excess of its nearest tangent") {
  const Section section = Tube(culm()).section(150.0);
  for (double degrees : {5.0, 120.0, 250.0}) {
    const Angle theta = Angle::from_degrees(degrees);
    for (double offset : {-3.0, 0.0, 0.5, 8.0}) {
      Angle found;
      const double distance = section.outside(section.point(theta) + direction(theta) * offset, &found);
      CHECK(distance == Approx(offset).margin(1e-10));
      CHECK((found - theta).normalized().radians() == Approx(0.0).margin(1e-7));
    }
  }
}

TEST_CASE("the wall of concentric and eccentric bores is measured along the normal") {
  CHECK(Tube(round_tube(15, 15, 100, 4)).section(50).wall(Angle::from_degrees(70)) == Approx(4.0));
  // An eccentric round bore of radius 11 shifted by e along x, at right angles to it: the normal −y meets the
  // bore circle at 15 − √(11² − e²).
  TubeShape shape = round_tube(15, 15, 100, 4);
  shape.wall = FourierAlong({{0, constant(4.0), {}}, {1, constant(-0.8), constant(0.0)}});
  const Section section = Tube(shape).section(50);
  CHECK(section.wall(Angle()) == Approx(3.2));
  CHECK(section.wall(Angle::from_degrees(180)) == Approx(4.8));
  CHECK(section.wall(Angle::from_degrees(90)) == Approx(15.0 - std::sqrt(121.0 - 0.64)).epsilon(1e-9));
}

TEST_CASE("a square hole's rim on a cylinder develops to the published points") {
  // u = R asin(r sin φ / R), v = r cos φ; R = 15, r = 5 (closed form, calculated).
  const Tube tube{round_tube(15, 15, 100, 4)};
  const Drilling drilling = drilling_at(tube, {50.0, 0.0}, HoleSquare::to_skin, 5.0);
  for (const auto& [degrees, u, v] :
       {std::array<double, 3>{30, 2.511721, 4.330127}, std::array<double, 3>{45, 3.569117, 3.535534},
        std::array<double, 3>{60, 4.392642, 2.5}}) {
    const RimPoint rim = rim_point(tube, drilling, Angle::from_degrees(degrees));
    CHECK(std::abs(rim.place.around) == Approx(u).margin(1e-6));
    CHECK(rim.place.at - 50.0 == Approx(v).margin(1e-6));
  }
}

TEST_CASE("rim points lie on the skin and on the drill, on a bent oval culm too") {
  const Tube tube{culm()};
  for (const SkinPlace place : {SkinPlace{60, 10}, SkinPlace{96, -12}, SkinPlace{330, 48}}) {
    const Drilling drilling = drilling_at(tube, place, HoleSquare::to_skin, 6.0);
    for (const RimPoint& rim : rim(tube, drilling, 48)) {
      CHECK(std::abs(tube.outside(rim.point)) < 1e-9);
      CHECK(length(cross(rim.point - drilling.point, drilling.axis)) == Approx(6.0).epsilon(1e-10));
      CHECK(length(tube.skin_point(rim.place).point - rim.point) < 1e-7);
    }
  }
}

TEST_CASE("a rim that crosses the back of the tube is counted without a jump") {
  const Tube tube{round_tube(15, 15, 100, 4)};
  const Drilling drilling = drilling_at(tube, {50.0, pi * 15.0}, HoleSquare::to_skin, 4.0);
  for (const RimPoint& rim : rim(tube, drilling, 36)) {
    CHECK(std::abs(std::abs(rim.place.around) - pi * 15.0) < 4.2);
  }
  const auto points = rim(tube, drilling, 36);
  for (std::size_t i = 1; i < points.size(); ++i) {
    CHECK(std::abs(points[i].place.around - points[i - 1].place.around) < 1.0);
  }
}

TEST_CASE("a tube that is hollow somewhere is named with the place") {
  TubeShape shape = round_tube(15, 15, 100, 4);
  shape.skin = FourierAlong({{0, constant(15.0), {}}, {3, straight(0, 0.0, 100, 3.0), constant(0.0)}});
  const Problems problems = check_shape(Tube(shape));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].code == "not-convex");
  CHECK(check_shape(Tube(culm())).empty());
}
