#pragma once
/// A page of the display list as an SVG 1.1 file (W3C Recommendation, 16 August 2011): one user unit is one
/// millimetre, text stays text in a font that the file carries, no script, no reference outside.
///
/// Numbers have at most four decimals (0.1 µm); the bytes depend on the page alone.
#include <set>
#include <string>
#include <string_view>

#include "drawing/drawing.hpp"

namespace culmwright {

std::string to_svg(const Page& page);

/// The characters that texts use, by weight.
struct UsedLetters {
  std::set<char32_t> regular;
  std::set<char32_t> bold;

  void add(const Page& page);
  void add(std::string_view words, Weight weight);
};
/// Rules of a style sheet that carry the program's font with these characters (CSS Fonts 3, @font-face);
/// empty where there are none.
std::string font_faces(const UsedLetters& letters);

/// The same page as an element within an HTML document, which carries the font: an image to those who do not
/// see it, named by the page's title and told by its description. Every id in it begins with `prefix`.
std::string to_inline_svg(const Page& page, const std::string& prefix);

/// Words as they stand in XML and HTML, in text and in attributes. Control characters, which XML 1.0 forbids,
/// and what is no UTF-8 become U+FFFD.
std::string escaped_xml(std::string_view words);

/// `value` with at most four decimals, no trailing zeros, never "-0"; independent of any locale.
std::string svg_number(double value);

}  // namespace culmwright
