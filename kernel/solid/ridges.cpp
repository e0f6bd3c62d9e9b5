#include "solid/ridges.hpp"

#include <cmath>

namespace culmwright {

std::vector<FineRange> ridge_ranges(const Tube& tube) {
  std::vector<FineRange> ranges;
  for (const Node& node : tube.nodes()) {
    if (node.ridge_height <= 0.0) continue;
    const double half = 0.5 * (node.band + std::abs(node.at_far - node.at_line));
    ranges.push_back({node.at() - half, node.at() + half});
  }
  return ranges;
}

}  // namespace culmwright
