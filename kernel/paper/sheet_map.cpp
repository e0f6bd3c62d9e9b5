#include "paper/sheet_map.hpp"

#include <algorithm>

namespace culmwright {

namespace {

constexpr double tallest = 30.0;
constexpr double least_row = 5.5;  ///< room for a number

Box bounds_of(const Polyline& line) {
  Box box{line[0].x, line[0].y, line[0].x, line[0].y};
  for (Vec2 p : line) box = box.joined({p.x, p.y, p.x, p.y});
  return box;
}

}  // namespace

Block sheet_map(const SheetPlan& plan, const Polyline& outline, int sheet) {
  BlockWriter writer("sheet-map", "Map of the sheets");
  writer.heading("This sheet: hatched").down(1.0);
  const Box all = bounds_of(outline);
  const double tall = std::max(tallest, least_row * plan.down());
  const double scale = std::min((panel_width - 1.0) / all.width(), tall / all.height());
  const Vec2 origin{0.5, writer.y()};
  const auto small = [&](Vec2 p) { return origin + (p - Vec2{all.left, all.top}) * scale; };
  Polyline net;
  for (Vec2 p : outline) net.push_back(small(p));
  writer.item(stroked(closed_path(net), LineType::continuous_thick));
  int number = 0;
  for (int row = 0; row < plan.down(); ++row) {
    for (int column = 0; column < plan.across(); ++column) {
      const Box core = plan.core(column, row);
      const Vec2 from = small({std::max(core.left, all.left), std::max(core.top, all.top)});
      const Vec2 to = small({std::min(core.right, all.right), std::min(core.bottom, all.bottom)});
      const Box box{from.x, from.y, to.x, to.y};
      if (column > 0) writer.item(line_between(from, {from.x, to.y}, LineType::continuous_thin));
      if (row > 0) writer.item(line_between(from, {to.x, from.y}, LineType::continuous_thin));
      ++number;
      Text name{box.middle() + Vec2{0.0, 1.25},
                std::to_string(number),
                2.5,
                Anchor::middle,
                {},
                number == sheet ? Weight::bold : Weight::regular,
                Ink::black};
      writer.item(name);
      if (number != sheet) continue;
      const Box around = bounds(text_box(name, 0.7));
      const Polyline clear{{around.left, around.top},
                           {around.right, around.top},
                           {around.right, around.bottom},
                           {around.left, around.bottom}};
      writer.item(hatch_shape(hatched({clipped_polygon(net, box)}, Angle::from_degrees(45.0), 1.2, {clear})));
    }
  }
  return writer.down(all.height() * scale + 0.5).done();
}

}  // namespace culmwright
