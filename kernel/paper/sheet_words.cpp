#include "paper/sheet_words.hpp"

#include <algorithm>

#include "drawing/plane.hpp"
#include "paper/sheet_plan.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double small = 2.5;
constexpr double middle = 3.5;
constexpr double pitch = 1.6;  ///< of lines, in heights of capitals (ISO 3098: at least 1.4; from memory)

Text text_at(double x, double y, const std::string& words, double height, Weight weight = Weight::regular) {
  return {{x, y}, words, height, Anchor::start, {}, weight, Ink::black};
}

/// The largest lettering height not above `height` at which the words fit the width, down to 2.5.
double fitting(const std::string& words, double height, Weight weight, double width) {
  for (double h : {10.0, 7.0, 5.0, 3.5}) {
    if (h <= height && text_extent(words, h, weight).width <= width) return h;
  }
  return small;
}

}  // namespace

BlockWriter::BlockWriter(std::string id, std::string title, double width) : width_(width) {
  block_.id = std::move(id);
  block_.title = std::move(title);
}

BlockWriter& BlockWriter::heading(const std::string& words) {
  block_.height += middle;
  block_.items.push_back(text_at(0.0, block_.height, words, middle, Weight::bold));
  block_.height += 1.6;
  return *this;
}

BlockWriter& BlockWriter::words(const std::string& words, double indent) {
  for (const std::string& line : wrapped(words, small, Weight::regular, width_ - indent)) {
    block_.height += small;
    block_.items.push_back(text_at(indent, block_.height, line, small));
    block_.height += (pitch - 1.0) * small;
  }
  return *this;
}

BlockWriter& BlockWriter::item(Item item) {
  block_.items.push_back(std::move(item));
  return *this;
}

BlockWriter& BlockWriter::down(double by) {
  block_.height += by;
  return *this;
}

namespace {

struct SignSample {
  std::string words;
  std::vector<Item> items;  ///< about (0, 0), within ±6 by ±2
};

Item bar(LineType type) {
  return line_between({-6.0, 0.0}, {6.0, 0.0}, type);
}

Item rounded(LineType type) {
  const double x = 5.5, y = 1.6, r = 1.6, k = r * 0.5523;
  Path path;
  const auto corner = [](Vec2 to, Vec2 a, Vec2 b) { return PathStep{to, std::array<Vec2, 2>{a, b}}; };
  Contour c{{-x + r, -y}, {}, true};
  c.steps.push_back({{x - r, -y}, {}});
  c.steps.push_back(corner({x, 0}, {x - r + k, -y}, {x, -k}));
  c.steps.push_back(corner({x - r, y}, {x, k}, {x - r + k, y}));
  c.steps.push_back({{-x + r, y}, {}});
  c.steps.push_back(corner({-x, 0}, {-x + r - k, y}, {-x, k}));
  c.steps.push_back(corner({-x + r, -y}, {-x, -k}, {-x + r - k, -y}));
  path.contours.push_back(c);
  return stroked(path, type);
}

std::vector<Item> cross_items(double arm) {
  return {line_between({-arm, 0}, {arm, 0}, LineType::continuous_thin),
          line_between({0, -arm}, {0, arm}, LineType::continuous_thin)};
}

std::vector<Item> joined(std::vector<Item> one, const std::vector<Item>& other) {
  one.insert(one.end(), other.begin(), other.end());
  return one;
}

Item hatched_box(double degrees, double spacing) {
  return hatch_shape(
      hatched({{{-5.5, -1.8}, {5.5, -1.8}, {5.5, 1.8}, {-5.5, 1.8}}}, Angle::from_degrees(degrees), spacing));
}

SignSample sample(Sign sign) {
  const auto type = LineType::continuous_thin;
  switch (sign) {
    case Sign::outline:
      return {"edge: cut out along it", {bar(LineType::continuous_thick)}};
    case Sign::tab:
      return {"glue tab",
              {stroked(open_path({{-5.5, -1.8}, {5.5, -0.6}, {5.5, 1.8}}), LineType::dashed_thin)}};
    case Sign::rim:
      return {"hole: rim, pilot, cross",
              joined({Shape{Circle{{0, 0}, 1.7}, LineType::continuous_thick, {}, Ink::black},
                      line_between({-3.4, 0}, {-2.2, 0}, type), line_between({2.2, 0}, {3.4, 0}, type)},
                     cross_items(1.1))};
    case Sign::bits: {
      const Text text{{0, 1.25}, "3 \u2192 \u00D89", small, Anchor::middle, {}, Weight::regular, Ink::black};
      return {"pilot, then final bit", {text}};
    }
    case Sign::drilled:
      return {"drilled already",
              {Shape{Circle{{0, 0}, 1.7}, LineType::continuous_thick, {}, Ink::black},
               line_between({-1.2, 1.2}, {1.2, -1.2}, type), line_between({-1.6, 0.4}, {0.4, -1.6}, type),
               line_between({-0.4, 1.6}, {1.6, -0.4}, type)}};
    case Sign::touch:
      return {"touch for a finger", {rounded(type)}};
    case Sign::opening:
      return {"opening in the wall", {rounded(LineType::continuous_thick)}};
    case Sign::footprint:
      return {"part on the skin", {rounded(LineType::long_dashed_double_dotted_thin)}};
    case Sign::slider:
      return {"slider: axis and travel",
              {bar(LineType::long_dashed_dotted_thin),
               line_between({-5, -1.5}, {-5, 1.5}, LineType::continuous_thick),
               line_between({5, -1.5}, {5, 1.5}, LineType::continuous_thick)}};
    case Sign::hand:
      return {"touches of one hand",
              {stroked(open_path({{-5.5, 1.2}, {-5.5, -0.6}, {5.5, -0.6}, {5.5, 1.2}}), type)}};
    case Sign::relief:
      return {"slit: to pass a ridge",
              {line_between({-2.5, -1.8}, {-2.5, 1.8}, LineType::continuous_thick),
               line_between({2.5, -1.8}, {2.5, 1.8}, LineType::continuous_thick)}};
    case Sign::limit:
      return {"limit for holes' edges", {bar(LineType::long_dashed_double_dotted_thin)}};
    case Sign::node:
      return {"node: no hole here",
              {hatched_box(45.0, 1.5), line_between({-5.5, -1.8}, {5.5, -1.8}, type),
               line_between({-5.5, 1.8}, {5.5, 1.8}, type)}};
    case Sign::blemish:
      return {"blemish", {rounded(LineType::dashed_thin)}};
    case Sign::keep_off:
      return {"blemish to avoid", {hatched_box(-45.0, 1.5)}};
    case Sign::reference_line:
      return {"reference line", {bar(LineType::long_dashed_dotted_thin)}};
    case Sign::key_line:
      return {"key line, mid front", {bar(LineType::long_dashed_dotted_thin)}};
    case Sign::cut:
      return {"saw cut", {bar(LineType::continuous_thick)}};
    case Sign::end:
      return {"end of the piece", {bar(LineType::continuous_thin)}};
    case Sign::datum:
      return {"datum mark", joined({Shape{Circle{{0, 0}, 0.6}, {}, Ink::black, Ink::black}},
                                   {Shape{Circle{{0, 0}, 1.6}, type, {}, Ink::black}})};
    case Sign::joint:
      return {"joint of two sheets",
              joined({bar(type), Shape{Circle{{0, 0}, 1.2}, type, {}, Ink::black}}, cross_items(1.8))};
    case Sign::toward_mouth:
      return {"points to the mouth end",
              {Shape{closed_path({{0, -2}, {1.6, 1.8}, {-1.6, 1.8}}), {}, Ink::black, Ink::black}}};
    case Sign::middle:
      return {"middle of an edge",
              {line_between({-6, 1.6}, {6, 1.6}, LineType::continuous_thick),
               line_between({0, 1.6}, {0, -0.6}, type)}};
  }
  return {};
}

}  // namespace

Block legend_block(const std::set<Sign>& signs) {
  BlockWriter writer("legend", "What the signs mean");
  writer.heading("Signs").down(0.8);
  for (Sign sign : signs) {
    const SignSample row = sample(sign);
    const double top = writer.y();
    writer.words(row.words, 14.0).down(0.8);
    for (const Item& item : row.items) writer.item(moved(item, {6.5, top + 1.3}));
  }
  return writer.done();
}

std::string shortened(std::string words, double width) {
  if (text_extent(words, small, Weight::bold).width <= width) return words;
  while (!words.empty() && text_extent(words + "\u2026", small, Weight::bold).width > width) {
    while ((words.back() & '\xC0') == '\x80') words.pop_back();  // a whole character of UTF-8
    words.pop_back();
  }
  return words + "\u2026";
}

Block title_block(const TitleBlock& title) {
  BlockWriter writer("title-block", "Title block");
  const auto rule = [&](double y, LineType type) {
    writer.item(line_between({0, y}, {panel_width, y}, type));
  };
  const auto field = [&](double x, double y, const std::string& caption, const std::string& entry,
                         double height, Weight weight, double width) {
    writer.item(text_at(x, y + 3.6, caption, small));
    const double fit = fitting(entry, height, weight, width);
    writer.item(text_at(x, y + 6.0 + height, entry, fit, weight));
  };
  rule(0.25, LineType::continuous_thick);
  field(0.0, 0.5, "piece", title.piece, 7.0, Weight::bold, panel_width);
  double y = 16.6;
  if (!title.instrument.empty()) {
    rule(y, LineType::continuous_thin);
    field(0.0, y, "instrument", title.instrument, 3.5, Weight::bold, panel_width);
    y += 11.4;
    rule(y, LineType::continuous_thin);
    field(0.0, y, "revision", title.revision, 7.0, Weight::bold, 16.0);
    field(18.0, y, "state", title.state, 7.0, Weight::bold, panel_width - 18.0);
    if (!title.detail.empty()) {
      writer.item(text_at(0.0, y + 17.2, shortened(title.detail, panel_width), small));
    }
    y += 19.0;  // the same for a draft: sheets are planned before it is known
  }
  rule(y, LineType::continuous_thin);
  field(0.0, y, "document", title.kind, 2.5, Weight::regular, panel_width);
  y += 10.2;
  rule(y, LineType::continuous_thin);
  field(0.0, y, "scale", title.scale, 2.5, Weight::regular, 12.0);
  field(13.0, y, "sheet", std::to_string(title.sheet) + " of " + std::to_string(title.sheets), 2.5,
        Weight::regular, 16.0);
  field(28.5, y, "paper", title.paper, 2.5, Weight::regular, panel_width - 28.5);
  y += 10.2;
  rule(y - 0.25, LineType::continuous_thick);
  writer.down(y);
  return writer.done();
}

std::vector<Item> scale_bars(Vec2 corner) {
  std::vector<Item> items;
  items.push_back(line_between(corner, corner + Vec2{100.0, 0.0}, LineType::continuous_thick));
  items.push_back(line_between(corner, corner + Vec2{0.0, -100.0}, LineType::continuous_thick));
  // No tick at the corner: it would lengthen the other bar.
  for (int i = 1; i <= 10; ++i) {
    const double tick = i == 10 ? 3.0 : i == 5 ? 2.0 : 1.2;
    const Vec2 right = corner + Vec2{10.0 * i, 0.0};
    const Vec2 up = corner - Vec2{0.0, 10.0 * i};
    items.push_back(line_between(right, right + Vec2{0.0, tick}, LineType::continuous_thin));
    items.push_back(line_between(up, up - Vec2{tick, 0.0}, LineType::continuous_thin));
  }
  Text along{corner + Vec2{75.0, 4.6}, "100 mm", small, Anchor::middle, {}, Weight::regular, Ink::black};
  Text upward{corner + Vec2{-2.1, -75.0}, "100 mm",        small,     Anchor::middle,
              Angle::from_degrees(-90.0), Weight::regular, Ink::black};
  items.push_back(along);
  items.push_back(upward);
  return items;
}

Block scale_check_block() {
  return BlockWriter("scale-check", "How to check the scale")
      .heading("Check the scale first")
      .words(
          "Print at 100 %, never \u201Cfit to page\u201D. By a steel rule both bars must measure 100 mm to a "
          "quarter of a "
          "millimetre; else do not use this sheet.")
      .done();
}

}  // namespace culmwright
