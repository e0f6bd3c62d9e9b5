#pragma once
/// 3MF (Core specification): a zip package with the parts as named, indexed meshes, in millimetres, z up.
/// What newer slicers read; unlike STL it says its unit and keeps neighbouring triangles joined.
#include <string>
#include <vector>

#include "plan/mesh.hpp"

namespace culmwright {

/// One object of the file, where it lies on the bed.
struct NamedMesh {
  std::string name;  ///< UTF-8, as slicers list it
  Mesh mesh;
};

/// The package's bytes: each part an object with its name, each placed once as it lies. Written by lib3mf.
/// That library draws the identifiers of objects at random; here they are made from the content, so that the
/// same parts give the same bytes, whatever the clock. Coordinates are rounded to a millionth of a
/// millimetre. Throws GeometryError when the library refuses a part: every edge must be shared by two
/// triangles of opposite direction. Precondition: at least one part, finite coordinates.
std::string bytes_3mf(const std::vector<NamedMesh>& parts);

}  // namespace culmwright
