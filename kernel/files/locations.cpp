#include "files/locations.hpp"

#include <algorithm>

namespace culmwright {

Problems located(Problems problems, const Locations& locations) {
  for (Problem& problem : problems) {
    if (problem.where.line > 0) continue;
    if (problem.where.file.empty()) problem.where.file = locations.file;
    if (problem.where.pointer.empty()) continue;
    std::string pointer = problem.where.pointer;
    auto found = locations.spots.find(pointer);
    while (found == locations.spots.end() && !pointer.empty()) {
      pointer.erase(std::min(pointer.rfind('/'), pointer.size() - 1));
      found = locations.spots.find(pointer);
    }
    if (found == locations.spots.end()) continue;
    problem.where.file = found->second.file;
    problem.where.line = found->second.line;
    problem.where.column = found->second.column;
  }
  return problems;
}

}  // namespace culmwright
