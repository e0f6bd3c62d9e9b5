#pragma once
/// Constrained Delaunay triangulation of a region of the plane, which grows point by point. With exact
/// predicates (CGAL), so that near coincidences cannot tie it in knots.
#include <array>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

/// The region cannot be triangulated as it is: sides cross, corners coincide, or a loop is open.
class TriangulationFault : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Counter-clockwise. Side k runs from corner k to the next.
struct PlaneTriangle {
  std::array<int, 3> corner{};
  std::array<bool, 3> on_border{};  ///< side k is a side of the region
};

/// The region is what an odd number of sides separates from infinity: outlines and holes in any order and
/// direction.
class RegionTriangulation {
 public:
  /// `sides`: pairs of numbers of `points`. Every point takes part, whether a side ends there or not. Throws
  /// TriangulationFault when two points coincide, sides cross or pass through a point, or a side does not
  /// part inside from outside.
  RegionTriangulation(const std::vector<Vec2>& points, const std::vector<std::array<int, 2>>& sides);
  ~RegionTriangulation();
  RegionTriangulation(RegionTriangulation&&) noexcept;

  /// Adds a point near the one numbered `near` and returns its number, the next free one; −1 when it falls on
  /// a point or on a side of the region.
  int insert(Vec2 point, int near);

  /// The triangles inside the region. Deterministic.
  std::vector<PlaneTriangle> inside();

 private:
  struct Delaunay;
  std::unique_ptr<Delaunay> delaunay_;
};

}  // namespace culmwright
