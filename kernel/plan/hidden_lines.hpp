#pragma once
/// Which lines of meshes are seen from somewhere, and which are hidden: edges between faces that meet at an
/// angle, and outlines of rounded faces.
///
/// An outline is where the normal, carried smoothly over the facets of a face, is square to the line of sight
/// (Hertzmann and Zorin 2000): its points lie within the mesh's chord of the true one. A point is hidden
/// where the line from it to the onlooker meets a facet; it starts a little off the mesh, so that a facet
/// never hides its own edge.
#include <string>
#include <vector>

#include "plan/line_view.hpp"
#include "plan/mesh.hpp"

namespace culmwright {

/// A closed mesh where it stands, with face_of. Its chord is at most hidden_lines_off.
struct SeenMesh {
  std::string name;
  Mesh mesh;
};

/// Two faces that meet at less than this go over smoothly: no line.
constexpr double least_edge_deg = 18.0;
/// How far off the mesh the line of sight starts, along the normal; a wall must be thicker than four times
/// this to hide what lies behind it.
constexpr double hidden_lines_off = 0.15;

/// Each thing's lines, joined (plan/line_chains.hpp); a line that lies on a visible one is not drawn again.
/// Deterministic.
LineView hidden_lines(const std::vector<SeenMesh>& meshes, const ViewFrame& frame);

}  // namespace culmwright
