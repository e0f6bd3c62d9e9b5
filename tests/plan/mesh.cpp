#include "plan/mesh.hpp"

#include <catch2/catch.hpp>

#include "base/angle.hpp"
#include "plan/mesh_inside.hpp"
#include "plan/sample_meshes.hpp"

using namespace culmwright;

TEST_CASE("a box has its volume, its area, one shell and genus nought") {
  const Mesh box = samples::box(2.0, 3.0, 4.0);
  CHECK(volume(box) == Approx(24.0).epsilon(1e-14));
  CHECK(area(box) == Approx(52.0).epsilon(1e-14));
  const MeshFaults faults = inspect(box);
  CHECK(faults.closed());
  CHECK(faults.shells == 1);
  CHECK(faults.genus == 0);
}

TEST_CASE(
    "a hollow cylinder of 180 sides has the handbook's volume less the polygon's share, and genus one") {
  // Machinery's Handbook, 31st ed., pp. 89–93: h 28, D 36, t 4: V 11259.5. A regular n-gon holds
  // (n / 2π) sin(2π / n) of its circle.
  const Mesh ring = samples::hollow_cylinder();
  const double polygon = 180.0 / (2.0 * pi) * std::sin(2.0 * pi / 180.0);
  CHECK(volume(ring) == Approx(samples::hollow_cylinder_volume * polygon).epsilon(5e-6));
  CHECK(inspect(ring).genus == 1);
  CHECK(inspect(ring).closed());
}

TEST_CASE("moving a mesh keeps volume and area") {
  const Mesh ring = samples::hollow_cylinder();
  const RigidMotion motion{{0, 1, 0}, {0, 0, 1}, {1, 0, 0}, {500, -300, 20}};
  CHECK(volume(moved(ring, motion)) == Approx(volume(ring)).epsilon(1e-12));
  CHECK(area(moved(ring, motion)) == Approx(area(ring)).epsilon(1e-12));
}

TEST_CASE("a mesh with a facet missing has three open edges") {
  Mesh box = samples::box(1, 1, 1);
  box.triangles.pop_back();
  CHECK(inspect(box).open_edges == 3);
  CHECK_FALSE(inspect(box).closed());
}

TEST_CASE("a facet turned over makes its edges non-manifold though nothing is open") {
  Mesh box = samples::box(1, 1, 1);
  std::swap(box.triangles[0][0], box.triangles[0][1]);
  CHECK(inspect(box).open_edges == 0);
  CHECK(inspect(box).non_manifold_edges == 3);
}

TEST_CASE("two boxes that share a corner are pinched there and count as two shells of genus nought") {
  Mesh box = samples::box(1, 1, 1);
  const Mesh other = samples::box(-1, -1, -1);
  const int shift = 7;  // the other's vertex 0 is the origin as well: it takes the first one's
  for (std::size_t i = 1; i < other.vertices.size(); ++i) box.vertices.push_back(other.vertices[i]);
  for (const auto& t : other.triangles) {
    std::array<int, 3> moved_triangle{};
    for (int k = 0; k < 3; ++k) moved_triangle[k] = t[k] == 0 ? 0 : t[k] + shift;
    box.triangles.push_back(moved_triangle);
  }
  const MeshFaults faults = inspect(box);
  CHECK(faults.pinched_vertices == 1);
  CHECK(faults.shells == 2);
  CHECK(faults.genus == 0);
  CHECK_FALSE(faults.closed());
}

TEST_CASE("a facet with a corner twice and one without area are degenerate") {
  Mesh mesh;
  mesh.vertices = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}};
  mesh.triangles = {{0, 0, 1}, {0, 1, 2}};
  CHECK(inspect(mesh).degenerate_triangles == 2);
}

TEST_CASE("the winding number finds inside, outside, bore and a part inside out") {
  const MeshInside ring(samples::hollow_cylinder());
  CHECK(ring.inside({16, 0, 14}));
  CHECK(ring.inside({0, -17.9, 0.01}));
  CHECK_FALSE(ring.inside({0, 0, 14}));
  CHECK_FALSE(ring.inside({16, 0, 28.01}));
  CHECK_FALSE(ring.inside({16, 0, -0.01}));
  CHECK_FALSE(ring.inside({40, 0, 14}));
  Mesh turned_over = samples::hollow_cylinder();
  for (auto& t : turned_over.triangles) std::swap(t[0], t[1]);
  CHECK(MeshInside(turned_over).winding({16, 0, 14}) == -1);
}

TEST_CASE("the winding number by crossings agrees with the sum of solid angles") {
  // van Oosterom & Strackee 1983, IEEE Trans. Biomed. Eng. 30:125–126, for the solid angle of a triangle.
  const Mesh mesh = samples::hollow_cylinder(14.0, 24);
  const MeshInside inside(mesh);
  for (int i = 0; i < 300; ++i) {
    const Vec3 p{-20.0 + std::fmod(i * 13.37, 40.0), -20.0 + std::fmod(i * 7.77, 40.0),
                 -2.0 + std::fmod(i * 3.31, 32.0)};
    double sum = 0.0;
    for (const auto& t : mesh.triangles) {
      const Vec3 a = mesh.vertices[t[0]] - p;
      const Vec3 b = mesh.vertices[t[1]] - p;
      const Vec3 c = mesh.vertices[t[2]] - p;
      sum += 2.0 * std::atan2(dot(a, cross(b, c)), length(a) * length(b) * length(c) + dot(a, b) * length(c) +
                                                       dot(b, c) * length(a) + dot(c, a) * length(b));
    }
    INFO("point " << p.x << " " << p.y << " " << p.z);
    CHECK(inside.winding(p) == std::lround(sum / (4.0 * pi)));
  }
}
