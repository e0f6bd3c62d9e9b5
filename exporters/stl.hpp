#pragma once
/// Binary STL: what slicers read. The layout is the format's own: an 80-byte header, the number of facets as
/// a little-endian 32-bit integer, then 50 bytes a facet (normal, three corners, all 32-bit floats, and a
/// 16-bit nought). The format states no unit; the header says millimetres.
#include <string>

#include "plan/mesh.hpp"

namespace culmwright {

/// The file's bytes. The header never begins with "solid", which would mark the text form; it carries `name`
/// (ASCII; other bytes become '-'; cut to fit). Corners are rounded to float, 4e-6 mm at 100 mm; facets that
/// this rounding collapses are left out, which keeps the rest closed. Normals follow the right-hand rule.
/// Same mesh, same bytes. Precondition: finite coordinates, none beyond 1e6 mm.
std::string stl_bytes(const Mesh& mesh, const std::string& name);

}  // namespace culmwright
