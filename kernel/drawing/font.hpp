#pragma once
/// The lettering of every drawing: DejaVu Sans Condensed, regular and bold, carried by the program.
///
/// A text's height is the height of its capitals (nominal size h of ISO 3098), in millimetres. Its width is
/// the sum of the font's advances: exact for every backend that uses the embedded font; a viewer that uses an
/// installed copy of it may set pairs of letters closer by kerning, never wider than a few hundredths.
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace culmwright {

enum class Weight { regular, bold };

/// How far a line of text reaches from its start on the baseline. Above and below are those of its ink.
struct TextExtent {
  double width = 0.0;
  double above = 0.0;
  double below = 0.0;
};
TextExtent text_extent(std::string_view text, double height, Weight weight);

/// The font size (em) whose capitals are `height` high.
double font_size(double height);
const char* font_family();

/// The letters of a line in order, each by its number in the program's font, with its advance in millimetres.
/// Characters that the font does not have are its empty box, glyph 0.
struct SetGlyph {
  char32_t character = 0;
  int glyph = 0;
  double advance = 0.0;
};
std::vector<SetGlyph> glyphs_of(std::string_view text, double height, Weight weight);

/// The program's own font file of that weight; lives as long as the program.
struct FontFile {
  const unsigned char* data = nullptr;
  std::size_t size = 0;
};
FontFile embedded_font(Weight weight);

/// A font file that holds just these characters (drawing/true_type.hpp).
std::vector<std::uint8_t> font_file_for(const std::set<char32_t>& characters, Weight weight);

/// `text` in lines no wider than `width`; broken at spaces, a longer word stands alone.
std::vector<std::string> wrapped(std::string_view text, double height, Weight weight, double width);

}  // namespace culmwright
