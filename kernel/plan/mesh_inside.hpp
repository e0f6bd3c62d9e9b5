#pragma once
/// Is a point inside a mesh? By winding number, so the answer does not depend on which kernel made the mesh.
#include <vector>

#include "plan/mesh.hpp"

namespace culmwright {

/// Counts signed crossings of the ray from the point toward +z. Both triangles at an edge decide alike on
/// which side a point lies, so that in a closed mesh no crossing is lost or counted twice. The point is
/// shifted sideways by 1e-7 mm against rays through vertices; a point nearer to the surface than that may be
/// judged either way. Making it is O(n); a query looks only at triangles above or below the point.
class MeshInside {
 public:
  /// Keeps a copy of the mesh. Precondition for `winding` to be exact: mesh closed.
  explicit MeshInside(Mesh mesh);

  /// How many times the surface winds around the point: 1 inside an outward oriented solid, 0 outside it.
  int winding(Vec3 p) const;
  bool inside(Vec3 p) const { return winding(p) == 1; }

 private:
  int column(double x) const;
  int row(double y) const;
  int crossing(const std::array<int, 3>& triangle, Vec3 p) const;

  Mesh mesh_;
  Vec2 low_;
  Vec2 cell_{1.0, 1.0};
  int columns_ = 1;
  int rows_ = 1;
  std::vector<std::vector<int>> cells_;
};

}  // namespace culmwright
