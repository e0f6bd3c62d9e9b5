#include "paper/line_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "drawing/paper_sheet.hpp"
#include "paper/sheet_plan.hpp"
#include "paper/sketch.hpp"
#include "plan/line_chains.hpp"

namespace culmwright {

namespace {

constexpr double margin = 10.0;
constexpr double edge = 0.3;         ///< half a thick line and a hair
constexpr double least_room = 60.0;  ///< for views, each way
constexpr double dot_line = 0.3;     ///< shorter lines on paper are specks
constexpr double small_letters = 2.5;
constexpr double name_height = 5.0;
constexpr double words_pitch = 3.4;
constexpr double kink = 3.5;  ///< over which a leader changes its height
constexpr double origin_ring = 0.9;

SeenLine on_paper(const SeenLine& line, const ViewPlace& place) {
  SeenLine laid;
  for (const Vec2& p : line) laid.push_back(place.on_page(p));
  return laid;
}

std::vector<LinePiece> pieces_of(const SeenLine& line) {
  std::vector<LinePiece> pieces;
  for (std::size_t i = 1; i < line.size(); ++i) pieces.push_back({line[i - 1], line[i]});
  return pieces;
}

double length_of(const std::vector<LinePiece>& pieces) {
  double sum = 0.0;
  for (const LinePiece& piece : pieces) sum += length(piece[1] - piece[0]);
  return sum;
}

/// A line that mostly runs into lines already drawn would only thicken them; any other is drawn whole.
bool worth_drawing(const std::vector<LinePiece>& pieces, const LineMap& drawn) {
  constexpr double least_share = 0.4;
  const double whole = length_of(pieces);
  return whole >= dot_line && length_of(drawn.beside(pieces)) >= least_share * whole;
}

void add_lines(Page& page, const std::string& group, const std::vector<SeenLine>& lines, LineType type,
               const std::optional<Box>& window) {
  for (const SeenLine& line : lines) {
    const std::vector<Polyline> parts = window ? clipped(line, *window) : std::vector<Polyline>{line};
    for (const Polyline& part : parts) page.group(group).items.push_back(stroked(open_path(part), type));
  }
}

Block legend_of(const std::set<LineSign>& signs) {
  if (signs.empty()) return {"legend", "What the lines mean", 0.0, {}};
  BlockWriter writer("legend", "What the lines mean");
  writer.heading("Lines and signs").down(0.8);
  const auto row = [&](const std::string& words, const std::vector<Item>& items, double height = 1.3) {
    const double top = writer.y();
    writer.words(words, 16.0).down(0.8);
    for (const Item& item : items) writer.item(moved(item, {7.5, top + height}));
  };
  const auto bar = [](LineType type) { return line_between({-7.0, 0.0}, {7.0, 0.0}, type); };
  for (const LineSign sign : signs) {
    if (sign == LineSign::visible) row("visible edge", {bar(LineType::continuous_thick)});
    if (sign == LineSign::hidden) row("hidden edge", {bar(LineType::dashed_thin)});
    if (sign == LineSign::axis) row("axis, key line", {bar(LineType::long_dashed_dotted_thin)});
    if (sign == LineSign::neighbour)
      row("tube beside the part", {bar(LineType::long_dashed_double_dotted_thin)});
    if (sign == LineSign::centre)
      row("middle of a hole", {line_between({-2, 0}, {2, 0}, LineType::continuous_thin),
                               line_between({0, -1.8}, {0, 1.8}, LineType::continuous_thin)});
    if (sign == LineSign::first_angle) {
      // ISO 5456-2: a frustum, its small end seen to the right of its side.
      row("first-angle projection",
          {stroked(closed_path({{-6.5, -1.2}, {-0.5, -2.4}, {-0.5, 2.4}, {-6.5, 1.2}}),
                   LineType::continuous_thick),
           Shape{Circle{{4.0, 0.0}, 2.4}, LineType::continuous_thick, {}, Ink::black},
           Shape{Circle{{4.0, 0.0}, 1.2}, LineType::continuous_thick, {}, Ink::black}},
          1.6);
      writer.down(1.8);
    }
  }
  return writer.done();
}

void put(Page& page, const Block& block, Vec2 corner) {
  Group& group = page.group(block.id, block.title);
  for (const Item& item : block.items) group.items.push_back(moved(item, corner));
}

TitleBlock title_of(const Instrument& instrument, const std::string& kind, const DrawingOptions& options) {
  TitleBlock title;
  title.piece = instrument.tube_id;
  title.instrument = instrument.id;
  title.revision = std::to_string(instrument.revision);
  title.state = sign_heading(instrument.sign);
  title.detail = sign_detail(instrument.sign);
  title.kind = kind;
  title.paper = std::string(paper_name(options.paper)) + " upright";
  return title;
}

[[noreturn]] void too_small(const std::string& what) {
  throw InputError({{"paper-too-small",
                     {"", 0, 0, "/paper/size"},
                     what + " on this paper",
                     "a paper with room for it",
                     "Choose a larger paper"}});
}

}  // namespace

void draw_view(Page& page, const std::string& group, const std::string& title, const LineView& view,
               const ViewPlace& place, bool hidden, const std::optional<Box>& window) {
  page.group(group, title);
  LineMap drawn(thick_line);
  std::vector<SeenLine> visible, behind;
  for (const SeenThing& thing : view.things) {
    for (const SeenLine& line : thing.visible) visible.push_back(on_paper(line, place));
    for (const SeenLine& line : thing.hidden) behind.push_back(on_paper(line, place));
  }
  const auto longer = [](const SeenLine& a, const SeenLine& b) {
    return length_of(pieces_of(a)) > length_of(pieces_of(b)) + 1e-9;
  };
  const auto chosen = [&](std::vector<SeenLine>& lines) {
    std::stable_sort(lines.begin(), lines.end(), longer);
    std::vector<SeenLine> kept;
    for (const SeenLine& line : lines) {
      const std::vector<LinePiece> pieces = pieces_of(line);
      if (!worth_drawing(pieces, drawn)) continue;
      for (const LinePiece& piece : pieces) drawn.add(piece);
      kept.push_back(line);
    }
    return kept;
  };
  const std::vector<SeenLine> seen = chosen(visible);
  if (hidden) add_lines(page, group, chosen(behind), LineType::dashed_thin, window);
  add_lines(page, group, seen, LineType::continuous_thick, window);
}

double standard_scale(double wanted) {
  for (const double down : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0}) {
    if (1.0 / down <= wanted + 1e-9) return 1.0 / down;
  }
  return 1.0 / 50.0;
}

std::string scale_words(double scale) {
  return "1:" + number_text(1.0 / scale, 3);
}

LineSheet::LineSheet(const Instrument& instrument, const DrawingOptions& options, const std::string& kind)
    : instrument_(instrument), options_(options), kind_(kind) {
  const SheetSize size = sheet_size(options.paper, Orientation::portrait);
  page_.width = size.width;
  page_.height = size.height;
  const Box inner = printable(size, margin).grown(-edge);
  column_ = {inner.right - panel_width, inner.top, inner.right, inner.bottom};
  room_ = {inner.left, inner.top, column_.left - panel_gap, inner.bottom};
  if (room_.width() < least_room || room_.height() < least_room) too_small("a drawing");
}

bool LineSheet::add(const Block& block) {
  if (block.height > column_.height()) return false;
  put(page_, block, {column_.left, column_.top});
  column_.top += block.height + panel_gap;
  return true;
}

Box LineSheet::take(double height) {
  const Box taken{column_.left, column_.top, column_.right, column_.top + height};
  column_.top += height + panel_gap;
  return taken;
}

double LineSheet::foot_height(const std::set<LineSign>& signs) {
  return legend_of(signs).height + title_block({"", "x", "", "", "", "", "", 1, 1}).height + 2.0 * panel_gap;
}

Page LineSheet::done(const std::set<LineSign>& signs, const std::string& scale, int sheet, int sheets) {
  TitleBlock title = title_of(instrument_, kind_, options_);
  title.scale = scale;
  title.sheet = sheet;
  title.sheets = sheets;
  const Block foot = title_block(title);
  const Block legend = legend_of(signs);
  put(page_, foot, {column_.left, column_.bottom - foot.height});
  put(page_, legend, {column_.left, column_.bottom - foot.height - panel_gap - legend.height});
  page_.title = kind_ + ": piece " + instrument_.tube_id + ", instrument " + instrument_.id + ", revision " +
                std::to_string(instrument_.revision) + ", " + sign_words(instrument_.sign) + ", sheet " +
                std::to_string(sheet) + " of " + std::to_string(sheets);
  return std::move(page_);
}

std::optional<std::vector<double>> spread(const std::vector<double>& wanted, double pitch, double low,
                                          double high) {
  const std::size_t count = wanted.size();
  if (count == 0) return std::vector<double>{};
  if (static_cast<double>(count - 1) * pitch > high - low + 1e-9) return std::nullopt;
  // Less its number times the pitch each value only has to be no less than the one before: neighbours that
  // are out of order are pooled to their mean (Ayer and others 1955).
  struct Pool {
    double sum;
    double count;
  };
  std::vector<Pool> pools;
  for (std::size_t i = 0; i < count; ++i) {
    pools.push_back({wanted[i] - static_cast<double>(i) * pitch, 1.0});
    while (pools.size() > 1) {
      const Pool& last = pools[pools.size() - 1];
      Pool& before = pools[pools.size() - 2];
      if (before.sum / before.count <= last.sum / last.count) break;
      before = {before.sum + last.sum, before.count + last.count};
      pools.pop_back();
    }
  }
  std::vector<double> found;
  const double most = high - static_cast<double>(count - 1) * pitch;
  for (const Pool& pool : pools) {
    const double value = std::clamp(pool.sum / pool.count, low, most);
    for (double k = 0.0; k < pool.count; k += 1.0)
      found.push_back(value + static_cast<double>(found.size()) * pitch);
  }
  return found;
}

void draw_running(Page& page, const std::string& group, const std::string& title, double x,
                  std::optional<double> origin_y, std::vector<RunningDimension> dimensions, double low,
                  double high) {
  if (dimensions.empty()) return;
  std::stable_sort(dimensions.begin(), dimensions.end(),
                   [](const RunningDimension& a, const RunningDimension& b) { return a.y < b.y; });
  std::vector<double> wanted;
  for (const RunningDimension& one : dimensions) wanted.push_back(one.y);
  const auto places =
      spread(wanted, small_letters + 1.1, low + 0.5 * small_letters, high - 0.5 * small_letters);
  if (!places) too_small("so many dimensions side by side");
  Sketch sketch(page, group, title);
  const double top = origin_y.value_or(low);
  sketch.thin({{x, std::min(top, dimensions.front().y)}, {x, dimensions.back().y}});
  if (origin_y) sketch.ring({x, *origin_y}, origin_ring);
  for (std::size_t i = 0; i < dimensions.size(); ++i) {
    const RunningDimension& one = dimensions[i];
    const double y = (*places)[i];
    page.group(group).items.push_back(arrowhead({x, one.y}, {0.0, 1.0}));
    sketch.thin({{one.from_x, one.y}, {x - 1.0, one.y}, {x - 1.0 - kink, y}});
    sketch.words({x - 1.0 - kink - 0.9, y + 0.5 * small_letters}, one.words, Anchor::end);
  }
}

namespace {

double name_width(const SideLabel& label) {
  return text_extent(label.name, name_height, Weight::bold).width;
}
double words_width(const SideLabel& label) {
  double widest = 0.0;
  for (const std::string& line : label.words)
    widest = std::max(widest, text_extent(line, small_letters, Weight::regular).width);
  return widest;
}
double label_height(const SideLabel& label) {
  const double words = label.words.empty()
                           ? 0.0
                           : small_letters + words_pitch * (static_cast<double>(label.words.size()) - 1.0);
  return std::max(name_height, words) + 1.6;
}

}  // namespace

double side_label_room(const std::vector<SideLabel>& labels) {
  double widest = 0.0;
  for (const SideLabel& label : labels)
    widest = std::max(
        widest, kink + 1.0 + name_width(label) + (label.words.empty() ? 0.0 : 1.4 + words_width(label)));
  return widest;
}

void draw_side_labels(Page& page, const std::string& group, const std::string& title, double x,
                      std::vector<SideLabel> labels, double low, double high) {
  if (labels.empty()) return;
  std::stable_sort(labels.begin(), labels.end(),
                   [](const SideLabel& a, const SideLabel& b) { return a.point.y < b.point.y; });
  std::vector<double> wanted;
  double pitch = 0.0;
  for (const SideLabel& label : labels) {
    wanted.push_back(label.point.y);
    pitch = std::max(pitch, label_height(label));
  }
  const auto places = spread(wanted, pitch, low + 0.5 * pitch, high - 0.5 * pitch);
  if (!places) too_small("so many holes beside each other");
  Sketch sketch(page, group, title);
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const SideLabel& label = labels[i];
    const double y = (*places)[i];
    sketch.thin({{label.point.x + label.clear, label.point.y}, {x, label.point.y}, {x + kink, y}});
    const double text_x = x + kink + 1.0;
    sketch.words({text_x, y + 0.5 * name_height}, label.name, Anchor::start, name_height, Weight::bold);
    double line_y =
        y + 0.5 * small_letters - 0.5 * words_pitch * (static_cast<double>(label.words.size()) - 1.0);
    for (const std::string& line : label.words) {
      sketch.words({text_x + name_width(label) + 1.4, line_y}, line, Anchor::start);
      line_y += words_pitch;
    }
  }
}

}  // namespace culmwright
