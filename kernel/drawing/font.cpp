#include "drawing/font.hpp"

#include <algorithm>
#include <cstddef>

#include "drawing/true_type.hpp"

namespace culmwright {

namespace embedded {
extern const unsigned char regular_font[];
extern const std::size_t regular_font_size;
extern const unsigned char bold_font[];
extern const std::size_t bold_font_size;
}  // namespace embedded

namespace {

const TrueType& typeface(Weight weight) {
  static const auto read = [](FontFile file) { return TrueType(file.data, file.size); };
  static const TrueType regular = read(embedded_font(Weight::regular));
  static const TrueType bold = read(embedded_font(Weight::bold));
  return weight == Weight::bold ? bold : regular;
}

}  // namespace

FontFile embedded_font(Weight weight) {
  return weight == Weight::bold ? FontFile{embedded::bold_font, embedded::bold_font_size}
                                : FontFile{embedded::regular_font, embedded::regular_font_size};
}

double font_size(double height) {
  // The capital H stands on the baseline and has a flat top; both weights share its height.
  const TrueType& font = typeface(Weight::regular);
  return height * font.units_per_em() / font.bounds(font.glyph(U'H')).y_max;
}

const char* font_family() {
  return "DejaVu Sans Condensed";
}

TextExtent text_extent(std::string_view text, double height, Weight weight) {
  const TrueType& font = typeface(weight);
  const double unit = font_size(height) / font.units_per_em();
  int advance = 0;
  int top = 0;
  int bottom = 0;
  for (char32_t c : decode_utf8(text)) {
    const int glyph = font.glyph(c);
    const TrueType::Bounds bounds = font.bounds(glyph);
    advance += font.advance(glyph);
    top = std::max(top, bounds.y_max);
    bottom = std::min(bottom, bounds.y_min);
  }
  return {advance * unit, top * unit, -bottom * unit};
}

std::vector<SetGlyph> glyphs_of(std::string_view text, double height, Weight weight) {
  const TrueType& font = typeface(weight);
  const double unit = font_size(height) / font.units_per_em();
  std::vector<SetGlyph> glyphs;
  for (char32_t c : decode_utf8(text)) {
    const int glyph = font.glyph(c);
    glyphs.push_back({c, glyph, font.advance(glyph) * unit});
  }
  return glyphs;
}

std::vector<std::uint8_t> font_file_for(const std::set<char32_t>& characters, Weight weight) {
  return typeface(weight).subset(characters);
}

std::vector<std::string> wrapped(std::string_view text, double height, Weight weight, double width) {
  std::vector<std::string> lines;
  std::string line;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string word(text.substr(at, end - at));
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && text_extent(longer, height, weight).width > width) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
    at = end + 1;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

}  // namespace culmwright
