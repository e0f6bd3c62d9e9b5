#pragma once
/// On the paper, the small holes that fitted parts want in the tube: for their screws and for wires.
#include <vector>

#include "paper/wrap_features.hpp"
#include "plan/fitted_holes.hpp"

namespace culmwright {

/// Adds them to the footprints of the parts that they belong to.
void add_fitted_marks(std::vector<Feature>& features, const Tube& tube,
                      const std::vector<FittedHoles>& parts);

}  // namespace culmwright
