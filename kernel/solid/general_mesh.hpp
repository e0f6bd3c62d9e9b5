#pragma once
/// The kernel's general mesher, for what our own (solid_mesh.hpp) cannot do.
#include <TopoDS_Shape.hxx>
#include <string>

#include "solid/solid.hpp"

namespace culmwright {

/// A mesh of the whole shape, vertices shared between faces merged, face_of in the kernel's own order. It
/// leaves a few facets of large bent faces farther off than the chord; the gate judges. Throws GeometryError
/// naming `part` when a face could not be meshed.
Mesh general_mesh(const std::string& part, const TopoDS_Shape& shape, const MeshAccuracy& accuracy);

}  // namespace culmwright
