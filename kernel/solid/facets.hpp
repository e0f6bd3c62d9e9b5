#pragma once
/// The facets of one face, from its divided border inward.
#include <TopoDS_Face.hxx>
#include <array>
#include <vector>

#include "solid/edge_nodes.hpp"

namespace culmwright {

/// Triangles by node, counter-clockwise seen from outside the solid; nodes from `first_new` on are new,
/// inside the face.
struct Facets {
  std::vector<std::array<int, 3>> triangles;
  std::vector<Vec3> new_points;
  double border_gap = 0.0;  ///< greatest distance of the border's nodes from the surface
};

/// A constrained Delaunay triangulation of the face in its own parameters, scaled so that the chord allows
/// equal steps both ways (cell_scale.hpp), with points inside on a grid of that scale. Facets and inner edges
/// are looked at in their middle, those that cross more than one cell twice in every cell, and points are
/// added where they are farther than 0.7 of `chord` from the surface, in at most `facet_rounds` rounds.
/// Throws TriangulationFault naming why the face could not be done: its border is open, crosses itself or
/// runs the wrong way round.
Facets facets_of(const TopoDS_Face& face, const EdgeNodes& edges, double chord, double angle, int first_new);

constexpr int facet_rounds = 64;

}  // namespace culmwright
