#pragma once
/// How a net is spread over sheets of paper: upright or across, the panel of words beside it or below, in as
/// few sheets as it takes.
#include <vector>

#include "drawing/paper_sheet.hpp"

namespace culmwright {

constexpr double panel_width = 52.0;   ///< of a column of words
constexpr double panel_gap = 4.5;      ///< between columns, and between blocks of words
constexpr double bar_room = 8.5;       ///< left of and below the net, for the two bars
constexpr double sheet_overlap = 8.0;  ///< shown beyond a joint on both of its sheets

struct SheetPlan {
  PaperSize paper = PaperSize::a4;
  Orientation orientation = Orientation::portrait;
  SheetSize size;
  Box printable;
  Box window;               ///< where the net may be drawn
  std::vector<Box> blocks;  ///< where each block of words stands; the last at the foot of the last column
  /// Edges and joints in the plane of the net, ascending; one more than there are sheets in that direction.
  std::vector<double> x_joints;
  std::vector<double> y_joints;

  int across() const { return static_cast<int>(x_joints.size()) - 1; }
  int down() const { return static_cast<int>(y_joints.size()) - 1; }
  int sheets() const { return across() * down(); }
  /// The part of the net that belongs to one sheet, joints its edges; counted from 0.
  Box core(int column, int row) const;
  /// The same with the overlap at its joints.
  Box shown(int column, int row) const;
};

/// `net`: bounds of the net in its plane. `heights`: of the blocks of words, in order. `uncut`: boxes in the
/// plane of the net that a joint should rather not cross. Throws InputError when the paper is too small for
/// the words and the bars.
SheetPlan plan_sheets(const Box& net, const std::vector<double>& heights, const Paper& paper,
                      const std::vector<Box>& uncut);

}  // namespace culmwright
