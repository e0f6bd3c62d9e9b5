#pragma once
/// The flat sides of a guide: its two ends, with tongue or notch, and its two feet, and the borders of its sheets there.
#include "plan/guide_plan.hpp"
#include "solid/sheet.hpp"

namespace culmwright {

/// Adds the end faces, the feet and, with all the openings that were cut into them, both sheets. The feet's
/// edges are divided wherever a field begins or ends to rise, so that no mesher steps over a strap's groove.
void add_sides_and_sheets(DirectBuilder& make, const GuidePlan& plan, const Sheet& inner, const Sheet& outer);

}  // namespace culmwright
