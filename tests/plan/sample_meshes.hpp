#pragma once
/// Meshes of bodies whose volume, area and genus are known in closed form.
#include <cmath>

#include "base/angle.hpp"
#include "plan/expectation.hpp"
#include "plan/mesh.hpp"

namespace samples {

using namespace culmwright;

/// An axis-parallel box from the origin; faces 0 … 5: x = 0, x = a, y = 0, y = b, z = 0, z = c.
inline Mesh box(double a, double b, double c) {
  Mesh mesh;
  for (int i = 0; i < 8; ++i) {
    mesh.vertices.push_back({(i & 1) ? a : 0.0, (i & 2) ? b : 0.0, (i & 4) ? c : 0.0});
  }
  const int quads[6][4] = {{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4},
                           {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}};
  for (int f = 0; f < 6; ++f) {
    const int* q = quads[f];
    mesh.triangles.push_back({q[0], q[1], q[2]});
    mesh.triangles.push_back({q[0], q[2], q[3]});
    mesh.face_of.insert(mesh.face_of.end(), 2, f);
  }
  return mesh;
}

/// A closed profile (r, z), counter-clockwise with r to the right and z up, turned about z in `steps`.
/// Profile edge i becomes face i. Precondition: r > 0.
inline Mesh turned(const std::vector<Vec2>& profile, int steps) {
  Mesh mesh;
  const int n = static_cast<int>(profile.size());
  for (int k = 0; k < steps; ++k) {
    const Angle turn = Angle::from_degrees(360.0 * k / steps);
    for (const Vec2& p : profile) mesh.vertices.push_back({p.x * turn.cos(), p.x * turn.sin(), p.y});
  }
  for (int k = 0; k < steps; ++k) {
    const int here = k * n;
    const int next = (k + 1) % steps * n;
    for (int i = 0; i < n; ++i) {
      const int j = (i + 1) % n;
      mesh.triangles.push_back({here + i, next + i, next + j});
      mesh.triangles.push_back({here + i, next + j, here + j});
      mesh.face_of.insert(mesh.face_of.end(), 2, i);
    }
  }
  return mesh;
}

/// Machinery's Handbook, 31st ed., pp. 89–93: hollow cylinder, height 28, outside diameter 36, wall 4.
inline Mesh hollow_cylinder(double inner = 14.0, int steps = 180) {
  return turned({{inner, 0.0}, {18.0, 0.0}, {18.0, 28.0}, {inner, 28.0}}, steps);
}
/// The same without its hole.
inline Mesh solid_cylinder(int steps = 180) {
  Mesh mesh;
  for (int k = 0; k < steps; ++k) {
    const Angle turn = Angle::from_degrees(360.0 * k / steps);
    for (const double z : {0.0, 28.0}) mesh.vertices.push_back({18.0 * turn.cos(), 18.0 * turn.sin(), z});
  }
  mesh.vertices.push_back({0, 0, 0});
  mesh.vertices.push_back({0, 0, 28.0});
  for (int k = 0; k < steps; ++k) {
    const int here = 2 * k;
    const int next = (2 * k + 2) % (2 * steps);
    mesh.triangles.push_back({here, next, next + 1});
    mesh.triangles.push_back({here, next + 1, here + 1});
    mesh.triangles.push_back({next, here, 2 * steps});
    mesh.triangles.push_back({here + 1, next + 1, 2 * steps + 1});
    mesh.face_of.insert(mesh.face_of.end(), {0, 0, 2, 3});
  }
  return mesh;
}
constexpr double hollow_cylinder_volume = 11259.5;

inline FaceExpectation cylinder_face(std::string name, double radius, std::optional<double> area) {
  return {std::move(name), [radius](Vec3 p) { return std::abs(std::hypot(p.x, p.y) - radius); }, area};
}
inline FaceExpectation level_face(std::string name, double z, std::optional<double> area) {
  return {std::move(name), [z](Vec3 p) { return std::abs(p.z - z); }, area};
}

inline Expectation hollow_cylinder_expectation() {
  const double ring = pi * (18.0 * 18.0 - 14.0 * 14.0);
  Expectation expected;
  expected.part = "hollow cylinder";
  expected.faces = {cylinder_face("outside", 18.0, 2.0 * pi * 18.0 * 28.0),
                    cylinder_face("inside", 14.0, 2.0 * pi * 14.0 * 28.0), level_face("foot", 0.0, ring),
                    level_face("top", 28.0, ring)};
  expected.bores = {{"the bore", {0, 0, -1}, {0, 0, 29}, 14.5, {2.0, 15.0, 28.0}}};
  expected.genus = 1;
  expected.volume = hollow_cylinder_volume;
  return expected;
}

}  // namespace samples
