#pragma once
/// What an independent reader of STL, admesh, says of a mesh.
#include "plan/mesh.hpp"
#include "programs.hpp"
#include "stl.hpp"

namespace culmwright::test {

/// Checks that admesh reads the mesh and finds nothing to mend.
inline void check_by_admesh(const Mesh& mesh, const std::string& name) {
  need_program("admesh", "admesh");
  const TemporaryFolder folder;
  write_file(folder.file("part.stl"), stl_bytes(mesh, name));
  const Ran ran = run("admesh " + folder.file("part.stl"));
  INFO(ran.output);
  CHECK(ran.code == 0);
  for (const char* count : {"Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed",
                            "Facets added", "Facets reversed", "Backwards edges", "Normals fixed"}) {
    const std::size_t at = ran.output.find(count);
    REQUIRE(at != std::string::npos);
    CHECK(std::atoi(ran.output.c_str() + ran.output.find(':', at) + 1) == 0);
  }
}

}  // namespace culmwright::test
