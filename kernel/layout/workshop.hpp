#pragma once
/// The workshop: which documents belong together. It is what a whole batch is made from. File names are
/// relative to the folder of the workshop document. A job is one placement, which names its tube and its key
/// layout by id.
#include <string>
#include <vector>

namespace culmwright {

struct Workshop {
  std::string id;
  std::string note;
  std::vector<std::string> tubes;
  std::vector<std::string> key_layouts;
  std::string shop;
  std::vector<std::string> placements;
  std::vector<std::string> as_drilled;
};

}  // namespace culmwright
