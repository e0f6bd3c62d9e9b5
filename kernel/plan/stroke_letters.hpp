#pragma once
/// Our own alphabet for engraving, in stencil manner: each letter is a few strokes, each stroke a simple
/// outline of even width, and no two strokes touch; so no letter leaves an island standing, and a cutter or a
/// direct B-rep can make each stroke by itself.
///
/// Letters are 5 high and 0.6 in the stroke when not scaled; strokes stay 0.3 apart. Capitals, digits and
/// - . / ' _ ( ) ? and the space; small letters are drawn as capitals, and '<' and '>' are arrows.
#include <string>
#include <string_view>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

/// Corners in counter-clockwise order (x to the right along the line of writing, y up).
using StrokeOutline = std::vector<Vec2>;

namespace letters {
constexpr double height = 5.0;
constexpr double stroke = 0.6;
constexpr double least_gap = 0.3;  ///< between two strokes
constexpr double spacing = 0.9;    ///< between two letters
}  // namespace letters

/// A line of writing: outlines with the lower left corner of its box at the origin.
struct Lettering {
  double width = 0.0;
  double height = letters::height;
  std::vector<StrokeOutline> strokes;
};

/// Characters that the alphabet does not have (UTF-8 sequences as one) are drawn as '?'.
Lettering lettering(std::string_view text);

}  // namespace culmwright
