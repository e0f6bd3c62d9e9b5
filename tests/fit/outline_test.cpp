#include "fit/outline.hpp"

#include <catch2/catch.hpp>

#include "base/numeric.hpp"
#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Outline hole(const Tube& tube, double diameter, double at, double around) {
  return Outline::of_hole(tube, drilling_at(tube, {at, around}, HoleSquare::to_skin, 0.5 * diameter));
}

/// Where a round hole square to a cylinder is developed (REFERENCES: "Developed square hole in a cylinder"):
/// u = R asin(r sin φ / R), v = r cos φ.
Vec2 developed(double cylinder, double radius, double phi) {
  return {radius * std::cos(phi), cylinder * std::asin(radius * std::sin(phi) / cylinder)};
}

/// The least distance between two developed rims, by brute force over the closed form.
double developed_gap(double cylinder, double r1, double r2, Vec2 between) {
  double least = 1e300;
  constexpr int steps = 3600;
  for (int i = 0; i < steps; ++i) {
    const Vec2 p = developed(cylinder, r1, 2 * pi * i / steps);
    // The nearest point of the other rim, by its own parameter: a coarse search, then closing in.
    const auto distance = [&](double phi) { return length(between + developed(cylinder, r2, phi) - p); };
    double best = 0.0;
    for (int j = 0; j < 72; ++j) {
      if (distance(2 * pi * j / 72) < distance(best)) best = 2 * pi * j / 72;
    }
    for (double step = 0.05; step > 1e-8; step *= 0.5) {
      if (distance(best + step) < distance(best)) best += step;
      if (distance(best - step) < distance(best)) best -= step;
    }
    least = std::min(least, distance(best));
  }
  return least;
}

}  // namespace

TEST_CASE(
    "the gap between two holes on one line of a cylinder is the distance of their centres less a diameter") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  const Gap gap = gap_between(tube, hole(tube, 10, 100, 8), hole(tube, 8, 117, 8));
  CHECK(gap.distance == Approx(17.0 - 9.0).margin(1e-5));
  CHECK(gap.along_the_grain());
  CHECK(gap.middle.at == Approx(100 + 5 + 4).margin(1e-3));
  CHECK(gap.middle.around == Approx(8).margin(1e-3));
}

TEST_CASE(
    "the gap between two holes of one section is the arc between centres less both developed half widths") {
  // Developed half width R asin(r / R): 10.195107 / 2 for R = 15, r = 5; 8.097984 / 2 for r = 4 (calculated).
  const Tube tube{round_tube(15, 15, 300, 4)};
  const Gap gap = gap_between(tube, hole(tube, 10, 100, 0), hole(tube, 8, 100, 16));
  CHECK(gap.distance == Approx(16.0 - (10.195107 + 8.097984) / 2).margin(1e-5));
  CHECK_FALSE(gap.along_the_grain());
}

TEST_CASE("the gap between holes that stand askew is that of their developed rims") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  for (const Vec2 between : {Vec2{9, 11}, Vec2{12, -7}, Vec2{-14, 5}, Vec2{3, 14}}) {
    const Gap gap = gap_between(tube, hole(tube, 10, 100, 3), hole(tube, 8, 100 + between.x, 3 + between.y));
    CHECK(gap.distance == Approx(developed_gap(15, 5, 4, between)).margin(2e-5));
  }
}

TEST_CASE("a gap across the back of the tube is the same as across its front") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  const double back = pi * 15;
  const double front = gap_between(tube, hole(tube, 10, 100, -8), hole(tube, 8, 104, 8)).distance;
  const double behind =
      gap_between(tube, hole(tube, 10, 100, back - 8), hole(tube, 8, 104, -back + 8)).distance;
  CHECK(behind == Approx(front).margin(1e-6));
}

TEST_CASE("opposite openings are nearest on the side where less is left") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  const Outline one = Outline::of_patch(tube, {100, 0}, 20, 30, 2);
  // 40 around on, 30 and 20 wide: 15 left one way, 2π15 − 40 − 25 = 29.25 the other.
  CHECK(gap_between(tube, one, Outline::of_patch(tube, {100, 40}, 20, 20, 2)).distance ==
        Approx(15).margin(0.005));
  CHECK(gap_between(tube, one, Outline::of_patch(tube, {100, -40}, 20, 20, 2)).distance ==
        Approx(15).margin(0.005));
  // 60 on is 34.25 the other way round: 9.25 left.
  const double round_the_back = 2 * pi * 15 - 60 - 25;
  CHECK(gap_between(tube, one, Outline::of_patch(tube, {100, 60}, 20, 20, 2)).distance ==
        Approx(round_the_back).margin(0.005));
}

TEST_CASE("holes that run into each other have a negative gap of about their overlap") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  const Gap gap = gap_between(tube, hole(tube, 10, 100, 0), hole(tube, 10, 108, 0));
  CHECK(gap.distance == Approx(-2.0).margin(0.1));
  CHECK(gap_between(tube, hole(tube, 10, 100, 0), hole(tube, 4, 100, 1)).distance < -3.0);
}

TEST_CASE("two round touches are apart by the distance of their middles less a diameter") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  const Outline one = Outline::of_patch(tube, {100, 0}, 16, 16, 8);
  const Outline other = Outline::of_patch(tube, {112, 16}, 16, 16, 8);
  CHECK(gap_between(tube, one, other).distance == Approx(20.0 - 16.0).margin(1e-5));
}

TEST_CASE("on a cone the gap is that of its flat net") {
  // The net turns distances along the skin into distances in the plane (public domain sheet metal drafting):
  // a point at slant distance s from the apex lies at (s, angle · sin a). The rims are taken in space.
  const double r_a = 15.0;
  const double r_b = 18.0;
  const double length_of_tube = 200.0;
  const Tube tube{round_tube(r_a, r_b, length_of_tube, 4)};
  const double sine = (r_b - r_a) / std::hypot(length_of_tube, r_b - r_a);
  const auto net = [&](Vec3 p) {
    const double s = std::hypot(p.x, p.y) / sine;
    const double turn = std::atan2(p.y, p.x) * sine;
    return Vec2{s * std::cos(turn), s * std::sin(turn)};
  };
  const Drilling one = drilling_at(tube, {100, 0}, HoleSquare::to_skin, 5);
  const Drilling other = drilling_at(tube, {110, 13}, HoleSquare::to_skin, 4);
  double least = 1e300;
  std::vector<Vec2> second;
  for (const RimPoint& p : rim(tube, other, 720)) second.push_back(net(p.point));
  for (const RimPoint& p : rim(tube, one, 720)) {
    for (const Vec2 q : second) least = std::min(least, length(q - net(p.point)));
  }
  const Gap gap = gap_between(tube, Outline::of_hole(tube, one), Outline::of_hole(tube, other));
  CHECK(gap.distance == Approx(least).margin(1e-3));
}

TEST_CASE("the quick lower bound never exceeds the gap") {
  const Tube tube{culm()};
  for (const SkinPlace place :
       {SkinPlace{150, 20}, SkinPlace{170, -12}, SkinPlace{128, 45}, SkinPlace{131, 4}}) {
    const Outline one = hole(tube, 9, 140, 0);
    const Outline other = hole(tube, 7, place.at, place.around);
    CHECK(least_possible_gap(one, other) <= gap_between(tube, one, other).distance);
  }
}

TEST_CASE("the distance from a slanted ridge is measured where the hole is") {
  // The ridge stands at at_line on the line's side and at at_far on the far side: m + s cos θ between.
  const Tube tube{round_tube(15, 15, 300, 4)};
  Node node;
  node.at_line = 104;
  node.at_far = 96;
  node.band = 8;
  CHECK(beyond_ridge(node, 120, Angle()) == Approx(12.0));
  CHECK(beyond_ridge(node, 120, Angle::from_degrees(180)) == Approx(20.0));
  CHECK(beyond_ridge(node, 120, Angle::from_degrees(90)) == Approx(16.0));
  const Outline on_line = hole(tube, 10, 120, 0);
  CHECK(beyond_ridge(node, on_line) == Approx(120 - 5 - 104 - 4).margin(1e-4));
  const Outline far_side = hole(tube, 10, 120, pi * 15);
  CHECK(beyond_ridge(node, far_side) == Approx(120 - 5 - 96 - 4).margin(1e-4));
  CHECK(beyond_ridge(node, hole(tube, 10, 104, 0)) == Approx(-4.0).margin(1e-4));
}

TEST_CASE("on a bent oval culm the gap lies between the chord of the nearest rim points and its arc") {
  // A way along a skin whose radius of curvature is nowhere less than R is no shorter than its chord c and,
  // where it is the shortest, no longer than the arc of radius R over that chord: 2 R asin(c / 2R).
  const Tube tube{culm()};
  const SkinPlace pairs[][2] = {{{140, 0}, {153, 6}},   {{140, 10}, {142, 24}},   {{60, -40}, {70, 47}},
                                {{300, 20}, {310, 33}}, {{160, -20}, {178, -20}}, {{330, 50}, {338, -46}}};
  for (const auto& pair : pairs) {
    const Drilling one = drilling_at(tube, pair[0], HoleSquare::to_skin, 4.5);
    const Drilling other = drilling_at(tube, pair[1], HoleSquare::to_skin, 3.5);
    const std::vector<RimPoint> second = rim(tube, other, 360);
    double chord = 1e300;
    for (const RimPoint& p : rim(tube, one, 360)) {
      for (const RimPoint& q : second) chord = std::min(chord, length(p.point - q.point));
    }
    const double least_radius = std::min(tube.section(pair[0].at).least_curvature_radius(),
                                         tube.section(pair[1].at).least_curvature_radius());
    const double gap = gap_between(tube, Outline::of_hole(tube, one), Outline::of_hole(tube, other)).distance;
    CHECK(gap > chord - 1e-3);
    CHECK(gap < 2 * least_radius * std::asin(chord / (2 * least_radius)) + 2e-3);
  }
}

TEST_CASE("outlines a little less than half a turn apart may still be nearer the other way round") {
  // With h = R + b sin 3θ the arc from 0 to θ is R θ + b (1 − cos 3θ) / 3 + 3 b (cos 3θ − 1): more than half
  // the girth at θ = 178° for b = −0.5.
  TubeShape shape = round_tube(15, 15, 300, 4);
  shape.skin = FourierAlong({{0, constant(15.0), {}}, {3, constant(0.0), constant(-0.5)}});
  const Tube tube(shape);
  const double theta = 178.0 * pi / 180;
  const double lobe = std::cos(3 * theta) - 1;
  const double arc = 15 * theta - 0.5 * (-lobe / 3 + 3 * lobe);
  const Section section = tube.section(100);
  const double from = section.around(Angle());
  const Outline one = Outline::of_patch(tube, {100, from}, 20, 30, 2);
  const Outline other = Outline::of_patch(tube, {100, section.around(Angle::from_radians(theta))}, 20, 20, 2);
  CHECK(arc > pi * 15 + 2);
  CHECK(gap_between(tube, one, other).distance == Approx(2 * pi * 15 - arc - 25).margin(0.005));
}
