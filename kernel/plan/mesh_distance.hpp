#pragma once
/// The least distance between two triangle meshes, exact for the facets (to rounding, 1e-9 at 100), and how
/// far one reaches into the other.
///
/// Two facets are nearest in a corner and a facet or in two edges, unless one edge passes through the other
/// facet (C. Ericson, Real-Time Collision Detection, 2004, ch. 5; from memory). Facets are held in trees of
/// boxes; pairs of boxes farther apart than the best found so far are left out. What a mesh departs from its
/// solid (its chord) is not counted here.
#include <memory>
#include <optional>

#include "plan/mesh.hpp"

namespace culmwright {

struct MeshDistance {
  double distance = 0.0;  ///< 0 where facets cross or touch, or one mesh lies within the other
  Vec3 on_first;          ///< the nearest points; where they meet, a point of both
  Vec3 on_second;
  /// Greatest distance from the other's surface of what lies inside it, over points of the facets no more than
  /// 0.5 apart (2 % of the longest side on facets over 25): at most so much less than the truth. 0 where they
  /// only touch or stand apart.
  double depth = 0.0;
  bool meet() const { return distance <= 0.0; }
};

/// A closed mesh ready to be measured from; cheap to copy.
class MeshTree {
 public:
  /// Precondition: closed, facets outward, at least one facet.
  explicit MeshTree(Mesh mesh);

  /// Corners of the box around it.
  Vec3 low() const;
  Vec3 high() const;
  /// To the other; none when it is more than `within`.
  std::optional<MeshDistance> distance(const MeshTree& other, double within = 1e300) const;
  /// From a point to the surface; accuracy 1e-9.
  double distance(Vec3 p) const;
  /// By the sign of the ray crossings; a point on the surface may be either.
  bool holds(Vec3 p) const;

 private:
  struct Data;
  std::shared_ptr<const Data> data_;
};

/// Between the boxes of two trees: never more than between the meshes.
double box_gap(const MeshTree& a, const MeshTree& b);

}  // namespace culmwright
