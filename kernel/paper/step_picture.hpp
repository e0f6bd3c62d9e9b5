#pragma once
/// Small pictures of the steps of drilling (plan/drilling_schedule.hpp): the tube cut across at a hole, with
/// guide, bush, bit, depth stop, backing and cradle or V-block as they stand when the stop bears; true to
/// scale in the section, from the plans. What is drawn simplified: the guide's relief, the drill's flutes.
#include <optional>

#include "drawing/drawing.hpp"
#include "plan/drilling_schedule.hpp"

namespace culmwright {

/// Width of a step picture on paper.
constexpr double step_picture_width = 76.0;

/// One page, step_picture_width wide and as high as it needs, without title block; its title says what is
/// seen. The hole is that of the step's first line. None for a step in which nothing turns in a hole.
std::optional<Page> step_picture(const DrillBench& bench, const DrillingStep& step);

}  // namespace culmwright
