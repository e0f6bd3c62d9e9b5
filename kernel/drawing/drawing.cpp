#include "drawing/drawing.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

double line_width(LineType type) {
  return type == LineType::continuous_thick ? thick_line : thin_line;
}

std::vector<double> dashes(LineType type) {
  const double d = thin_line;
  const double gap = 3.0 * d;
  // A dot of half the width would vanish on a laser printer: it is drawn as long as the line is wide.
  const double dot = d;
  switch (type) {
    case LineType::continuous_thick:
    case LineType::continuous_thin:
      return {};
    case LineType::dashed_thin:
      return {12.0 * d, gap};
    case LineType::long_dashed_dotted_thin:
      return {24.0 * d, gap, dot, gap};
    case LineType::long_dashed_double_dotted_thin:
      return {24.0 * d, gap, dot, gap, dot, gap};
  }
  return {};
}

Colour colour_of(Ink ink) {
  switch (ink) {
    case Ink::white:
      return {0xFF, 0xFF, 0xFF};
    case Ink::grey:
      return {0x66, 0x66, 0x66};
    case Ink::accent:
      return {0xE4, 0xEC, 0xF2};
    case Ink::black:
      break;
  }
  return {};
}

bool Box::contains(Vec2 p, double slack) const {
  return p.x >= left - slack && p.x <= right + slack && p.y >= top - slack && p.y <= bottom + slack;
}

bool Box::contains(const Box& other, double slack) const {
  return contains(Vec2{other.left, other.top}, slack) && contains(Vec2{other.right, other.bottom}, slack);
}

bool Box::overlaps(const Box& other) const {
  return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
}

Box Box::joined(const Box& other) const {
  return {std::min(left, other.left), std::min(top, other.top), std::max(right, other.right),
          std::max(bottom, other.bottom)};
}

Group& Page::group(const std::string& id, const std::string& words) {
  for (Group& group : groups) {
    if (group.id == id) return group;
  }
  groups.push_back({id, words, {}});
  return groups.back();
}

Vec2 direction_on_page(Angle angle) {
  return {angle.cos(), angle.sin()};
}

Quad text_box(const Text& text, double margin) {
  const TextExtent extent = text_extent(text.words, text.height, text.weight);
  const double share = text.anchor == Anchor::start ? 0.0 : text.anchor == Anchor::middle ? 0.5 : 1.0;
  const double left = -share * extent.width - margin;
  const double right = left + extent.width + 2.0 * margin;
  const double top = -extent.above - margin;
  const double bottom = extent.below + margin;
  const Vec2 along = direction_on_page(text.rotation);
  const Vec2 down{-along.y, along.x};
  const auto corner = [&](double x, double y) { return text.at + along * x + down * y; };
  return {corner(left, top), corner(right, top), corner(right, bottom), corner(left, bottom)};
}

Box bounds(const Quad& quad) {
  Box box{quad[0].x, quad[0].y, quad[0].x, quad[0].y};
  for (Vec2 p : quad) box = box.joined({p.x, p.y, p.x, p.y});
  return box;
}

namespace {

Box point_box(Vec2 p) {
  return {p.x, p.y, p.x, p.y};
}

Box bounds_of(const Path& path) {
  Box box = path.contours.empty() ? Box{} : point_box(path.contours.front().start);
  for (const Contour& contour : path.contours) {
    box = box.joined(point_box(contour.start));
    for (const PathStep& step : contour.steps) {
      box = box.joined(point_box(step.to));
      if (!step.controls) continue;
      for (Vec2 control : *step.controls) box = box.joined(point_box(control));
    }
  }
  return box;
}

Box bounds_of(const Circle& circle) {
  return point_box(circle.centre).grown(circle.radius);
}

Box bounds_of(const Arc& arc) {
  const double from = std::min(arc.from.radians(), arc.to.radians());
  const double to = std::max(arc.from.radians(), arc.to.radians());
  const auto at = [&](double t) {
    return arc.centre + direction_on_page(Angle::from_radians(t)) * arc.radius;
  };
  Box box = point_box(at(from)).joined(point_box(at(to)));
  for (double k = std::ceil(from / (0.5 * pi)); 0.5 * pi * k < to; k += 1.0) {
    box = box.joined(point_box(at(0.5 * pi * k)));
  }
  return box;
}

}  // namespace

Box bounds(const Item& item) {
  if (const Text* text = std::get_if<Text>(&item)) return bounds(text_box(*text));
  const Shape& shape = std::get<Shape>(item);
  const Box box = std::visit([](const auto& geometry) { return bounds_of(geometry); }, shape.geometry);
  return shape.line ? box.grown(0.5 * line_width(*shape.line)) : box;
}

namespace {

void move(Path& path, Vec2 by) {
  for (Contour& contour : path.contours) {
    contour.start = contour.start + by;
    for (PathStep& step : contour.steps) {
      step.to = step.to + by;
      if (!step.controls) continue;
      for (Vec2& control : *step.controls) control = control + by;
    }
  }
}
void move(Circle& circle, Vec2 by) {
  circle.centre = circle.centre + by;
}
void move(Arc& arc, Vec2 by) {
  arc.centre = arc.centre + by;
}

}  // namespace

Item moved(Item item, Vec2 by) {
  if (Text* text = std::get_if<Text>(&item)) {
    text->at = text->at + by;
  } else {
    std::visit([&](auto& geometry) { move(geometry, by); }, std::get<Shape>(item).geometry);
  }
  return item;
}

Path open_path(const std::vector<Vec2>& points) {
  Path path;
  if (points.empty()) return path;
  path.contours.push_back({points.front(), {}, false});
  for (std::size_t i = 1; i < points.size(); ++i) path.contours.back().steps.push_back({points[i], {}});
  return path;
}

Path closed_path(const std::vector<Vec2>& points) {
  Path path = open_path(points);
  for (Contour& contour : path.contours) contour.closed = true;
  return path;
}

Path box_path(const Box& box) {
  return closed_path(
      {{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}});
}

Shape stroked(Path path, LineType line) {
  return {std::move(path), line, {}, Ink::black};
}

Shape line_between(Vec2 from, Vec2 to, LineType line) {
  return stroked(open_path({from, to}), line);
}

}  // namespace culmwright
