#pragma once
/// The starter documents of templates/, as they were when the program was built.
#include <string>
#include <vector>

namespace culmwright::command {

struct Starter {
  std::string name;  ///< "tube.json"
  std::string text;
};

/// In the order of their names.
const std::vector<Starter>& starters();

}  // namespace culmwright::command
