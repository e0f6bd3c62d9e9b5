#pragma once
/// What CGAL, an independent library with exact arithmetic, says of a mesh.
#include <vector>

#include "plan/mesh.hpp"

namespace culmwright::test {

/// Pairs of facets that cross or touch, other than along what they share. Exact.
int crossing_pairs(const Mesh& mesh);

/// Distance of each point from the nearest point of the mesh.
std::vector<double> distances_from(const Mesh& mesh, const std::vector<Vec3>& points);

}  // namespace culmwright::test
