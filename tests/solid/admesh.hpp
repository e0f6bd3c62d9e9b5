#pragma once
/// A mesh as the STL file that goes to the printer, read by admesh.
#include "../admesh.hpp"
#include "plan/mesh.hpp"
#include "stl.hpp"

namespace culmwright::test {

inline void check_by_admesh(const Mesh& mesh, const std::string& name) {
  const TemporaryFolder folder;
  write_file(folder.file("part.stl"), stl_bytes(mesh, name));
  check_file_by_admesh(folder.file("part.stl"));
}

}  // namespace culmwright::test
