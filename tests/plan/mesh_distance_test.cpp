#include "plan/mesh_distance.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "plan/facet_distance.hpp"
#include "sample_meshes.hpp"

using namespace culmwright;

namespace {

Mesh shifted(Mesh mesh, Vec3 by) {
  return moved(mesh, {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, by});
}

/// A sphere of so many bands, its corners on the sphere.
Mesh ball(double radius, int bands) {
  Mesh mesh;
  const int steps = 2 * bands;
  mesh.vertices = {{0, 0, -radius}, {0, 0, radius}};
  for (int i = 1; i < bands; ++i) {
    const Angle up = Angle::from_degrees(-90.0 + 180.0 * i / bands);
    for (int k = 0; k < steps; ++k) {
      const Angle turn = Angle::from_degrees(360.0 * k / steps);
      mesh.vertices.push_back(Vec3{up.cos() * turn.cos(), up.cos() * turn.sin(), up.sin()} * radius);
    }
  }
  const auto at = [&](int band, int k) { return 2 + (band - 1) * steps + k % steps; };
  for (int k = 0; k < steps; ++k) {
    mesh.triangles.push_back({0, at(1, k + 1), at(1, k)});
    mesh.triangles.push_back({1, at(bands - 1, k), at(bands - 1, k + 1)});
    for (int i = 1; i + 1 < bands; ++i) {
      mesh.triangles.push_back({at(i, k), at(i, k + 1), at(i + 1, k + 1)});
      mesh.triangles.push_back({at(i, k), at(i + 1, k + 1), at(i + 1, k)});
    }
  }
  return mesh;
}

double uniform(std::mt19937& draw, double low, double high) {
  return low + (high - low) * static_cast<double>(draw()) / 4294967296.0;
}

}  // namespace

TEST_CASE("boxes are as far apart as face from face, edge from edge, corner from corner") {
  const MeshTree box(samples::box(10, 20, 30));
  const auto to = [&](Vec3 by) {
    return box.distance(MeshTree(shifted(samples::box(5, 5, 5), by)))->distance;
  };
  CHECK(to({13, 4, 4}) == Approx(3.0).margin(1e-12));
  CHECK(to({13, 24, 4}) == Approx(5.0).margin(1e-12));
  CHECK(to({12, 23, 36}) == Approx(7.0).margin(1e-12));
  CHECK(to({-5 - 0.25, 2, 2}) == Approx(0.25).margin(1e-12));
}

TEST_CASE("balls stand apart by their centres' distance less both radii") {
  // Nearest at the poles, where both have a corner.
  const MeshTree one(ball(10, 24));
  const MeshTree two(shifted(ball(4, 16), {0, 0, 15.5}));
  const auto found = one.distance(two);
  CHECK(found->distance == Approx(1.5).margin(1e-12));
  CHECK(found->on_first.z == Approx(10.0));
  CHECK(found->on_second.z == Approx(11.5));
  CHECK(found->depth == 0.0);
  // In a direction of no corner the facets lie inside by their chord at most.
  const double chord = 10.0 * (1.0 - std::cos(0.5 * pi / 24.0)) + 4.0 * (1.0 - std::cos(0.5 * pi / 16.0));
  const Vec3 way = unit(Vec3{0.3, 0.5, 0.7});
  const double away = one.distance(MeshTree(shifted(ball(4, 16), way * 15.5)))->distance;
  CHECK(away >= 1.5 - 1e-12);
  CHECK(away <= 1.5 + 2.0 * chord);
}

TEST_CASE("crossed cylinders stand apart by the distance of their axes less both radii") {
  // Edge from edge: 36-sided prisms with a side toward each other, one turned to lie along x.
  const Mesh upright = samples::turned({{0.001, -40}, {6, -40}, {6, 40}, {0.001, 40}}, 36);
  const Mesh lying = moved(upright, {{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}, {0, 15.0, 0}});
  CHECK(MeshTree(upright).distance(MeshTree(lying))->distance == Approx(3.0).margin(1e-9));
}

TEST_CASE("what crosses or lies within has no distance, and says how deep") {
  const MeshTree box(samples::box(10, 10, 10));
  const auto crossing = box.distance(MeshTree(shifted(samples::box(4, 4, 4), {8.5, 3, 3})));
  CHECK(crossing->meet());
  CHECK(crossing->depth == Approx(1.5).margin(1e-9));
  const auto within = box.distance(MeshTree(shifted(samples::box(2, 2, 2), {3, 4, 4})));
  CHECK(within->meet());
  CHECK(within->depth == Approx(5.0).margin(1e-9));  // the middle of its face at x = 5
  const auto touching = box.distance(MeshTree(shifted(samples::box(4, 4, 4), {10, 3, 3})));
  CHECK(touching->meet());
  CHECK(touching->depth == Approx(0.0).margin(1e-9));
}

TEST_CASE("two plugs that meet in a thin tube are found, and those that do not stand apart as drawn") {
  // Round plugs of radius 5 toward the axis of a tube of radius 15, a quarter turn apart, each ending at the
  // distance `end` from the axis: they meet once the ends come nearer than their radius.
  const auto plug = [](double end, Angle around) {
    const Mesh along_z = samples::turned({{0.001, end}, {5, end}, {5, 16}, {0.001, 16}}, 72);
    const Vec3 out{around.cos(), around.sin(), 0};
    return MeshTree(moved(along_z, {{0, 0, -1}, cross(out, Vec3{0, 0, -1}), out, {}}));
  };
  // Nearest are the rims' points toward each other, (end, 5) and (5, end): √2 · (end − 5) apart.
  const auto apart = plug(7.0, Angle()).distance(plug(7.0, Angle::from_degrees(90)));
  CHECK(apart->distance == Approx(std::sqrt(2.0) * 2.0).epsilon(1e-3));
  const auto meeting = plug(3.0, Angle()).distance(plug(3.0, Angle::from_degrees(90)));
  CHECK(meeting->meet());
  CHECK(meeting->depth > 0.5);
}

TEST_CASE("what is farther than asked for is not looked for") {
  const MeshTree box(samples::box(1, 1, 1));
  CHECK_FALSE(box.distance(MeshTree(shifted(samples::box(1, 1, 1), {4, 0, 0})), 2.9).has_value());
  CHECK(box.distance(MeshTree(shifted(samples::box(1, 1, 1), {4, 0, 0})), 3.1).has_value());
}

TEST_CASE("the tree finds what looking at every pair of facets finds, and what sampling never undercuts") {
  std::mt19937 draw(7);
  for (int round = 0; round < 30; ++round) {
    INFO("round " << round);
    const Vec3 by{uniform(draw, -16, 16), uniform(draw, -16, 16), uniform(draw, 11, 18)};
    const Mesh one = ball(7, 7), two = shifted(ball(4, 5), by);
    double least = 1e300;
    double sampled = 1e300;
    for (const auto& t : one.triangles) {
      const Facet a{one.vertices[t[0]], one.vertices[t[1]], one.vertices[t[2]]};
      for (const auto& s : two.triangles) {
        const Facet b{two.vertices[s[0]], two.vertices[s[1]], two.vertices[s[2]]};
        const NearestPoints near = nearest_points(a, b);
        least = std::min(least, length(near.on_second - near.on_first));
        const double u = uniform(draw, 0, 1), v = uniform(draw, 0, 1 - u);
        const double p = uniform(draw, 0, 1), q = uniform(draw, 0, 1 - p);
        sampled = std::min(sampled, length(a[0] + (a[1] - a[0]) * u + (a[2] - a[0]) * v -
                                           (b[0] + (b[1] - b[0]) * p + (b[2] - b[0]) * q)));
      }
    }
    const double found = MeshTree(one).distance(MeshTree(two))->distance;
    CHECK(found == Approx(least).margin(1e-12));
    CHECK(found <= sampled);
  }
}

TEST_CASE("nearest points of two facets are never beaten by sampling, nor far from what it finds") {
  std::mt19937 draw(11);
  for (int round = 0; round < 60; ++round) {
    INFO("round " << round);
    Facet a, b;
    for (Vec3& p : a) p = {uniform(draw, 0, 4), uniform(draw, 0, 4), uniform(draw, 0, 4)};
    for (Vec3& p : b) p = {uniform(draw, 2, 6), uniform(draw, 2, 6), uniform(draw, 2, 6)};
    const NearestPoints near = nearest_points(a, b);
    const double found = length(near.on_second - near.on_first);
    double sampled = 1e300;
    constexpr int n = 24;
    for (int i = 0; i <= n; ++i) {
      for (int k = 0; k <= n - i; ++k) {
        const Vec3 p = a[0] + (a[1] - a[0]) * (1.0 * i / n) + (a[2] - a[0]) * (1.0 * k / n);
        const Vec3 q = nearest_on(b, p);
        sampled = std::min(sampled, length(p - q));
        // A point of the facet itself: all its coordinates are shares of the corners.
        CHECK(dot(cross(b[1] - b[0], b[2] - b[0]), q - b[0]) == Approx(0.0).margin(1e-9));
      }
    }
    CHECK(found <= sampled + 1e-12);
    CHECK(sampled <= found + 5.0 / n);
  }
}
