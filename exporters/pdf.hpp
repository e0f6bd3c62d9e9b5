#pragma once
/// A whole drawing as one PDF file, page after page, from the same display list as the SVG.
///
/// Scale: one unit of the PDF is 1/72 in = 25.4/72 mm (ISO 32000-1, 8.3.2.3); the page box of every page is
/// its size. Places are written to 1/256 of a unit, 1.4 µm. Text stays text that can be searched and copied:
/// the program's own font, cut down to the letters used and embedded. A line is as wide as drawing/font.hpp
/// says, or shorter by up to a thousandth of the font's size for each letter. The file names no moment of its
/// making: the same drawing gives the same bytes.
///
/// Written with cairo (PDF 1.5) and FreeType. Safe to call from several threads; calls wait for each other.
#include <string>

#include "drawing/drawing.hpp"

namespace culmwright {

/// Each page's title stands in the file's outline, the first page's is that of the file. Precondition: at
/// least one page. Throws std::runtime_error, with cairo's own words, when the file cannot be made.
std::string to_pdf(const Drawing& drawing);

}  // namespace culmwright
