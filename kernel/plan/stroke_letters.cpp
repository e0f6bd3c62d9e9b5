#include "plan/stroke_letters.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"

namespace culmwright {

namespace {

/// Centre lines of the strokes: four digits a point, xxyy in tenths of a millimetre; '|' between strokes.
struct Glyph {
  char letter;
  int width;  ///< tenths
  const char* lines;
};

constexpr Glyph glyphs[] = {
    {'A', 32, "0303 1247 2047 2903|1316 1916"},
    {'B', 32, "0347 0303|1047 2247 2940 2933 2226 1026|2918 2910 2203 1003"},
    {'C', 32, "2940 2247 1047 0340 0310 1003 2203 2910"},
    {'D', 32, "0347 0303|1047 2247 2940 2910 2203 1003"},
    {'E', 32, "2947 0347 0303 2903|1026 2326"},
    {'F', 32, "2947 0347 0303|1026 2326"},
    {'G', 32, "2940 2247 1047 0340 0310 1003 2203 2910 2923 1823"},
    {'H', 32, "0347 0303|2947 2903|1025 2225"},
    {'I', 6, "0347 0303"},
    {'J', 32, "2947 2910 2203 1003 0310"},
    {'K', 32, "0347 0303|2947 1325 2903"},
    {'L', 32, "0347 0303 2903"},
    {'M', 40, "0347 0303|3747 3703|1247 2026 2847"},
    {'N', 32, "0347 0303|2947 2903|1242 2008"},
    {'O', 32, "1347 0347 0303 1303|1947 2947 2903 1903"},
    {'P', 32, "0347 0303|1047 2247 2940 2930 2223 1023"},
    {'Q', 32, "1347 0347 0303 1603|1947 2947 2916|2209 2904"},
    {'R', 32, "0347 0303|1047 2247 2940 2930 2223 1023|1915 2903"},
    {'S', 32, "2940 2247 1047 0340 0332 1026 2226 2918 2910 2203 1003 0310"},
    {'T', 32, "0347 2947|1638 1603"},
    {'U', 32, "0347 0310 1003 2203 2910 2947"},
    {'V', 32, "0347 1203 2003 2947"},
    {'W', 40, "0347 0303|3747 3703|1203 2024 2803"},
    {'X', 32, "0347 2903|2947 2133|1117 0303"},
    {'Y', 32, "0347 1628 2947|1619 1603"},
    {'Z', 32, "0347 2747 0503 2903"},
    {'0', 32, "1347 1047 0340 0310 1003 1303|1947 2247 2940 2910 2203 1903"},
    {'1', 22, "0336 1142 1103"},
    {'2', 32, "0340 1047 2247 2940 2932 0603 2903"},
    {'3', 32, "0340 1047 2247 2940 2933 2226 1026|2918 2910 2203 1003 0310"},
    {'4', 32, "1344 0316 1816|2547 2503"},
    {'5', 32, "2947 0347 0328 2228 2921 2910 2203 1003 0310"},
    {'6', 32, "2644 2247 1047 0340 0310 1003 2203 2910 2919 2226 1226"},
    {'7', 32, "0347 2947 2940 1303"},
    {'8', 32,
     "1347 1047 0340 0333 0725 0317 0310 1003 1303|1947 2247 2940 2933 2525 2917 2910 2203 1903|1425 1825"},
    {'9', 32, "0606 1003 2203 2910 2940 2247 1047 0340 0331 1024 2024"},
    {'-', 26, "0325 2325"},
    {'.', 6, "0300 0306"},
    {'/', 26, "0303 2347"},
    {'\'', 6, "0347 0336"},
    {'_', 32, "0303 2903"},
    {'(', 16, "1347 0340 0310 1303"},
    {')', 16, "0347 1340 1310 0303"},
    {'?', 32, "0340 1047 2247 2940 2931 1623 1616|1600 1606"},
    {'<', 48, "1505 0725 1545|1925 4525"},
    {'>', 48, "3305 4125 3345|2925 0325"},
};

constexpr double tenth = 0.1;
constexpr double space_width = 2.0;

const Glyph& glyph_of(char letter) {
  const char capital = letter >= 'a' && letter <= 'z' ? static_cast<char>(letter - 'a' + 'A') : letter;
  const auto found =
      std::find_if(std::begin(glyphs), std::end(glyphs), [&](const Glyph& g) { return g.letter == capital; });
  return found != std::end(glyphs) ? *found : glyph_of('?');
}

std::vector<std::vector<Vec2>> centre_lines(const Glyph& glyph) {
  std::vector<std::vector<Vec2>> lines(1);
  for (const char* c = glyph.lines; *c != '\0'; ++c) {
    if (*c == '|') lines.emplace_back();
    if (*c == '|' || *c == ' ') continue;
    const auto two = [&](int i) { return tenth * (10 * (c[i] - '0') + (c[i + 1] - '0')); };
    lines.back().push_back({two(0), two(2)});
    c += 3;
  }
  return lines;
}

/// One side of a stroke: the centre line moved to its left by half the stroke, mitred at its corners.
std::vector<Vec2> left_side(const std::vector<Vec2>& line) {
  const auto left = [](Vec2 d) { return Vec2{-d.y, d.x}; };
  std::vector<Vec2> side;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const Vec2 before = unit(i > 0 ? line[i] - line[i - 1] : line[1] - line[0]);
    const Vec2 after = unit(i + 1 < line.size() ? line[i + 1] - line[i] : line[i] - line[i - 1]);
    const Vec2 mitre = unit(left(before) + left(after));
    side.push_back(line[i] + mitre * (0.5 * letters::stroke / dot(mitre, left(after))));
  }
  return side;
}

StrokeOutline stroke_outline(const std::vector<Vec2>& line) {
  std::vector<Vec2> back(line.rbegin(), line.rend());
  StrokeOutline outline = left_side(back);
  const std::vector<Vec2> left = left_side(line);
  // Left of the way back, then left of the way there: counter-clockwise.
  outline.insert(outline.begin(), left.begin(), left.end());
  std::reverse(outline.begin(), outline.end());
  return outline;
}

}  // namespace

Lettering lettering(std::string_view text) {
  Lettering line;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0U) == 0x80U) continue;  // the rest of a UTF-8 sequence
    if (line.width > 0.0) line.width += letters::spacing;
    if (c == ' ') {
      line.width += space_width;
      continue;
    }
    const Glyph& glyph = glyph_of(byte < 0x80U ? c : '?');
    for (const auto& centre : centre_lines(glyph)) {
      StrokeOutline outline = stroke_outline(centre);
      for (Vec2& p : outline) p = p + Vec2{line.width, 0.0};
      line.strokes.push_back(std::move(outline));
    }
    line.width += tenth * glyph.width;
  }
  return line;
}

}  // namespace culmwright
