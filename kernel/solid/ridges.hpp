#pragma once
/// Where along a tube its surfaces bend quickly.
#include <vector>

#include "solid/patch.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// The bands of the tube's ridges, slant included.
std::vector<FineRange> ridge_ranges(const Tube& tube);

}  // namespace culmwright
