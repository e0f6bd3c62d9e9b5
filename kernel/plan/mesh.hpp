#pragma once
/// A triangle mesh: what a printer gets. Counter-clockwise seen from outside.
#include <array>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

struct Mesh {
  std::vector<Vec3> vertices;
  std::vector<std::array<int, 3>> triangles;
  /// For each triangle, the face of the solid it came from; empty when unknown.
  std::vector<int> face_of;
};

/// Enclosed volume (divergence theorem); positive when outward oriented. Precondition: closed.
double volume(const Mesh& mesh);
double area(const Mesh& mesh);
Mesh moved(const Mesh& mesh, const RigidMotion& motion);

struct MeshFaults {
  int open_edges = 0;
  int non_manifold_edges = 0;    ///< shared by more than two triangles, or by two of like direction
  int degenerate_triangles = 0;  ///< a corner twice, or no area
  int pinched_vertices = 0;      ///< where the surface touches itself in a point
  int shells = 0;                ///< pieces joined by edges
  int genus = 0;                 ///< of all shells together; meaningful when the mesh is closed
  bool closed() const {
    return open_edges == 0 && non_manifold_edges == 0 && degenerate_triangles == 0 && pinched_vertices == 0;
  }
};
MeshFaults inspect(const Mesh& mesh);

}  // namespace culmwright
