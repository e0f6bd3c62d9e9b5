#pragma once
/// Nearest points of two triangles (mesh_distance.hpp), in closed form case by case.
#include <array>

#include "base/vec.hpp"

namespace culmwright {

using Facet = std::array<Vec3, 3>;

struct NearestPoints {
  Vec3 on_first;
  Vec3 on_second;
};

/// The point of a triangle nearest to p; a triangle without area is its longest side.
Vec3 nearest_on(const Facet& facet, Vec3 p);
/// Of two straight pieces, each from its first point to its second; a piece of no length is a point.
NearestPoints nearest_points(const std::array<Vec3, 2>& a, const std::array<Vec3, 2>& b);
/// Where they cross both points are the same, on the line that they share.
NearestPoints nearest_points(const Facet& a, const Facet& b);

}  // namespace culmwright
