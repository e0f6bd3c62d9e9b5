#pragma once
/// A page of the display list as an SVG 1.1 file (W3C Recommendation, 16 August 2011): one user unit is one
/// millimetre, text stays text in a font that the file carries, no script, no reference outside.
///
/// Numbers have at most four decimals (0.1 µm); the bytes depend on the page alone.
#include <string>

#include "drawing/drawing.hpp"

namespace culmwright {

std::string to_svg(const Page& page);

/// `value` with at most four decimals, no trailing zeros, never "-0"; independent of any locale.
std::string svg_number(double value);

}  // namespace culmwright
