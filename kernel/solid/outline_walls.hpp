#pragma once
/// Openings and engraving of straight outlines in (θ, at), for direct construction.
#include <vector>

#include "solid/direct_builder.hpp"
#include "solid/sheet.hpp"

namespace culmwright {

/// Cuts an opening through both sheets, with ruled walls. `corners` counter-clockwise in (θ, at).
void add_opening(DirectBuilder& make, Sheet& inner, Sheet& outer, const std::vector<Vec2>& corners);

/// Cuts a stroke into the outer sheet, down to its own face lowered by `depth`. Precondition: the face's
/// field is even there. `samples`: places in each span of an edge where its deviation is measured; more where
/// the sheet's knots are dense.
void add_stroke(DirectBuilder& make, Sheet& outer, const std::vector<Vec2>& corners, double depth,
                int samples = 4);

}  // namespace culmwright
