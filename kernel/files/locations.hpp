#pragma once
/// Where every value of a document stands in its file.
#include <map>
#include <string>

#include "base/problem.hpp"

namespace culmwright {

struct Locations {
  struct Spot {
    std::string file;
    int line = 0;
    int column = 0;
  };
  std::string file;                   ///< the document itself
  std::map<std::string, Spot> spots;  ///< by JSON pointer; values out of a CSV table name that file
};

/// Gives every problem that has a pointer but no line the file, line and column of that value, or of the
/// nearest value around it that the document does hold. Problems without a pointer get the file only.
Problems located(Problems problems, const Locations& locations);

}  // namespace culmwright
