#pragma once
/// The border of a face in the parameters of its surface.
#include <TopoDS_Face.hxx>
#include <array>
#include <vector>

#include "solid/cell_scale.hpp"
#include "solid/edge_nodes.hpp"

namespace culmwright {

/// Places in the parameter plane, each with the node of the solid it stands for. At a seam or a pole two or
/// more places stand for one node.
struct FaceOutline {
  std::vector<Vec2> places;
  std::vector<int> nodes;
  std::vector<std::array<int, 2>> sides;  ///< with the face on their left
  ParameterBox box() const;
};

/// Throws TriangulationFault when an edge has no curve in the face's parameters or the border is not closed.
FaceOutline face_outline(const TopoDS_Face& face, const EdgeNodes& edges);

}  // namespace culmwright
