#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>

#include "base/numeric.hpp"
#include "paper/development.hpp"
#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

double degrees_between(Vec2 a, Vec2 b) {
  return std::abs(std::atan2(cross(a, b), dot(a, b))) * 180.0 / pi;
}

/// Where two lines through two points each meet.
Vec2 apex(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const Vec2 u = b - a;
  const Vec2 v = d - c;
  return a + u * (cross(c - a, v) / cross(u, v));
}

Tube oval_tapered() {
  TubeShape shape = round_tube(16.0, 13.0, 300.0, 4.0);
  shape.skin = FourierAlong({{0, straight(0, 16.0, 300, 13.0), {}},
                             {1, straight(0, 0.0, 300, 1.0), straight(0, 0.4, 300, -0.8)},
                             {2, straight(0, 1.0, 300, 0.4), straight(0, -0.3, 300, 0.5)},
                             {3, straight(0, 0.1, 300, 0.2), straight(0, 0.15, 300, -0.1)}});
  return Tube(shape);
}

/// The net by another route: a strip of flat triangles between two sections, laid side by side in the plane
/// by their edge lengths alone.
struct Strip {
  std::vector<Vec2> top;
  std::vector<Vec2> foot;
};
Strip laid_out_triangles(const Development& net, double from, double to, int count) {
  const auto point = [&](int i, double at) {
    return net.on_paper({Angle::from_radians(from + (to - from) * i / count), at});
  };
  const auto third = [](Vec2 a, Vec2 b, double to_a, double to_b) {
    const double base = length(b - a);
    const double x = (to_a * to_a - to_b * to_b + base * base) / (2.0 * base);
    const double y = std::sqrt(std::max(0.0, to_a * to_a - x * x));
    const Vec2 along = unit(b - a);
    return a + along * x + Vec2{along.y, -along.x} * y;  // to the right of the ruling that points down
  };
  Strip strip;
  const double ruling = length(point(0, net.at_to()) - point(0, net.at_from()));
  strip.top.push_back({0.0, 0.0});
  strip.foot.push_back({0.0, ruling});
  for (int i = 0; i < count; ++i) {
    const Vec3 a = point(i, net.at_from());
    const Vec3 b = point(i, net.at_to());
    const Vec3 c = point(i + 1, net.at_from());
    const Vec3 d = point(i + 1, net.at_to());
    strip.top.push_back(third(strip.top.back(), strip.foot.back(), length(c - a), length(c - b)));
    strip.foot.push_back(third(strip.top.back(), strip.foot.back(), length(d - c), length(d - b)));
  }
  return strip;
}

}  // namespace

TEST_CASE("a cylinder of diameter 7 is 21.9912 around") {
  // Sheet Metal Drafting (public domain): 7 in circle → 21.9912.
  const Tube tube{round_tube(3.5, 3.5, 20.0, 0.5)};
  const Development net = Development::fit(tube, 0.0, 20.0, 0.0);
  CHECK(net.girth(10.0) == Approx(21.9912).margin(5e-5));
  const Angle line = net.line(0.0);
  const Angle turn = Angle::from_degrees(360.0);
  const Vec2 left = net.unroll(Development::Ray{line, 5.0});
  const Vec2 right = net.unroll(Development::Ray{line + turn, 5.0});
  CHECK(right.x - left.x == Approx(7.0 * pi).epsilon(1e-12));
  CHECK(std::abs(right.y - left.y) < 1e-11);
  CHECK(net.stated_error() < 1e-12);
}

TEST_CASE("a wrapped sheet is as long as its middle surface") {
  // π(D + t): D 30, t 0.1 → 94.5619 (REFERENCES, calculated).
  const Tube tube{round_tube(15.0, 15.0, 300.0, 4.0)};
  CHECK(Development::fit(tube, 0.0, 300.0, 0.1).girth(150.0) == Approx(94.5619).margin(5e-5));
}

TEST_CASE("the net of a cone is a sector of an annulus with the published radii and angle") {
  // Sheet Metal Drafting: diameters 5 and 8, height 4 → radii 7.12 and 11.39, 126.4° (7.120003, 11.392005,
  // 126.404439 calculated).
  const Tube tube{round_tube(2.5, 4.0, 4.0, 0.1)};
  const Development net = Development::fit(tube, 0.0, 4.0, 0.0);
  const Angle line = net.line(0.0);
  const auto at = [&](double degrees, double place) {
    return net.unroll(Development::Ray{line + Angle::from_degrees(degrees), place});
  };
  const Vec2 tip = apex(at(-180, 0), at(-180, 4), at(180, 0), at(180, 4));
  for (double degrees : {-180.0, -77.0, 0.0, 33.0, 180.0}) {
    CHECK(length(at(degrees, 0) - tip) == Approx(7.120003).margin(1e-6));
    CHECK(length(at(degrees, 4) - tip) == Approx(11.392005).margin(1e-6));
  }
  CHECK(degrees_between(at(-180, 0) - tip, at(0, 0) - tip) * 2.0 == Approx(126.404439).margin(1e-6));
}

TEST_CASE("the net of a tapered tube has the calculated radii, angle and area") {
  // r 15 → 13 over 300: 2250.05, 1950.043333, 2.399947°, area 26389.964714 (REFERENCES, calculated).
  const Tube tube{round_tube(15.0, 13.0, 300.0, 4.0)};
  const Development net = Development::fit(tube, 0.0, 300.0, 0.0);
  const auto at = [&](double degrees, double place) {
    return net.unroll(Development::Ray{net.line(0.0) + Angle::from_degrees(degrees), place});
  };
  const Vec2 tip = apex(at(-180, 0), at(-180, 300), at(180, 0), at(180, 300));
  const double large = length(at(0, 0) - tip);
  const double small = length(at(0, 300) - tip);
  const double angle = degrees_between(at(-180, 0) - tip, at(180, 0) - tip);
  CHECK(large == Approx(2250.05).margin(1e-6));
  CHECK(small == Approx(1950.043333).margin(1e-6));
  CHECK(angle == Approx(2.399947).margin(1e-6));
  CHECK(0.5 * angle * pi / 180 * (large * large - small * small) == Approx(26389.964714).margin(1e-6));
  // End A is up and wide: seen from outside the net narrows downward.
  CHECK(at(90, 0).x > at(90, 300).x);
  CHECK(at(90, 0).x > 0.0);
}

TEST_CASE("the net of an oval tapered tube agrees with triangles laid side by side") {
  const Tube tube = oval_tapered();
  const Development net = Development::fit(tube, 20.0, 280.0, 0.1);
  const double from = net.line(20.0).radians() - pi;
  const int count = 8000;
  const Strip strip = laid_out_triangles(net, from, from + 2 * pi, count);
  const auto ours = [&](int i, double at) {
    return net.unroll(Development::Ray{Angle::from_radians(from + 2 * pi * i / count), at});
  };
  // The strip lies elsewhere in the plane: distances between its points are compared.
  double worst = 0.0;
  for (int i = 0; i <= count; i += 250) {
    for (int k : {0, 2000, 5750, count}) {
      worst = std::max(worst,
                       std::abs(length(ours(i, 20) - ours(k, 280)) - length(strip.top[i] - strip.foot[k])));
      worst =
          std::max(worst, std::abs(length(ours(i, 20) - ours(k, 20)) - length(strip.top[i] - strip.top[k])));
    }
  }
  INFO("greatest difference " << worst);
  // Chords of 8000 triangles are short by 2π r (π/8000)²/6: 2e-6 mm.
  CHECK(worst < 1e-5);
  CHECK(cross(ours(2000, 20) - ours(0, 20), ours(0, 280) - ours(0, 20)) > 0.0);
  CHECK(cross(strip.top[2000] - strip.top[0], strip.foot[0] - strip.top[0]) > 0.0);
}

TEST_CASE("the net keeps lengths: edges are the sections' girths, rulings their lengths in space") {
  const Development net = Development::fit(oval_tapered(), 0.0, 300.0, 0.1);
  const double from = net.line(0.0).radians() - pi;
  for (double at : {0.0, 130.0, 300.0}) {
    double edge = 0.0;
    const int count = 20000;
    for (int i = 0; i < count; ++i) {
      edge += length(net.unroll(Development::Ray{Angle::from_radians(from + 2 * pi * (i + 1) / count), at}) -
                     net.unroll(Development::Ray{Angle::from_radians(from + 2 * pi * i / count), at}));
    }
    CHECK(edge == Approx(net.girth(at)).margin(1e-5));  // chords of 20000
  }
  for (double degrees : {0.0, 71.0, 188.0, 300.0}) {
    const Angle theta = Angle::from_radians(from) + Angle::from_degrees(degrees);
    CHECK(length(net.unroll(Development::Ray{theta, 300.0}) - net.unroll(Development::Ray{theta, 0.0})) ==
          Approx(length(net.on_paper({theta, 300.0}) - net.on_paper({theta, 0.0}))).margin(1e-10));
  }
}

TEST_CASE("rolled up, the two edges of the net meet") {
  const Development net = Development::fit(Tube(culm()), 100.0, 230.0, 0.1);
  const Angle seam = net.line(100.0) + Angle::from_degrees(170.0);
  const Angle turn = Angle::from_degrees(360.0);
  for (double at : {100.0, 160.0, 230.0}) {
    const Vec3 one = net.on_paper(net.ray_at(net.unroll(Development::Ray{seam, at})));
    const Vec3 other = net.on_paper(net.ray_at(net.unroll(Development::Ray{seam - turn, at})));
    CHECK(length(one - other) < 1e-8);
  }
  // Their lengths on the paper agree, so that the edges can be laid on each other.
  CHECK(length(net.unroll(Development::Ray{seam, 230}) - net.unroll(Development::Ray{seam, 100})) ==
        Approx(length(net.unroll(Development::Ray{seam - turn, 230}) -
                      net.unroll(Development::Ray{seam - turn, 100})))
            .margin(1e-10));
}

TEST_CASE("rolling undoes unrolling on a bowed, lobed, tapered culm, ridges included") {
  const Tube tube{culm()};
  const Development net = Development::fit(tube, 60.0, 300.0, 0.1);
  for (double at : {60.0, 92.0, 150.0, 235.0, 300.0}) {
    for (double around : {-48.0, -20.0, 0.0, 0.7, 33.0, 49.0, 70.0}) {
      const SkinPlace back = net.roll(net.unroll(SkinPlace{at, around}));
      CHECK(back.at == Approx(at).margin(1e-9));
      CHECK(back.around == Approx(around).margin(1e-9));
    }
  }
}

TEST_CASE("rolling undoes unrolling at random places of random tubes, and unrolling undoes rolling") {
  // SplitMix64 (Steele, Lea & Flood 2014): the same numbers everywhere.
  const std::uint64_t seed = 20260301;
  INFO("seed " << seed);
  std::uint64_t state = seed;
  const auto between = [&](double low, double high) {
    state += 0x9E3779B97F4A7C15U;
    std::uint64_t z = state;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
    return low + (high - low) * static_cast<double>((z ^ (z >> 31U)) >> 11U) / 9007199254740992.0;
  };
  double worst = 0.0;
  for (int tube_number = 0; tube_number < 8; ++tube_number) {
    const double r = between(6.0, 60.0);
    const double L = between(4.0, 20.0) * r;
    TubeShape shape = round_tube(r, r, L, 0.2 * r);
    const auto drift = [&](double size) {
      return straight(0, between(-size, size), L, between(-size, size));
    };
    shape.skin = FourierAlong({{0, straight(0, r, L, r * between(0.8, 1.2)), {}},
                               {1, drift(0.1 * r), drift(0.1 * r)},
                               {2, drift(0.03 * r), drift(0.03 * r)},
                               {4, drift(0.003 * r), drift(0.003 * r)}});
    const Tube tube{shape};
    const Development net = Development::fit(tube, 0.1 * L, 0.9 * L, 0.1);
    for (int i = 0; i < 60; ++i) {
      const double at = between(0.1 * L, 0.9 * L);
      const SkinPlace place{at, between(-0.5, 0.5) * tube.girth(at)};
      const Vec2 flat = net.unroll(place);
      const SkinPlace back = net.roll(flat);
      worst = std::max({worst, std::abs(back.at - place.at), std::abs(back.around - place.around),
                        length(net.unroll(back) - flat)});
    }
  }
  CHECK(worst < 1e-9);
}

TEST_CASE("a run that ends at a node where the axis bends is not charged with the bend beyond it") {
  // Two straight cylinders that meet at an angle: each alone is developable.
  const double L = 300.0;
  TubeShape shape = round_tube(15.0, 15.0, L, 4.0);
  const PiecewiseCubic bent = PiecewiseCubic::spline(
      {0.0, 75.0, 150.0, 225.0, 300.0}, {0.0, 0.75, 1.5, 0.75, 0.0}, {false, false, true, false, false});
  shape.skin = FourierAlong({{0, constant(15.0), {}}, {1, bent, constant(0.0)}});
  const Tube tube{shape};
  CHECK(std::abs(tube.shape().skin.section(75.0).terms()[1].cosine.first - 0.01) < 1e-9);
  CHECK(Development::fit(tube, 0.0, 150.0, 0.1).error().along < 1e-3);
  CHECK(Development::fit(tube, 150.0, 300.0, 0.1).error().along < 1e-3);
  // Across the bend the error is real: slopes differ by 0.02, half on either side, over 2 r.
  CHECK(Development::fit(tube, 0.0, 300.0, 0.1).error().along == Approx(0.01 * 2.0 * 15.0).epsilon(0.02));
}

TEST_CASE("the reference line stands upright on the paper, A above B, around to the right") {
  const Tube tube{culm()};
  const Development net = Development::fit(tube, 100.0, 225.0, 0.1);
  const Vec2 top = net.unroll(SkinPlace{100.0, 0.0});
  const Vec2 foot = net.unroll(SkinPlace{225.0, 0.0});
  CHECK(length(top) < 1e-10);
  CHECK(std::abs(foot.x) < 1e-10);
  CHECK(foot.y == Approx(125.0).margin(0.05));
  CHECK(net.unroll(SkinPlace{160.0, 10.0}).x > 9.5);
}

TEST_CASE("the key line stays straight on the paper where it goes over a slanted ridge") {
  TubeShape shape = round_tube(16.0, 16.0, 200.0, 4.0);
  Node node;
  node.at_line = 97.0;
  node.at_far = 103.0;
  node.band = 10.0;
  node.ridge_height = 1.0;
  shape.nodes.push_back(node);
  const Tube tube{shape};
  const Development net = Development::fit(tube, 40.0, 160.0, 0.1);
  const Angle facing = Angle::from_degrees(70.0);
  // The normal of the ridge itself does turn there.
  CHECK(std::abs((tube.section(102.0).theta_on_half_plane(facing) - facing).degrees()) > 1.0);
  for (double at : {50.0, 95.0, 98.0, 102.0, 150.0}) {
    CHECK(net.unroll(Development::Ray{net.line(at, facing), at}).x ==
          Approx(16.05 * facing.radians()).epsilon(1e-10));
  }
}

TEST_CASE("turning the tube's shape about its axis turns the net with it") {
  // The same skin with its reference line elsewhere: places shifted by the same arc unroll to the same
  // distances.
  TubeShape shape = culm();
  const Tube tube{shape};
  const double angle = 0.9;
  std::vector<FourierAlong::Term> terms;
  for (const FourierAlong::Term& term : shape.skin.terms()) {
    if (term.order == 0) {
      terms.push_back(term);
      continue;
    }
    std::vector<double> at, cosine, sine;
    for (int i = 0; i <= 42; ++i) {
      const double s = 10.0 * i;
      const double c = std::cos(term.order * angle);
      const double n = std::sin(term.order * angle);
      at.push_back(s);
      cosine.push_back(term.cosine(s).value * c + term.sine(s).value * n);
      sine.push_back(term.sine(s).value * c - term.cosine(s).value * n);
    }
    const std::vector<bool> smooth(at.size(), false);
    terms.push_back(
        {term.order, PiecewiseCubic::spline(at, cosine, smooth), PiecewiseCubic::spline(at, sine, smooth)});
  }
  shape.skin = FourierAlong(terms);
  const Development one = Development::fit(tube, 100.0, 230.0, 0.1);
  const Development other = Development::fit(Tube(shape), 100.0, 230.0, 0.1);
  const auto at = [](const Development& net, double theta, double place) {
    return net.unroll(Development::Ray{Angle::from_radians(theta), place});
  };
  for (double theta : {-1.0, 0.4, 2.0}) {
    CHECK(length(at(one, theta, 110) - at(one, 0.1, 220)) ==
          Approx(length(at(other, theta - angle, 110) - at(other, 0.1 - angle, 220))).margin(1e-3));
  }
}

TEST_CASE("the stated error is that of a known bow, taper change and shift") {
  // A bow as a parabola: sections shift by c(s) = 4 b s (L − s) / L². Its straight line by least squares is ⅔
  // b high, so the greatest shift left is ⅔ b at the ends. The slopes differ from the line's by at most 4 b /
  // L: at the back, 2 r across, a place is 8 r b / L off along the tube.
  const double b = 2.0, r = 15.0, L = 600.0;
  TubeShape shape = round_tube(r, r, L, 4.0);
  std::vector<double> at, c;
  for (int i = 0; i <= 120; ++i) {
    const double s = L * i / 120;
    at.push_back(s);
    c.push_back(4 * b * s * (L - s) / (L * L));
  }
  shape.skin =
      FourierAlong({{0, constant(r), {}},
                    {1, PiecewiseCubic::spline(at, c, std::vector<bool>(at.size(), false)), constant(0.0)}});
  const Development net = Development::fit(Tube(shape), 0.0, L, 0.1);
  CHECK(net.error().bow == Approx(2.0 / 3.0 * b).epsilon(0.02));
  CHECK(net.error().shape < 1e-9);
  CHECK(net.error().around < 0.05);
  CHECK(net.error().along == Approx(8 * r * b / L).epsilon(0.02));
  // The same figure from Gauss's curvature, which makes lines that start side by side drift together:
  // strain ∫∫ K, and its sum along the tube from the middle to an end.
  const Tube tube{shape};
  const double strain = integrate(
      [&](double theta) {
        return -r * r * (pi - theta) * gaussian_curvature(tube, 0.5 * L, Angle::from_radians(theta));
      },
      0.0, pi, 8);
  CHECK(std::abs(strain) * 0.5 * L == Approx(net.error().along).epsilon(0.03));
}

TEST_CASE("a skin that is a developable leaves no error, one that bulges says by how much") {
  CHECK(Development::fit(oval_tapered(), 0.0, 300.0, 0.1).stated_error() < 1e-9);
  TubeShape shape = round_tube(15.0, 15.0, 200.0, 4.0);
  std::vector<double> at, radius;
  for (int i = 0; i <= 80; ++i) {
    at.push_back(200.0 * i / 80);
    radius.push_back(15.0 + 0.3 * std::cos(2 * pi * i / 80.0));
  }
  shape.skin =
      FourierAlong({{0, PiecewiseCubic::spline(at, radius, std::vector<bool>(at.size(), false)), {}}});
  const Development net = Development::fit(Tube(shape), 0.0, 200.0, 0.1);
  CHECK(net.error().shape == Approx(0.3).epsilon(0.02));
  CHECK(net.error().around == Approx(0.3 * pi).epsilon(0.02));
}
