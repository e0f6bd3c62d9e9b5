#pragma once
/// One page of the piece as measured: two views, its bow enlarged, the skin unrolled, its girth at the
/// stations, the lengths of the internodes, and its two ends with their wall. Black on white, upright, end
/// A up.
#include "drawing/drawing.hpp"
#include "layout/shop.hpp"
#include "tube/survey.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// `tube`: as fitted to `survey`. The views stand at one stated scale (1:1 to 1:20), the ends at 1:1 or 1:2;
/// the skin is laid out section by section from the reference line. A plane in which the survey saw no bow is
/// drawn as unknown.
Drawing survey_picture(const Tube& tube, const Survey& survey, PaperSize paper = PaperSize::a4);

}  // namespace culmwright
