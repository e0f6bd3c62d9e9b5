#pragma once
/// Small pictures of the steps of drilling (plan/drilling_schedule.hpp): the tube cut across at the hole,
/// with guide, bush, bit, depth stop, cradle and backing as they are at that moment; true to scale in the
/// section, drawn from the plans.
#include "drawing/drawing.hpp"
#include "plan/drilling_schedule.hpp"

namespace culmwright {

/// Width of a step picture on paper, and the least lettering in it.
constexpr double step_picture_width = 76.0;

/// One page, step_picture_width wide and as high as it needs, without title block; the page's title says what
/// is seen, in words. `line`: of the step, whose hole is cut; a step without lines shows the tube. Lettering
/// 2.5 mm, no words over lines.
Page step_picture(const DrillBench& bench, const DrillingStep& step, std::size_t line = 0);

}  // namespace culmwright
