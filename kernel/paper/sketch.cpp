#include "paper/sketch.hpp"

#include <cmath>

namespace culmwright {

namespace {

constexpr double arrow_length = 2.5;

}  // namespace

Item arrowhead(Vec2 tip, Vec2 way) {
  const Vec2 side{-way.y, way.x};
  const Vec2 foot = tip - way * arrow_length;
  return Shape{closed_path({tip, foot + side * 0.4, foot - side * 0.4}), {}, Ink::black, Ink::black};
}

Sketch::Sketch(Page& page, const std::string& id, const std::string& title) : page_(page), id_(id) {
  page_.group(id_, title);
}

Sketch& Sketch::line(const Polyline& points, LineType type, bool closed) {
  page_.group(id_).items.push_back(stroked(closed ? closed_path(points) : open_path(points), type));
  return *this;
}

Sketch& Sketch::thick(const Polyline& points, bool closed) {
  return line(points, LineType::continuous_thick, closed);
}
Sketch& Sketch::thin(const Polyline& points, bool closed) {
  return line(points, LineType::continuous_thin, closed);
}
Sketch& Sketch::hidden(const Polyline& points, bool closed) {
  return line(points, LineType::dashed_thin, closed);
}
Sketch& Sketch::axis(Vec2 from, Vec2 to) {
  return line({from, to}, LineType::long_dashed_dotted_thin, false);
}
Sketch& Sketch::neighbour(const Polyline& points, bool closed) {
  return line(points, LineType::long_dashed_double_dotted_thin, closed);
}

Sketch& Sketch::hatch(const std::vector<Polyline>& region, double degrees, double spacing) {
  page_.group(id_).items.push_back(hatch_shape(hatched(region, Angle::from_degrees(degrees), spacing)));
  return *this;
}

Sketch& Sketch::dot(Vec2 middle, double radius) {
  page_.group(id_).items.push_back(Shape{Circle{middle, radius}, {}, Ink::black, Ink::black});
  return *this;
}

Sketch& Sketch::ring(Vec2 middle, double radius) {
  page_.group(id_).items.push_back(Shape{Circle{middle, radius}, LineType::continuous_thin, {}, Ink::black});
  return *this;
}

Sketch& Sketch::arrow(Vec2 from, Vec2 to) {
  page_.group(id_).items.push_back(arrowhead(to, unit(to - from)));
  return thin({from, to});
}

Sketch& Sketch::measure(Vec2 from, Vec2 to) {
  const Vec2 way = unit(to - from);
  if (length(to - from) > 2.0 * arrow_length + 0.5) {
    page_.group(id_).items.push_back(arrowhead(from, way * -1.0));
    page_.group(id_).items.push_back(arrowhead(to, way));
    return thin({from, to});
  }
  constexpr double tail = 2.0;
  return arrow(from - way * (arrow_length + tail), from)
      .arrow(to + way * (arrow_length + tail), to)
      .thin({from, to});
}

Sketch& Sketch::words(Vec2 at, const std::string& words, Anchor anchor, double height, Weight weight,
                      Angle rotation) {
  page_.group(id_).items.push_back(Text{at, words, height, anchor, rotation, weight, Ink::black});
  return *this;
}

Sketch& Sketch::leader(Vec2 from, Vec2 to) {
  return thin({from, to}).dot(to, 0.45);
}

Polyline oval(Vec2 middle, double half_width, double half_height, double from, double to) {
  Polyline points;
  const int steps = std::max(12, static_cast<int>(std::ceil(std::abs(to - from) / 5.0)));
  const bool whole = std::abs(to - from) >= 360.0;
  for (int i = 0; i <= steps - (whole ? 1 : 0); ++i) {
    const Angle t = Angle::from_degrees(from + (to - from) * i / steps);
    points.push_back(middle + Vec2{half_width * t.cos(), half_height * t.sin()});
  }
  return points;
}

Polyline rectangle(const Box& box) {
  return {{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
}

}  // namespace culmwright
