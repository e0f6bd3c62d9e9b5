#pragma once
/// A sheet as one HTML file (HTML Living Standard): no reference outside, no script. Pictures are inline SVG,
/// lettering is the program's own font, cut down to the letters used.
///
/// Headings in order (h1 to h3), tables with a caption and scoped heads, every picture and every place to
/// write named, contrast of 7:1 and more (WCAG 2.1, 1.4.3 and 1.4.6). Narrow screens: one column; wide tables
/// and pictures scroll inside their own frame. In print neither steps, table rows nor pictures are cut.
/// The bytes depend on the document alone.
#include <string>

#include "sheet/sheet_document.hpp"

namespace culmwright {

/// Precondition: ids of sections and steps are unique.
std::string to_html(const SheetDocument& document);

/// The colours that the file uses for words and what they stand on, as "#rrggbb", darkest first.
struct HtmlColours {
  const char* ink;
  const char* quiet;  ///< of captions and notes
  const char* paper;
  const char* tint;  ///< behind heads of tables
};
HtmlColours html_colours();

}  // namespace culmwright
