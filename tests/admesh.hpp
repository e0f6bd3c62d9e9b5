#pragma once
/// What an independent reader of STL, admesh, says of a file.
#include "programs.hpp"

namespace culmwright::test {

/// Checks that admesh reads the file and finds nothing to mend.
inline void check_file_by_admesh(const std::string& file) {
  need_program("admesh", "admesh");
  const Ran ran = run("admesh " + file);
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
