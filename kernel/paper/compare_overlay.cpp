#include "paper/compare_overlay.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/paper_sheet.hpp"
#include "paper/sketch.hpp"
#include "paper/skin_view.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.0;
constexpr double edge_room = 0.6;  ///< for the width of lines and of letters that stand out
constexpr double line_pitch = 4.2;
constexpr double gap = 8.0;
constexpr double least_window = 56.0;
constexpr double window_height = 50.0;
constexpr double words_room = 15.0;  ///< under a window: its id and two lines
constexpr double legend_room = 8.0;
constexpr double hand_room = 6.0;
constexpr double strip_scales[] = {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0};
constexpr double window_scales[] = {0.5, 1.0, 2.0, 5.0, 10.0, 20.0};

std::string scale_words(double scale) {
  if (scale < 1.0) return decimals(1.0 / scale, 0) + ":1";
  return "1:" + decimals(scale, scale == 2.5 ? 1 : 0);
}

Text plain(Vec2 at, const std::string& words, Anchor anchor = Anchor::start) {
  return {at, words, 2.5, anchor, {}, Weight::regular, Ink::black};
}

/// A moved thing: the middle of its move on the tube, and how far it reaches from there.
struct Spot {
  OverlayMove move;
  SkinPlace middle;
  double reach = 0.0;
};

class Overlay {
 public:
  Overlay(const Tube& tube, const Instrument& was, const Instrument& now,
          const std::vector<OverlayMove>& moves, const std::string& heading, PaperSize paper)
      : tube_(tube),
        was_(was),
        now_(now),
        heading_(heading),
        size_(sheet_size(paper, Orientation::portrait)),
        room_(printable(size_, margin + edge_room)) {
    for (const OverlayMove& move : moves) {
      ids_.push_back(move.id);
      add_spot(move);
    }
    double reach = 0.0;
    for (const Spot& spot : spots_) reach = std::max(reach, spot.reach);
    for (double candidate : window_scales) {
      window_scale_ = candidate;
      if (2.0 * reach / candidate <= window_height - 4.0) break;
    }
  }

  Drawing draw(const std::vector<std::string>& words) {
    start_page();
    write(words);
    const double right_of_strip = draw_whole();
    lay_windows(right_of_strip);
    const std::size_t count = drawing_.pages.size();
    for (std::size_t i = 0; i < count; ++i) finish(drawing_.pages[i], i + 1, count);
    return std::move(drawing_);
  }

 private:
  void add_spot(const OverlayMove& move) {
    const auto add = [&](SkinPlace was, SkinPlace now, double along, double around) {
      const double girth = tube_.girth(std::clamp(now.at, tube_.end_a_at(), tube_.end_b_at()));
      const double side = std::remainder(now.around - was.around, girth);
      Spot spot{move, {0.5 * (was.at + now.at), now.around - 0.5 * side}, 0.0};
      spot.middle.at = std::clamp(spot.middle.at, tube_.end_a_at(), tube_.end_b_at());
      spot.reach = 0.5 * std::max(along + std::abs(now.at - was.at), around + std::abs(side));
      spots_.push_back(spot);
    };
    for (const PlacedKey& now : now_.keys) {
      for (const PlacedKey& was : was_.keys) {
        if (now.key.id != move.id || was.key.id != move.id) continue;
        const double hole = now.key.hole_diameter;
        add(was.place, now.place, std::max(now.key.touch.length, hole), std::max(now.key.touch.width, hole));
      }
    }
    for (const PlacedPart& now : now_.parts) {
      for (const PlacedPart& was : was_.parts) {
        if (now.part.id != move.id || was.part.id != move.id) continue;
        add(was.place, now.place, now.part.length, now.part.width);
      }
    }
  }

  Page& page() { return drawing_.pages.back(); }

  void start_page() {
    Page page;
    page.width = size_.width;
    page.height = size_.height;
    page.title = heading_;
    page.description =
        "The skin unrolled, mouth end up, as it is now; what moved is drawn long-dashed double-dotted where "
        "it was, with an arrow to where it is.";
    double height = 5.0;
    for (double smaller : {3.5, 2.5}) {
      if (text_extent(heading_, height, Weight::bold).width > room_.width()) height = smaller;
    }
    page.group("heading", "Heading")
        .items.push_back(
            Text{{room_.left, room_.top + 5.0}, heading_, height, Anchor::start, {}, Weight::bold});
    drawing_.pages.push_back(std::move(page));
    top_ = room_.top + 15.0;
  }

  void write(const std::vector<std::string>& words) {
    for (const std::string& sentence : words) {
      for (const std::string& line : wrapped(sentence, 2.5, Weight::regular, room_.width())) {
        page().group("words", "What differs").items.push_back(plain({room_.left, top_ + 2.5}, line));
        top_ += line_pitch;
      }
    }
    top_ += 3.0;
  }

  double bottom() const { return room_.bottom - legend_room; }

  /// Returns where the room to the right of it begins.
  double draw_whole() {
    const double height = bottom() - top_ - 6.0;
    double scale = 1.0;
    for (double candidate : strip_scales) {
      scale = candidate;
      if (tube_.length() / scale <= height && greatest_girth(tube_) / scale <= 0.28 * room_.width()) break;
    }
    const double width = greatest_girth(tube_) / scale;
    page()
        .group("whole", "The whole piece")
        .items.push_back(plain({room_.left, top_ + 2.5}, "scale " + scale_words(scale)));
    const double first_at = now_.mouth_end == End::a ? tube_.end_a_at() : tube_.end_b_at();
    SkinView view(tube_, now_, now_.facing, scale, {room_.left + 0.5 * (width + thick_line), top_ + 6.0},
                  first_at, page(), "whole");
    view.show_earlier(was_, ids_);
    view.draw();
    return room_.left + width + hand_room + gap;
  }

  void lay_windows(double left) {
    std::size_t next = 0;
    while (next < spots_.size()) {
      const double width = room_.right - left;
      const auto columns = std::max(1, static_cast<int>((width + gap) / (least_window + gap)));
      const double window = (width - gap * (columns - 1)) / columns;
      for (double y = top_; y + window_height + words_room <= bottom(); y += window_height + words_room) {
        for (int i = 0; i < columns && next < spots_.size(); ++i) {
          const double x = left + i * (window + gap);
          draw_window(spots_[next++], {x, y, x + window, y + window_height});
        }
      }
      if (next >= spots_.size()) return;
      start_page();
      left = room_.left;
    }
  }

  void draw_window(const Spot& spot, const Box& window) {
    const std::string id = "moved-" + spot.move.id;
    page().group(id, spot.move.id + ": " + spot.move.words);
    const double at = std::clamp(spot.middle.at, tube_.end_a_at(), tube_.end_b_at());
    const Vec3 point = tube_.skin_point({at, spot.middle.around}).point;
    const Angle middle = Angle::from_radians(std::atan2(point.y, point.x));
    SkinView view(tube_, now_, middle, window_scale_, window.middle(), at, page(), id, window);
    view.show_earlier(was_, ids_);
    view.draw();
    Group& group = page().group(id);
    group.items.push_back(stroked(box_path(window), LineType::continuous_thin));
    double y = window.bottom + 4.5;
    group.items.push_back(
        Text{{window.left, y}, spot.move.id, 3.5, Anchor::start, {}, Weight::bold, Ink::black});
    for (const std::string& line : wrapped(spot.move.words, 2.5, Weight::regular, window.width())) {
      y += line_pitch;
      group.items.push_back(plain({window.left, y}, line));
    }
  }

  void finish(Page& page, std::size_t number, std::size_t count) {
    const double y = room_.bottom - 1.0;
    Group& group = page.group("legend", "What the lines mean");
    double x = room_.left;
    const auto entry = [&](const std::string& words, const std::vector<Item>& sample) {
      for (const Item& item : sample) group.items.push_back(moved(item, {x, y - 1.2}));
      group.items.push_back(plain({x + 13.0, y}, words));
      x += 13.0 + text_extent(words, 2.5, Weight::regular).width + 4.5;
    };
    const auto bar = [](LineType type) { return line_between({0, 0}, {11.5, 0}, type); };
    const Polyline node{{1, -1.5}, {11, -1.5}, {11, 1.5}, {1, 1.5}};
    entry("as it is", {bar(LineType::continuous_thin)});
    entry("as it was, or a part", {bar(LineType::long_dashed_double_dotted_thin)});
    entry("moved", {line_between({1, 0}, {9, 0}, LineType::continuous_thin), arrowhead({9, 0}, {1, 0})});
    entry("key line", {bar(LineType::long_dashed_dotted_thin)});
    entry("node", {hatch_shape(hatched({node}, Angle::from_degrees(45), 1.2))});
    entry("blemish", {bar(LineType::dashed_thin)});
    std::string words = "Mouth end up, seen from outside: the player's left is on the right.";
    if (!spots_.empty()) words += " Windows at scale " + scale_words(window_scale_) + ".";
    const std::string sheet = "sheet " + std::to_string(number) + " of " + std::to_string(count);
    page.group("heading").items.push_back(plain({room_.left, room_.top + 10.0}, words));
    page.group("heading").items.push_back(plain({room_.right, room_.top + 10.0}, sheet, Anchor::end));
  }

  const Tube& tube_;
  const Instrument& was_;
  const Instrument& now_;
  std::string heading_;
  SheetSize size_;
  Box room_;
  std::vector<std::string> ids_;
  std::vector<Spot> spots_;
  double window_scale_ = 1.0;
  double top_ = 0.0;
  Drawing drawing_;
};

}  // namespace

Drawing compare_overlay(const Tube& tube, const Instrument& was, const Instrument& now,
                        const std::vector<OverlayMove>& moves, const std::string& heading,
                        const std::vector<std::string>& words, PaperSize paper) {
  return Overlay(tube, was, now, moves, heading, paper).draw(words);
}

}  // namespace culmwright
