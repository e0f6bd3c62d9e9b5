/// The frame of a sheet. What the skin carries is drawn in wrap_sheet_features.cpp, names are put in
/// wrap_sheet_names.cpp.
#include "paper/wrap_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "paper/sheet_map.hpp"
#include "paper/words.hpp"

namespace culmwright {

namespace {

Box moved_box(const Box& box, Vec2 by) {
  return {box.left + by.x, box.top + by.y, box.right + by.x, box.bottom + by.y};
}

Box common(const Box& a, const Box& b) {
  return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right),
          std::min(a.bottom, b.bottom)};
}

/// The layers of a sheet, from the bottom up.
const std::pair<const char*, const char*> layers[] = {{"outline", "Edge of the wrap and glue tab"},
                                                      {"nodes", "Nodes"},
                                                      {"limits", "Limits for the edges of holes"},
                                                      {"relief", "Slits over ridges"},
                                                      {"blemishes", "Blemishes"},
                                                      {"lines", "Reference line and key line"},
                                                      {"cuts", "Saw cuts and ends of the piece"},
                                                      {"touches", "Touches"},
                                                      {"parts", "Parts and openings"},
                                                      {"holes", "Rims of the holes"},
                                                      {"pilots", "Rims of the pilot holes"},
                                                      {"centres", "Middles of the holes"},
                                                      {"hands", "Where the hands lie"},
                                                      {"datum", "Datum mark"},
                                                      {"joints", "Joints of sheets"},
                                                      {"names", "Names"}};

}  // namespace

WrapSheet::WrapSheet(const WrapContent& content, int column, int row)
    : content_(content),
      tube_(content.net.development().tube()),
      column_(column),
      row_(row),
      shift_(content.plan.window.middle() - content.plan.shown(column, row).middle()),
      shown_(moved_box(content.plan.shown(column, row), shift_)),
      core_(moved_box(content.plan.core(column, row), shift_)),
      placer_(core_, 1.1) {
  page_.width = content.plan.size.width;
  page_.height = content.plan.size.height;
  outline_ = content.net.outline();
  for (Vec2& p : outline_) p = on_page(p);
  let_outside(false);
}

void WrapSheet::let_outside(bool outside) {
  const Box& window = content_.plan.window;
  placer_.stay_within(outside ? window : common(core_, window), outside ? Polyline{} : outline_);
}

std::string sheet_title(const WrapContent& content, int sheet) {
  const Instrument& instrument = content.instrument;
  return "Wrap template: piece " + content.net.development().tube().id() + ", instrument " + instrument.id +
         ", revision " + std::to_string(instrument.revision) + ", " + sign_words(instrument.sign) +
         ", sheet " + std::to_string(sheet) + " of " + std::to_string(content.sheets);
}

TitleBlock sheet_title_block(const WrapContent& content, int sheet) {
  const Instrument& instrument = content.instrument;
  const Development& net = content.net.development();
  TitleBlock title;
  title.piece = net.tube().id();
  title.instrument = instrument.id;
  title.revision = std::to_string(instrument.revision);
  title.state = sign_heading(instrument.sign);
  title.detail = sign_detail(instrument.sign);
  title.kind = "wrap template of " + decimals(net.at_from(), 1) + " to " + decimals(net.at_to(), 1);
  title.scale = "1:1";
  title.paper = content.paper;
  title.sheet = sheet;
  title.sheets = content.sheets;
  return title;
}

Page WrapSheet::draw() {
  const SheetPlan& plan = content_.plan;
  const Development& net = content_.net.development();
  page_.title = sheet_title(content_, sheet());
  page_.description = "The skin from " + decimals(net.at_from(), 1) + " to " + decimals(net.at_to(), 1) +
                      " mm along the piece, laid flat at scale 1:1, seen from outside with end A up.";
  for (const auto& [id, words] : layers) page_.group(id, words);
  draw_edges();
  draw_nodes();
  draw_limits();
  draw_relief();
  draw_blemishes();
  draw_cuts_and_ends();
  draw_features();
  draw_datum();
  draw_joints();
  draw_hands();
  name_tab();
  name_joints();
  name_holes_first();
  // The words at the head may stand on the two lines, which are broken there; all others keep off them.
  name_ends();
  name_sides();
  draw_lines();
  name_piece();
  name_edges();
  name_rest();
  Group& bars = page_.group("scale-bars", "Two bars of 100 mm at right angles");
  const Box& window = plan.window;
  bars.items = scale_bars({window.left - bar_room + 4.5, window.bottom + bar_room - 4.5});
  place_words();
  return page_;
}

bool WrapSheet::lines(const std::string& group, const std::vector<Polyline>& flat, LineType type) {
  bool any = false;
  for (Polyline line : flat) {
    for (Vec2& p : line) p = on_page(p);
    for (const Polyline& piece : clipped(line, shown_)) {
      if (piece.size() < 2) continue;
      const bool closed = piece.size() > 3 && length(piece.front() - piece.back()) < 1e-9;
      const Polyline open = closed ? Polyline(piece.begin(), piece.end() - 1) : piece;
      page_.group(group).items.push_back(stroked(closed ? closed_path(open) : open_path(open), type));
      placer_.keep_off(piece);
      any = true;
    }
  }
  return any;
}

void WrapSheet::hatching(const std::string& group, const std::vector<Polyline>& regions, double degrees,
                         double spacing) {
  for (Polyline region : regions) {
    for (Vec2& p : region) p = on_page(p);
    const std::vector<Segment> hatch =
        hatched({clipped_polygon(region, shown_)}, Angle::from_degrees(degrees), spacing);
    if (hatch.empty()) continue;
    page_.group(group).items.push_back(hatch_shape(hatch));
    for (const Segment& line : hatch) placer_.keep_off(Polyline{line.from, line.to});
  }
}

bool WrapSheet::here(Vec2 theta_at) const {
  const Box window = content_.net.window();
  if (theta_at.y < window.top || theta_at.y > window.bottom) return false;
  return core_.contains(on_page(content_.net.flat(Vec2{content_.net.on_net(theta_at.x), theta_at.y})));
}

bool WrapSheet::drawn_here(const Feature& feature) const {
  for (const Polyline& line : content_.flat_of(feature)) {
    for (Vec2 p : line) {
      if (shown_.contains(on_page(p))) return true;
    }
  }
  return false;
}

void WrapSheet::draw_edges() {
  const Net& net = content_.net;
  if (lines("outline", {net.outline()}, LineType::continuous_thick)) signs_.insert(Sign::outline);
  // The right edge is the seam: the paper goes on beyond it as the tab.
  if (lines("outline", {net.tab_outline()}, LineType::dashed_thin)) signs_.insert(Sign::tab);
}

void WrapSheet::draw_lines() {
  lines_drawn_ = true;
  // Broken inside rims, where the hole's own middle is marked, and under the names that stand on them.
  std::vector<Polyline> gaps;
  for (const Feature& feature : content_.features) {
    if (feature.kind != Feature::Kind::hole) continue;
    for (const Polyline& rim : content_.inside_of(feature)) gaps.push_back(rim);
  }
  for (const Quad& name : on_lines_) {
    Polyline gap;
    for (Vec2 corner : name) gap.push_back(corner - shift_);
    gaps.push_back(gap);
  }
  Sign sign = Sign::reference_line;
  for (const SkinCurve& upright : upright_lines()) {
    for (const Polyline& line : content_.net.flat(upright)) {
      if (lines("lines", outside_of(line, gaps), LineType::long_dashed_dotted_thin)) signs_.insert(sign);
    }
    sign = Sign::key_line;
  }
}

std::vector<SkinCurve> WrapSheet::upright_lines() const {
  const Development& net = content_.net.development();
  std::vector<SkinCurve> lines{half_plane_curve(tube_, net.at_from(), net.at_to(), Angle())};
  if (!one_line()) {
    lines.push_back(half_plane_curve(tube_, net.at_from(), net.at_to(), content_.instrument.facing));
  }
  return lines;
}

void WrapSheet::draw_cuts_and_ends() {
  const Box window = content_.net.window();
  const Angle from = Angle::from_radians(window.left);
  const Angle to = Angle::from_radians(window.right);
  const auto draw_ring = [&](const SkinCurve& ring, LineType type, Sign sign) {
    if (lines("cuts", content_.net.flat(ring), type)) signs_.insert(sign);
  };
  for (double cut : {content_.instrument.mouth_cut_at, content_.instrument.foot_cut_at}) {
    if (cut <= window.top + 0.05 || cut >= window.bottom - 0.05) continue;
    draw_ring(ring_curve(tube_, cut, from, to), LineType::continuous_thick, Sign::cut);
  }
  const TubeShape& shape = tube_.shape();
  if (shape.tilt_a) {
    draw_ring(ring_curve(tube_, tube_.end_a_at(), from, to, shape.tilt_a, -1.0), LineType::continuous_thin,
              Sign::end);
  }
  if (shape.tilt_b) {
    draw_ring(ring_curve(tube_, tube_.end_b_at(), from, to, shape.tilt_b, 1.0), LineType::continuous_thin,
              Sign::end);
  }
}

void WrapSheet::draw_datum() {
  const Box window = content_.net.window();
  if (window.top > 0.0 || window.bottom < 0.0) return;
  const Vec2 place{tube_.section(0.0).line().radians(), 0.0};
  const Vec2 p = on_page(content_.net.flat(place));
  if (!shown_.grown(-2.0).contains(p)) return;
  Group& group = page_.group("datum");
  group.items.push_back(Shape{Circle{p, 0.6}, {}, Ink::black, Ink::black});
  group.items.push_back(Shape{Circle{p, 2.0}, LineType::continuous_thin, {}, Ink::black});
  placer_.keep_off(Box{p.x - 2.1, p.y - 2.1, p.x + 2.1, p.y + 2.1});
  signs_.insert(Sign::datum);
}

void WrapSheet::draw_joints() {
  const SheetPlan& plan = content_.plan;
  const Box all = content_.net.bounds();
  for (std::size_t i = 1; i + 1 < plan.y_joints.size(); ++i) {
    lines("joints", {{{all.left, plan.y_joints[i]}, {all.right, plan.y_joints[i]}}},
          LineType::continuous_thin);
  }
  for (std::size_t i = 1; i + 1 < plan.x_joints.size(); ++i) {
    lines("joints", {{{plan.x_joints[i], all.top}, {plan.x_joints[i], all.bottom}}},
          LineType::continuous_thin);
  }
  for (const JointMark& mark : content_.marks) {
    constexpr double arm = 4.0;
    constexpr double ring = 2.5;
    lines("joints",
          {{mark.place - Vec2{arm, 0}, mark.place + Vec2{arm, 0}},
           {mark.place - Vec2{0, arm}, mark.place + Vec2{0, arm}}},
          LineType::continuous_thin);
    const Vec2 p = on_page(mark.place);
    if (!shown_.grown(-ring).contains(p)) continue;
    page_.group("joints").items.push_back(Shape{Circle{p, ring}, LineType::continuous_thin, {}, Ink::black});
    placer_.keep_off(Box{p.x - ring, p.y - ring, p.x + ring, p.y + ring});
  }
  if (plan.sheets() > 1) signs_.insert(Sign::joint);
}

void WrapSheet::place_words() {
  const SheetPlan& plan = content_.plan;
  std::vector<Block> blocks = content_.words;
  if (plan.sheets() > 1) blocks.push_back(sheet_map(plan, content_.net.outline(), sheet()));
  blocks.push_back(legend_block(signs_));
  blocks.push_back(title_block(sheet_title_block(content_, sheet())));
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    Group& group = page_.group(blocks[i].id, blocks[i].title);
    const Vec2 origin{plan.blocks[i].left, plan.blocks[i].top};
    for (const Item& item : blocks[i].items) group.items.push_back(moved(item, origin));
  }
}

}  // namespace culmwright
