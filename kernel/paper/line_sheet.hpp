#pragma once
/// Views of lines on paper: where they stand, at what scale, and the sheets that hold them, with words in a
/// column at the right and the title block at its foot. For kernel/paper.
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "drawing/plane.hpp"
#include "layout/instrument.hpp"
#include "paper/instrument_drawing.hpp"
#include "paper/sheet_words.hpp"
#include "plan/line_view.hpp"

namespace culmwright {

/// From a view's coordinates to the page: its origin there, millimetres on paper for one of the thing; lying:
/// what was up is to the left.
struct ViewPlace {
  Vec2 origin;
  double scale = 1.0;
  bool lying = false;

  Vec2 on_page(Vec2 seen) const {
    const Vec2 turned = lying ? Vec2{seen.y, -seen.x} : seen;
    return origin + turned * scale;
  }
};

/// The lines of a view into a group: visible ones continuous thick, hidden ones dashed thin. What would stand
/// nearer to another line than the widths of both is drawn once. Outside the window nothing is drawn.
void draw_view(Page& page, const std::string& group, const std::string& title, const LineView& view,
               const ViewPlace& place, bool hidden, const std::optional<Box>& window = std::nullopt);

/// The largest scale of ISO 5455 (1:1, 1:2, 1:5, 1:10, 1:20, 1:50; from memory) not above `wanted`, as
/// millimetres on paper for one; the smallest of them where none is.
double standard_scale(double wanted);
/// "1:2".
std::string scale_words(double scale);

/// What the legend of a line drawing can name.
enum class LineSign { visible, hidden, axis, neighbour, centre, first_angle };

/// One sheet: `room` is for the views.
class LineSheet {
 public:
  /// Throws InputError when the paper has no room beside the words.
  LineSheet(const Instrument& instrument, const DrawingOptions& options, const std::string& kind);

  Page& page() { return page_; }
  const Box& room() const { return room_; }
  /// What is left of the column of words; blocks are set from its top.
  Box column() const { return column_; }
  /// False when it does not fit any more.
  bool add(const Block& block);
  /// Takes that height of the column for something drawn.
  Box take(double height);
  /// Legend and title block; then the page is done.
  Page done(const std::set<LineSign>& signs, const std::string& scale, int sheet, int sheets);
  /// Height that legend and title block will take.
  static double foot_height(const std::set<LineSign>& signs);

 private:
  const Instrument& instrument_;
  DrawingOptions options_;
  std::string kind_;
  Page page_;
  Box room_;
  Box column_;
};

/// Values as near as can be to the wanted ones (least squares), in their order, `pitch` apart at least,
/// within [low, high]. None when there is no room. Precondition: ascending.
std::optional<std::vector<double>> spread(const std::vector<double>& wanted, double pitch, double low,
                                          double high);

/// A line of running dimensions (ISO 129, superimposed): from `origin` along a vertical line at `x`, an arrow
/// at each value, the numbers to its left, an extension line from what is measured.
struct RunningDimension {
  double y = 0.0;       ///< on the page
  double from_x = 0.0;  ///< where the extension line begins
  std::string words;
};
/// `origin_y`: none when it lies beyond this sheet. Throws InputError when they do not fit.
void draw_running(Page& page, const std::string& group, const std::string& title, double x,
                  std::optional<double> origin_y, std::vector<RunningDimension> dimensions, double low,
                  double high);
/// Room that the numbers take to the left of `x`.
constexpr double running_room = 17.0;

/// A name with up to two lines of words, beside a view, joined to what it names.
struct SideLabel {
  Vec2 point;          ///< on the page
  double clear = 0.0;  ///< the leader begins this far to the right of the point
  std::string name;
  std::vector<std::string> words;
};
/// At x, names 5 high. Throws InputError when they do not fit between low and high.
void draw_side_labels(Page& page, const std::string& group, const std::string& title, double x,
                      std::vector<SideLabel> labels, double low, double high);
/// Room that labels take from `x` to the right, leaders included.
double side_label_room(const std::vector<SideLabel>& labels);

}  // namespace culmwright
