#pragma once
/// A display list: what stands on a page, in millimetres, before any file format. The exporters turn it into
/// files; nothing of a file format is known here.
///
/// Page coordinates: origin at the upper left corner, x to the right, y down. Angles turn clockwise as seen.
/// Line types and widths after ISO 128-2 (widths 0.5 and 0.25; dash 12 d, long dash 24 d, dot ½ d, gap 3 d;
/// from memory), lettering heights after ISO 3098 (2.5, 3.5, 5, 7, 10; from memory).
#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/angle.hpp"
#include "base/vec.hpp"
#include "drawing/font.hpp"

namespace culmwright {

enum class LineType {
  continuous_thick,               ///< cuts, visible edges
  continuous_thin,                ///< dimensions, leaders, hatching
  dashed_thin,                    ///< hidden edges
  long_dashed_dotted_thin,        ///< axes, the reference line
  long_dashed_double_dotted_thin  ///< neighbouring parts, limits
};
constexpr double thick_line = 0.5;
constexpr double thin_line = 0.25;
double line_width(LineType type);
/// Lengths of dash, gap, dash, … in millimetres; empty for a continuous line.
std::vector<double> dashes(LineType type);

/// Tints besides black and white: grey and one light accent, which prints as a light grey.
enum class Ink { black, white, grey, accent };
/// In sRGB, 0 to 255.
struct Colour {
  int red = 0;
  int green = 0;
  int blue = 0;
};
Colour colour_of(Ink ink);

/// An axis-parallel rectangle.
struct Box {
  double left = 0.0;
  double top = 0.0;
  double right = 0.0;
  double bottom = 0.0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
  Vec2 middle() const { return {0.5 * (left + right), 0.5 * (top + bottom)}; }
  bool contains(Vec2 p, double slack = 0.0) const;
  bool contains(const Box& other, double slack = 0.0) const;
  bool overlaps(const Box& other) const;
  Box grown(double by) const { return {left - by, top - by, right + by, bottom + by}; }
  Box joined(const Box& other) const;
};

/// A part of a path from the point before it: straight, or a cubic with two control points.
struct PathStep {
  Vec2 to;
  std::optional<std::array<Vec2, 2>> controls;
};
struct Contour {
  Vec2 start;
  std::vector<PathStep> steps;
  bool closed = false;
};
/// Contours filled by the even-odd rule.
struct Path {
  std::vector<Contour> contours;
};
struct Circle {
  Vec2 centre;
  double radius = 0.0;
};
/// From → to, clockwise as seen when to > from; at most a whole turn.
struct Arc {
  Vec2 centre;
  double radius = 0.0;
  Angle from;
  Angle to;
};

struct Shape {
  std::variant<Path, Circle, Arc> geometry;
  std::optional<LineType> line;
  std::optional<Ink> fill;
  Ink ink = Ink::black;  ///< of the line
};

enum class Anchor { start, middle, end };

/// One line of text on the baseline through `at`; stays text in every backend.
struct Text {
  Vec2 at;
  std::string words;
  double height = 2.5;  ///< of the capitals
  Anchor anchor = Anchor::start;
  Angle rotation;  ///< clockwise about `at`
  Weight weight = Weight::regular;
  Ink ink = Ink::black;
};

using Item = std::variant<Shape, Text>;

/// Items that belong together, drawn in order. The id is unique on its page: letters, digits, hyphens.
struct Group {
  std::string id;
  std::string title;  ///< in words, for those who do not see the page
  std::vector<Item> items;
};

struct Page {
  double width = 210.0;
  double height = 297.0;
  std::string title;
  std::string description;
  std::vector<Group> groups;

  /// The group of that id; appended when there is none yet.
  Group& group(const std::string& id, const std::string& title = "");
};

struct Drawing {
  std::vector<Page> pages;
};

/// The unit vector at an angle, clockwise from the direction of reading.
Vec2 direction_on_page(Angle angle);

/// The four corners of a text's measured box, in order around it; grown by `margin` on every side.
using Quad = std::array<Vec2, 4>;
Quad text_box(const Text& text, double margin = 0.0);
Box bounds(const Quad& quad);
/// Exact for lines, circles and text; a cubic is bounded by its control points. Includes the line's width.
Box bounds(const Item& item);

/// The same, moved.
Item moved(Item item, Vec2 by);

/// Shapes from points.
Path open_path(const std::vector<Vec2>& points);
Path closed_path(const std::vector<Vec2>& points);
Path box_path(const Box& box);
Shape stroked(Path path, LineType line);
Shape line_between(Vec2 from, Vec2 to, LineType line);

}  // namespace culmwright
