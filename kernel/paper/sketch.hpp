#pragma once
/// Small drawings and boxes for forms and instructions, put together from lines, arrows and words.
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "drawing/plane.hpp"

namespace culmwright {

/// A filled arrowhead (ISO 129; 2.5 long) whose tip is at `tip`, pointing along the unit vector `way`.
Item arrowhead(Vec2 tip, Vec2 way);

/// Draws into one group of a page.
class Sketch {
 public:
  Sketch(Page& page, const std::string& id, const std::string& title);

  Sketch& thick(const Polyline& points, bool closed = false);
  Sketch& thin(const Polyline& points, bool closed = false);
  Sketch& hidden(const Polyline& points, bool closed = false);
  Sketch& axis(Vec2 from, Vec2 to);
  /// Of another part than the one that matters: long-dashed double-dotted.
  Sketch& neighbour(const Polyline& points, bool closed = false);
  Sketch& hatch(const std::vector<Polyline>& region, double degrees, double spacing);
  Sketch& dot(Vec2 middle, double radius = 0.6);
  Sketch& ring(Vec2 middle, double radius);
  Sketch& arrow(Vec2 from, Vec2 to);
  /// A dimension line with arrowheads at both ends; where they would meet, the arrows stand outside.
  Sketch& measure(Vec2 from, Vec2 to);
  Sketch& words(Vec2 at, const std::string& words, Anchor anchor = Anchor::middle, double height = 2.5,
                Weight weight = Weight::regular, Angle rotation = {});
  /// A leader from words to what they name, ending in a dot.
  Sketch& leader(Vec2 from, Vec2 to);

 private:
  Sketch& line(const Polyline& points, LineType type, bool closed);
  Page& page_;
  std::string id_;
};

/// Points of an ellipse about `middle`, clockwise on the page from `from` to `to` degrees.
Polyline oval(Vec2 middle, double half_width, double half_height, double from = 0.0, double to = 360.0);
Polyline rectangle(const Box& box);

}  // namespace culmwright
