#pragma once
/// A small map of the sheets of a template: the net, its joints, the sheets' numbers, this one hatched.
#include "drawing/plane.hpp"
#include "paper/sheet_words.hpp"

namespace culmwright {

/// The same height for every sheet of the plan. `outline`: of the net, in its plane; `sheet` counted from 1.
Block sheet_map(const SheetPlan& plan, const Polyline& outline, int sheet);

}  // namespace culmwright
