#pragma once
/// The mesh of a solid. Each edge is divided once, by its own chord, for both its faces: the mesh is
/// watertight by construction. Each face is then triangulated in the plane of its own parameters
/// (facets.hpp). Where that cannot be done for a face, the general mesher makes the whole, and the reason is
/// told.
#include <TopoDS_Shape.hxx>
#include <string>

#include "solid/solid.hpp"

namespace culmwright {

struct SolidMesh {
  Mesh mesh;
  Meshing how;
};

/// face_of counts the faces of the shape in the kernel's own order. Same shape, same mesh, to the last bit.
/// Throws GeometryError naming `part` when neither way makes a mesh.
SolidMesh mesh_of(const std::string& part, const TopoDS_Shape& shape, const MeshAccuracy& accuracy);

}  // namespace culmwright
