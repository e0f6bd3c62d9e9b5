#include "paper/sheet_plan.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/problem.hpp"

namespace culmwright {

namespace {

/// Half a line's width, and what ascenders stand above capitals.
constexpr double edge_room = 0.6;

constexpr double shortest_window = 108.0;  ///< the bars are 100 long

/// Blocks set one under the other into columns of the given height, in order; the last goes to the foot of
/// its column. None when they need more columns than `columns`.
std::optional<std::vector<Box>> packed(const std::vector<double>& heights, int columns, double height) {
  std::vector<Box> boxes;
  int column = 0;
  double y = 0.0;
  for (double block : heights) {
    if (block > height) return {};
    if (y > 0.0 && y + block > height) {
      ++column;
      y = 0.0;
    }
    if (column >= columns) return {};
    const double x = column * (panel_width + panel_gap);
    boxes.push_back({x, y, x + panel_width, y + block});
    y += block + panel_gap;
  }
  Box& last = boxes.back();
  last = {last.left, height - last.height(), last.right, height};
  return boxes;
}

void move_all(std::vector<Box>& boxes, double x, double y) {
  for (Box& box : boxes) box = {box.left + x, box.top + y, box.right + x, box.bottom + y};
}

/// Words in columns at the right.
std::optional<SheetPlan> panel_beside(SheetPlan plan, const std::vector<double>& heights) {
  for (int columns = 1; columns <= 3; ++columns) {
    std::optional<std::vector<Box>> boxes = packed(heights, columns, plan.printable.height());
    if (!boxes) continue;
    const double width = columns * (panel_width + panel_gap);
    move_all(*boxes, plan.printable.right - width + panel_gap, plan.printable.top);
    plan.blocks = *boxes;
    plan.window = {plan.printable.left + bar_room, plan.printable.top, plan.printable.right - width,
                   plan.printable.bottom - bar_room};
    return plan;
  }
  return {};
}

/// Words in columns below, as low as they can be.
std::optional<SheetPlan> panel_below(SheetPlan plan, const std::vector<double>& heights) {
  const int columns =
      std::max(1, static_cast<int>((plan.printable.width() + panel_gap) / (panel_width + panel_gap)));
  for (double height = 20.0; height < plan.printable.height(); height += 1.0) {
    std::optional<std::vector<Box>> boxes = packed(heights, columns, height);
    if (!boxes) continue;
    move_all(*boxes, plan.printable.left, plan.printable.bottom - height);
    // The title block stands at the lower right corner of the sheet.
    move_all(*boxes, plan.printable.right - boxes->back().right, 0.0);
    plan.blocks = *boxes;
    plan.window = {plan.printable.left + bar_room, plan.printable.top, plan.printable.right,
                   plan.printable.bottom - height - panel_gap - bar_room};
    return plan;
  }
  return {};
}

/// Edges and joints along one direction: as few pieces as fit, joints where they cross least, else evenly
/// spread.
template <class Crossed>
std::vector<double> joints(double from, double to, double room, const Crossed& crossed) {
  if (to - from <= room) return {from, to};
  const double inner = room - 2.0 * sheet_overlap;
  int pieces = 2;
  while (2.0 * (room - sheet_overlap) + (pieces - 2) * inner < to - from) ++pieces;
  std::vector<double> found{from};
  for (int k = 1; k < pieces; ++k) {
    const double high = found.back() + (k == 1 ? room - sheet_overlap : inner);
    const double low =
        std::max(found.back() + 2.0 * sheet_overlap, to - (room - sheet_overlap) - (pieces - 1 - k) * inner);
    const double even = std::clamp(found.back() + (to - found.back()) / (pieces - k + 1), low, high);
    double best = even;
    double least = 1e300;
    for (double x = low; x <= high + 1e-9; x += 0.5) {
      const double cost = 10.0 * static_cast<double>(crossed(x)) + std::abs(x - even) / room;
      if (cost < least) {
        least = cost;
        best = x;
      }
    }
    found.push_back(best);
  }
  found.push_back(to);
  return found;
}

}  // namespace

Box SheetPlan::core(int column, int row) const {
  const auto c = static_cast<std::size_t>(column);
  const auto r = static_cast<std::size_t>(row);
  return {x_joints[c], y_joints[r], x_joints[c + 1], y_joints[r + 1]};
}

Box SheetPlan::shown(int column, int row) const {
  Box box = core(column, row);
  if (column > 0) box.left -= sheet_overlap;
  if (row > 0) box.top -= sheet_overlap;
  if (column + 1 < across()) box.right += sheet_overlap;
  if (row + 1 < down()) box.bottom += sheet_overlap;
  return box;
}

SheetPlan plan_sheets(const Box& net, const std::vector<double>& heights, const Paper& paper,
                      const std::vector<Box>& uncut) {
  constexpr double spare = 3.0;  // a joint keeps this from what it spares
  const auto across_x = [&](double x) {
    return std::count_if(uncut.begin(), uncut.end(),
                         [&](const Box& box) { return box.left - spare < x && x < box.right + spare; });
  };
  const auto across_y = [&](double y) {
    return std::count_if(uncut.begin(), uncut.end(),
                         [&](const Box& box) { return box.top - spare < y && y < box.bottom + spare; });
  };
  std::optional<SheetPlan> best;
  for (Orientation orientation : {Orientation::portrait, Orientation::landscape}) {
    SheetPlan start;
    start.paper = paper.size;
    start.orientation = orientation;
    start.size = sheet_size(paper.size, orientation);
    start.printable = printable(start.size, paper.margin + edge_room);
    for (std::optional<SheetPlan> plan : {panel_beside(start, heights), panel_below(start, heights)}) {
      if (!plan || plan->window.width() < shortest_window || plan->window.height() < shortest_window)
        continue;
      plan->x_joints = joints(net.left, net.right, plan->window.width(), across_x);
      plan->y_joints = joints(net.top, net.bottom, plan->window.height(), across_y);
      if (!best || plan->sheets() < best->sheets()) best = plan;
    }
  }
  if (!best) {
    throw InputError({{"paper-too-small",
                       {},
                       std::string("paper ") + paper_name(paper.size) + " with a margin of " +
                           std::to_string(static_cast<int>(std::lround(paper.margin))) + " mm",
                       "a printed area that holds two bars of 100 mm beside the words",
                       "Use a smaller margin"}});
  }
  return *best;
}

}  // namespace culmwright
