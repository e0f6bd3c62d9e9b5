#pragma once
/// Mends a triangulation that was made in another scale than the plane it is for.
#include <vector>

#include "solid/triangulate.hpp"

namespace culmwright {

/// Triangles turned over in the plane of `places` (where a bent scale made a convex corner of the border
/// concave, a facet lies across it) are mended by turning the side that they share with a neighbour, until
/// none is left. False where that does not help; the triangles are then of no use. Every triangle keeps its
/// corners' order, counter-clockwise in the plane, and its border sides.
bool unfold(const std::vector<Vec2>& places, std::vector<PlaneTriangle>& triangles);

}  // namespace culmwright
