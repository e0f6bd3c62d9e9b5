#include "files/locations.hpp"

namespace culmwright {

Problems located(Problems problems, const Locations& locations) {
  for (Problem& problem : problems) {
    if (problem.where.line > 0) continue;
    if (problem.where.file.empty()) problem.where.file = locations.file;
    std::string pointer = problem.where.pointer;
    while (!pointer.empty()) {
      const auto found = locations.spots.find(pointer);
      if (found != locations.spots.end()) {
        problem.where.file = found->second.file;
        problem.where.line = found->second.line;
        problem.where.column = found->second.column;
        break;
      }
      const std::size_t slash = pointer.rfind('/');
      pointer.erase(slash == std::string::npos ? 0 : slash);
    }
  }
  return problems;
}

}  // namespace culmwright
