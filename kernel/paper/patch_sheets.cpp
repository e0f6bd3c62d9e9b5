#include "paper/patch_sheets.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/problem.hpp"
#include "paper/development.hpp"
#include "paper/sheet_plan.hpp"
#include "paper/sheet_words.hpp"
#include "paper/skin_curve.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

constexpr double beyond_patch = 3.0;  ///< developed beyond the patch, along
constexpr double knife_gap = 4.0;     ///< between two patches, for knife or scissors
constexpr double shelf_slack = 1.0;   ///< so that patches of about one height share a shelf
constexpr double longest_tick = 2.0;
constexpr double text_margin = 0.9;  ///< of a text inside its patch
constexpr double id_heights[] = {10.0, 7.0, 5.0};
constexpr double words_height = 2.5;
constexpr double text_gap = 1.2;

Box bounds_of(const Polyline& line) {
  Box box{line.front().x, line.front().y, line.front().x, line.front().y};
  for (Vec2 p : line) box = box.joined({p.x, p.y, p.x, p.y});
  return box;
}

/// Whether the whole box lies inside a closed outline that is convex.
bool holds(const Polyline& outline, const Box& box) {
  const Vec2 corners[4] = {
      {box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
  return std::all_of(std::begin(corners), std::end(corners), [&](Vec2 p) { return inside(outline, p); });
}

/// What stands on and by one patch, about its middle.
struct Cell {
  FlatPatch flat;
  Box box;  ///< of outline and words
  Path arrow;
  std::vector<Text> texts;
  std::vector<Box> taken;  ///< by arrow and words inside the patch
};

Path arrow_up(Vec2 tip, double height) {
  const double half = 0.42 * height;
  return closed_path({tip, tip + Vec2{half, height}, tip + Vec2{-half, height}});
}

Text centred(const std::string& words, double baseline, double height, Weight weight) {
  return {{0.0, baseline}, words, height, Anchor::middle, {}, weight, Ink::black};
}

/// Of the marks at the middles of the edges.
double tick_length(const MockUpPatch& patch) {
  return std::min(longest_tick, 0.13 * std::min(patch.length, patch.width));
}

double arrow_height(const MockUpPatch& patch) {
  return std::clamp(0.2 * std::min(patch.length, patch.width), 2.5, 6.0);
}

/// Arrow, id and, where wanted, words one under the other about the middle of the patch; false where the
/// outline does not hold them.
bool write_inside(Cell& cell, double id_height, bool with_words) {
  const MockUpPatch& patch = cell.flat.patch;
  const double arrow = arrow_height(patch);
  const double all = arrow + text_gap + id_height + (with_words ? text_gap + words_height : 0.0);
  const double top = std::max(-0.5 * all, bounds_of(cell.flat.outline).top + tick_length(patch) + 1.0);
  double y = top + arrow + text_gap + id_height;
  std::vector<Text> texts{centred(patch.id, y, id_height, Weight::bold)};
  if (with_words)
    texts.push_back(centred(patch.words, y + text_gap + words_height, words_height, Weight::regular));
  std::vector<Box> taken{{-0.42 * arrow, top, 0.42 * arrow, top + arrow}};
  for (const Text& text : texts) taken.push_back(bounds(text_box(text)));
  for (const Box& box : taken) {
    if (!holds(cell.flat.outline, box.grown(text_margin))) return false;
  }
  cell.arrow = arrow_up({0.0, top}, arrow);
  cell.texts = texts;
  cell.taken = taken;
  return true;
}

/// The same with the id read from the right, for what is long and narrow.
bool write_upward(Cell& cell, double id_height) {
  const MockUpPatch& patch = cell.flat.patch;
  const double arrow = arrow_height(patch);
  const double width = text_extent(patch.id, id_height, Weight::bold).width;
  const double top = -0.5 * (arrow + text_gap + width);
  Text text = centred(patch.id, top + arrow + text_gap + 0.5 * width, id_height, Weight::bold);
  text.rotation = Angle::from_degrees(-90.0);
  text.at.x = -bounds(text_box(text)).middle().x;
  const std::vector<Box> taken{{-0.42 * arrow, top, 0.42 * arrow, top + arrow}, bounds(text_box(text))};
  for (const Box& box : taken) {
    if (!holds(cell.flat.outline, box.grown(tick_length(patch) + 0.4))) return false;
  }
  cell.arrow = arrow_up({0.0, top}, arrow);
  cell.texts = {text};
  cell.taken = taken;
  return true;
}

/// The words under the patch, the arrow alone on it.
void write_below(Cell& cell) {
  const double arrow = arrow_height(cell.flat.patch);
  cell.arrow = arrow_up({0.0, -0.5 * arrow}, arrow);
  cell.taken = {{-0.42 * arrow, -0.5 * arrow, 0.42 * arrow, 0.5 * arrow}};
  const double baseline = bounds_of(cell.flat.outline).bottom + text_gap + 5.0;
  cell.texts = {centred(cell.flat.patch.id, baseline, 5.0, Weight::bold)};
}

Cell cell_of(FlatPatch flat) {
  Cell cell;
  cell.flat = std::move(flat);
  const bool part = cell.flat.patch.words != "touch";
  bool done = false;
  for (const bool with_words : {true, false}) {
    if (with_words && !part) continue;
    for (const double height : id_heights) done = done || write_inside(cell, height, with_words);
  }
  for (const double height : {7.0, 5.0}) done = done || write_upward(cell, height);
  if (!done) write_below(cell);
  cell.box = bounds_of(cell.flat.outline).grown(0.5 * thick_line);
  for (const Text& text : cell.texts) cell.box = cell.box.joined(bounds(text_box(text)));
  return cell;
}

/// Where the line x = 0 (or y = 0) crosses the outline, farthest from the middle on each side.
Box crossings(const Polyline& outline) {
  Box found;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i];
    const Vec2 b = outline[(i + 1) % outline.size()];
    if ((a.x > 0.0) != (b.x > 0.0)) {
      const double y = a.y + (b.y - a.y) * a.x / (a.x - b.x);
      found.top = std::min(found.top, y);
      found.bottom = std::max(found.bottom, y);
    }
    if ((a.y > 0.0) != (b.y > 0.0)) {
      const double x = a.x + (b.x - a.x) * a.y / (a.y - b.y);
      found.left = std::min(found.left, x);
      found.right = std::max(found.right, x);
    }
  }
  return found;
}

std::vector<Item> slider_items(const Cell& cell, const Box& ends) {
  std::vector<Polyline> gaps;
  for (const Box& box : cell.taken) {
    const Box wide = box.grown(0.8);
    gaps.push_back(
        {{wide.left, wide.top}, {wide.right, wide.top}, {wide.right, wide.bottom}, {wide.left, wide.bottom}});
  }
  const double half = 0.5 * cell.flat.patch.travel;
  const double tick = tick_length(cell.flat.patch);
  std::vector<Item> items;
  for (const Polyline& piece :
       outside_of({{0.0, ends.top + tick + 0.6}, {0.0, ends.bottom - tick - 0.6}}, gaps)) {
    items.push_back(stroked(open_path(piece), LineType::long_dashed_dotted_thin));
  }
  const double wide = std::min(3.0, 0.3 * cell.flat.patch.width);
  for (const double y : {-half, half}) {
    items.push_back(line_between({-wide, y}, {wide, y}, LineType::continuous_thick));
  }
  return items;
}

void draw_cell(const Cell& cell, Vec2 middle, Page& page) {
  const auto put = [&](const char* group, Item item) {
    page.group(group).items.push_back(moved(std::move(item), middle));
  };
  const Polyline& outline = cell.flat.outline;
  put("patches", stroked(closed_path(outline), LineType::continuous_thick));
  const Box ends = crossings(outline);
  const auto thin = LineType::continuous_thin;
  const double tick = tick_length(cell.flat.patch);
  put("middles", line_between({0.0, ends.top}, {0.0, ends.top + tick}, thin));
  put("middles", line_between({0.0, ends.bottom}, {0.0, ends.bottom - tick}, thin));
  put("middles", line_between({ends.left, 0.0}, {ends.left + tick, 0.0}, thin));
  put("middles", line_between({ends.right, 0.0}, {ends.right - tick, 0.0}, thin));
  if (cell.flat.patch.travel > 0.0) {
    for (const Item& item : slider_items(cell, ends)) put("sliders", item);
  }
  put("arrows", Shape{cell.arrow, {}, Ink::black, Ink::black});
  for (const Text& text : cell.texts) put("names", text);
}

/// Where one cell's upper left corner stands.
struct Spot {
  int page = 0;
  Vec2 corner;
};

/// Shelves: the highest first, each on the first shelf that has room for it.
std::vector<Spot> shelved(const std::vector<Cell>& cells, const Box& window) {
  struct Shelf {
    int page;
    double top, height, used;
  };
  std::vector<std::size_t> order(cells.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  // Patches of one size keep the instrument's order, though the skin makes them differ by hundredths.
  const auto rank = [&](std::size_t i) { return std::lround(cells[i].box.height()); };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return rank(a) > rank(b); });
  std::vector<Shelf> shelves;
  std::vector<Spot> spots(cells.size());
  for (const std::size_t i : order) {
    const Box& box = cells[i].box;
    auto shelf = std::find_if(shelves.begin(), shelves.end(), [&](const Shelf& s) {
      return s.height >= box.height() && s.used + box.width() <= window.width();
    });
    if (shelf == shelves.end()) {
      const double height = box.height() + shelf_slack;
      Shelf next{0, window.top, height, 0.0};
      if (!shelves.empty()) {
        const Shelf& last = shelves.back();
        next = {last.page, last.top + last.height + knife_gap, height, 0.0};
        if (next.top + next.height > window.bottom) next = {last.page + 1, window.top, height, 0.0};
      }
      shelf = shelves.insert(shelves.end(), next);
    }
    spots[i] = {shelf->page, {window.left + shelf->used, shelf->top}};
    shelf->used += box.width() + knife_gap;
  }
  return spots;
}

Block use_block(double thickness) {
  BlockWriter writer("how-to-use", "How to use the patches");
  writer.heading("Cut and stick")
      .words(
          "Stick the sheet on foam " + decimals(thickness, 1) +
          " mm thick and cut through both along the thick edge. Peel the paper off: it would keep the foam "
          "from bending.")
      .words(
          "Stick each patch where the template has its outline, arrow to the mouth end, ticks on the "
          "middle lines of the outline.");
  return writer.done();
}

Block truth_block(const std::vector<Cell>& cells, double thickness) {
  const auto by_spread = [](const Cell& a, const Cell& b) { return a.flat.spread < b.flat.spread; };
  const Cell& widest = *std::max_element(cells.begin(), cells.end(), by_spread);
  double error = 0.0;
  bool ridge = false;
  for (const Cell& cell : cells) {
    error = std::max(error, cell.flat.error);
    ridge = ridge || cell.flat.on_ridge;
  }
  BlockWriter writer("error", "How true the patches are");
  writer.heading("Which face is true")
      .words("The face that sticks to the skin is true to size, to " + error_words(error) +
             ". Bent around the piece the upper face of " + decimals(thickness, 1) +
             " mm foam spreads around, most on " + widest.flat.patch.id + ": by " +
             decimals(widest.flat.spread, 1) + " mm.");
  if (ridge) writer.words("A patch that lies over a node's ridge: press it down on both sides.");
  return writer.done();
}

void check_size(const std::vector<Cell>& cells, const SheetPlan& plan, const Paper& paper) {
  for (const Cell& cell : cells) {
    if (cell.box.width() <= plan.window.width() && cell.box.height() + shelf_slack <= plan.window.height())
      continue;
    throw InputError({{"paper-too-small",
                       {"", 0, 0, "/paper/size"},
                       "the mock-up patch of " + cell.flat.patch.id + ", " + decimals(cell.box.height(), 0) +
                           " × " + decimals(cell.box.width(), 0) + " mm, on " + paper_name(paper.size),
                       "at most " + decimals(plan.window.height() - shelf_slack, 0) + " × " +
                           decimals(plan.window.width(), 0) + " mm",
                       "Choose a larger paper"}});
  }
}

std::set<Sign> signs_of(const std::vector<Cell>& cells) {
  std::set<Sign> signs{Sign::outline, Sign::toward_mouth, Sign::middle};
  for (const Cell& cell : cells) {
    if (cell.flat.patch.travel > 0.0) signs.insert(Sign::slider);
  }
  return signs;
}

Page empty_page(const Tube& tube, const Instrument& instrument, const SheetPlan& plan, int number,
                int count) {
  Page page;
  page.width = plan.size.width;
  page.height = plan.size.height;
  page.title = "Mock-up patches: piece " + tube.id() + ", instrument " + instrument.id + ", revision " +
               std::to_string(instrument.revision) + ", " + sign_words(instrument.sign) + ", sheet " +
               std::to_string(number) + " of " + std::to_string(count);
  page.description =
      "Outlines of touches, sliders and thumb rests laid flat at scale 1:1, seen from outside "
      "with the mouth end up.";
  page.group("patches", "Outlines of the patches");
  page.group("middles", "Middles of their edges");
  page.group("sliders", "Axes and travel of sliders");
  page.group("arrows", "Arrows toward the mouth end");
  page.group("names", "Names");
  return page;
}

void place_words(const std::vector<Block>& blocks, const SheetPlan& plan, Page& page) {
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    Group& group = page.group(blocks[i].id, blocks[i].title);
    for (const Item& item : blocks[i].items)
      group.items.push_back(moved(item, {plan.blocks[i].left, plan.blocks[i].top}));
  }
  Group& bars = page.group("scale-bars", "Two bars of 100 mm at right angles");
  bars.items = scale_bars({plan.window.left - bar_room + 4.5, plan.window.bottom + bar_room - 4.5});
}

TitleBlock title_of(const Tube& tube, const Instrument& instrument, const SheetPlan& plan, int sheets) {
  TitleBlock title;
  title.piece = tube.id();
  title.instrument = instrument.id;
  title.revision = std::to_string(instrument.revision);
  title.state = sign_heading(instrument.sign);
  title.detail = sign_detail(instrument.sign);
  title.kind = "mock-up patches";
  title.scale = "1:1";
  title.paper = std::string(paper_name(plan.paper)) +
                (plan.orientation == Orientation::portrait ? " upright" : " across");
  title.sheets = sheets;
  return title;
}

}  // namespace

FlatPatch flat_patch(const Tube& tube, const MockUpPatch& patch, End mouth_end, double thickness) {
  const double low = tube.end_a_at() - tube.shape().beyond;
  const double high = tube.end_b_at() + tube.shape().beyond;
  const double half = 0.5 * patch.length + beyond_patch;
  const double at = patch.place.at;
  const Development net = Development::fit(tube, std::max(low, at - half), std::min(high, at + half), 0.0);
  const SkinCurve curve = patch_curve(tube, patch.place, patch.length, patch.width, patch.corner_radius);
  const Angle theta = tube.section(at).theta_at(patch.place.around);
  const Vec2 middle = net.unroll(Development::Ray{theta, at});
  // Down the page is away from the mouth end.
  const double foot = mouth_end == End::a ? 1.0 : -1.0;
  const Vec2 down = unit((net.unroll(Development::Ray{theta, at + 1.0}) - middle) * foot);
  const Vec2 right{down.y, -down.x};
  FlatPatch flat;
  flat.patch = patch;
  flat.error = net.stated_error();
  double first = curve.points.front().x;
  double last = first;
  for (const Vec2& p : curve.points) {
    const Vec2 q = net.unroll(Development::Ray{Angle::from_radians(p.x), p.y}) - middle;
    flat.outline.push_back({dot(q, right), dot(q, down)});
    first = std::min(first, p.x);
    last = std::max(last, p.x);
  }
  flat.spread = thickness * (last - first);
  for (const Node& node : tube.nodes()) {
    const double reach = 0.5 * (node.band + patch.length + std::abs(node.at_line - node.at_far));
    flat.on_ridge = flat.on_ridge || (node.ridge_height > 0.0 && std::abs(node.at() - at) < reach);
  }
  return flat;
}

Drawing patch_sheets(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  std::vector<Cell> cells;
  for (const MockUpPatch& patch : mock_up_patches(instrument)) {
    cells.push_back(cell_of(flat_patch(tube, patch, instrument.mouth_end, shop.foam_thickness)));
  }
  if (cells.empty()) return {};
  std::vector<Block> blocks{scale_check_block(), use_block(shop.foam_thickness),
                            truth_block(cells, shop.foam_thickness), legend_block(signs_of(cells)),
                            title_block({"", "x", "", "", "", "", "", 1, 1})};
  std::vector<double> heights;
  for (const Block& block : blocks) heights.push_back(block.height);
  const SheetPlan plan = plan_sheets({0.0, 0.0, 1.0, 1.0}, heights, shop.paper, {});
  check_size(cells, plan, shop.paper);
  const std::vector<Spot> spots = shelved(cells, plan.window);
  int pages = 1;
  for (const Spot& spot : spots) pages = std::max(pages, spot.page + 1);
  Drawing drawing;
  TitleBlock title = title_of(tube, instrument, plan, pages);
  for (int i = 0; i < pages; ++i) {
    Page page = empty_page(tube, instrument, plan, i + 1, pages);
    for (std::size_t k = 0; k < cells.size(); ++k) {
      if (spots[k].page != i) continue;
      draw_cell(cells[k], spots[k].corner - Vec2{cells[k].box.left, cells[k].box.top}, page);
    }
    title.sheet = i + 1;
    blocks.back() = title_block(title);
    place_words(blocks, plan, page);
    drawing.pages.push_back(std::move(page));
  }
  return drawing;
}

}  // namespace culmwright
