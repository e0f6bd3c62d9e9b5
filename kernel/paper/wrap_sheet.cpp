/// The lines of a sheet; its names are in wrap_sheet_names.cpp.
#include "paper/wrap_sheet.hpp"

#include <algorithm>
#include <cmath>

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
                                                      {"blemishes", "Blemishes"},
                                                      {"lines", "Reference line and key line"},
                                                      {"cuts", "Saw cuts and ends of the piece"},
                                                      {"touches", "Touches"},
                                                      {"parts", "Parts and openings"},
                                                      {"holes", "Rims of the holes"},
                                                      {"centres", "Middles of the holes"},
                                                      {"datum", "Datum mark"},
                                                      {"joints", "Joints of sheets"},
                                                      {"names", "Names"}};

/// Half the length of a centre mark's arms.
double centre_arm(double reach) {
  return std::min(3.0, 0.6 * reach);
}

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

Page WrapSheet::draw() {
  const SheetPlan& plan = content_.plan;
  const Instrument& instrument = content_.instrument;
  const std::string sheet =
      std::to_string(row_ * plan.across() + column_ + 1) + " of " + std::to_string(plan.sheets());
  page_.title = "Wrap template: piece " + tube_.id() + ", instrument " + instrument.id + ", revision " +
                std::to_string(instrument.revision) + ", " + sign_words(instrument.sign) + ", sheet " + sheet;
  const Development& net = content_.net.development();
  page_.description = "The skin from " + decimals(net.at_from(), 1) + " to " + decimals(net.at_to(), 1) +
                      " mm along the piece, laid flat at scale 1:1, seen from outside with end A up.";
  for (const auto& [id, words] : layers) page_.group(id, words);
  draw_edges();
  draw_nodes();
  draw_blemishes();
  draw_cuts_and_ends();
  draw_features();
  draw_datum();
  draw_joints();
  // The words at the head may stand on the two lines, which are broken there; all others keep off them.
  name_tab();
  name_joints();
  name_ends();
  name_sides();
  draw_lines();
  name_holes();
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
  for (const Polyline& line : content_.net.flat(feature.outline)) {
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

void WrapSheet::draw_nodes() {
  const Box window = content_.net.window();
  const Angle from = Angle::from_radians(window.left);
  const Angle to = Angle::from_radians(window.right);
  for (const Node& node : tube_.nodes()) {
    SkinCurve region = ridge_curve(node, -0.5 * node.band, from, to);
    SkinCurve lower = ridge_curve(node, 0.5 * node.band, from, to);
    lines("nodes", content_.net.flat(region), LineType::continuous_thin);
    lines("nodes", content_.net.flat(lower), LineType::continuous_thin);
    region.points.insert(region.points.end(), lower.points.rbegin(), lower.points.rend());
    region.closed = true;
    const std::size_t before = page_.group("nodes").items.size();
    hatching("nodes", content_.net.flat_inside(region), 45.0, 2.0);
    if (page_.group("nodes").items.size() > before) signs_.insert(Sign::node);
  }
}

void WrapSheet::draw_blemishes() {
  for (const Feature& feature : content_.features) {
    if (feature.kind != Feature::Kind::blemish || !drawn_here(feature)) continue;
    lines("blemishes", content_.net.flat(feature.outline), LineType::dashed_thin);
    signs_.insert(Sign::blemish);
    if (feature.use != BlemishUse::avoid) continue;
    hatching("blemishes", content_.net.flat_inside(feature.outline), -45.0, 2.0);
    signs_.insert(Sign::keep_off);
  }
}

void WrapSheet::draw_lines() {
  lines_drawn_ = true;
  const Development& net = content_.net.development();
  // Broken inside rims, where the hole's own middle is marked, and under the names that stand on them.
  std::vector<Polyline> gaps;
  for (const Feature& feature : content_.features) {
    if (feature.kind != Feature::Kind::hole) continue;
    for (const Polyline& rim : content_.net.flat_inside(feature.outline)) gaps.push_back(rim);
  }
  for (const Quad& name : on_lines_) {
    Polyline gap;
    for (Vec2 corner : name) gap.push_back(corner - shift_);
    gaps.push_back(gap);
  }
  const auto draw_at = [&](Angle facing, Sign sign) {
    for (const Polyline& line :
         content_.net.flat(half_plane_curve(tube_, net.at_from(), net.at_to(), facing))) {
      if (lines("lines", outside_of(line, gaps), LineType::long_dashed_dotted_thin)) signs_.insert(sign);
    }
  };
  draw_at(Angle(), Sign::reference_line);
  if (!one_line()) draw_at(content_.instrument.facing, Sign::key_line);
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

void WrapSheet::draw_features() {
  for (const Feature& feature : content_.features) {
    if (feature.kind == Feature::Kind::blemish || !drawn_here(feature)) continue;
    const std::vector<Polyline> flat = content_.net.flat(feature.outline);
    switch (feature.kind) {
      case Feature::Kind::touch:
        lines("touches", flat, LineType::continuous_thin);
        signs_.insert(Sign::touch);
        break;
      case Feature::Kind::opening:
        lines("parts", flat, LineType::continuous_thick);
        signs_.insert(Sign::opening);
        break;
      case Feature::Kind::footprint:
        lines("parts", flat, LineType::long_dashed_double_dotted_thin);
        signs_.insert(Sign::footprint);
        if (feature.axis) draw_slider(feature);
        break;
      case Feature::Kind::hole: {
        lines("holes", flat, LineType::continuous_thick);
        signs_.insert(Sign::rim);
        const double arm = centre_arm(feature.reach);
        const Net& net = content_.net;
        // A middle on the seam is marked at both edges.
        for (const double turns : {-1.0, 0.0, 1.0}) {
          const Vec2 middle{net.on_net(feature.middle.x) + 2.0 * pi * turns, feature.middle.y};
          const Vec2 p = net.flat(middle);
          if (turns != 0.0 && !net.window().contains(middle, 1e-9)) continue;
          if (middle.y < net.window().top || middle.y > net.window().bottom) continue;
          lines("centres", {{p - Vec2{arm, 0}, p + Vec2{arm, 0}}, {p - Vec2{0, arm}, p + Vec2{0, arm}}},
                LineType::continuous_thin);
        }
        break;
      }
      case Feature::Kind::blemish:
        break;
    }
  }
}

void WrapSheet::draw_slider(const Feature& feature) {
  const double half = 0.5 * feature.travel;
  const double theta = feature.middle.x;
  const double at = feature.middle.y;
  const SkinCurve axis{{{theta, at - half - 4.0}, {theta, at + half + 4.0}}, false};
  lines("parts", content_.net.flat(axis), LineType::long_dashed_dotted_thin);
  const double wide = 3.0 * 2.0 * pi / content_.net.development().girth(at);
  for (double end : {at - half, at + half}) {
    lines("parts", content_.net.flat(SkinCurve{{{theta - wide, end}, {theta + wide, end}}, false}),
          LineType::continuous_thick);
  }
  signs_.insert(Sign::slider);
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
          LineType::long_dashed_double_dotted_thin);
  }
  for (std::size_t i = 1; i + 1 < plan.x_joints.size(); ++i) {
    lines("joints", {{{plan.x_joints[i], all.top}, {plan.x_joints[i], all.bottom}}},
          LineType::long_dashed_double_dotted_thin);
  }
  for (const JointMark& mark : content_.marks) {
    constexpr double arm = 4.0;
    lines("joints",
          {{mark.place - Vec2{arm, 0}, mark.place + Vec2{arm, 0}},
           {mark.place - Vec2{0, arm}, mark.place + Vec2{0, arm}}},
          LineType::continuous_thin);
  }
  if (plan.sheets() > 1) signs_.insert(Sign::joint);
}

void WrapSheet::place_words() {
  const SheetPlan& plan = content_.plan;
  const Instrument& instrument = content_.instrument;
  std::vector<Block> blocks = content_.words;
  blocks.push_back(legend_block(signs_));
  TitleBlock title;
  title.piece = tube_.id();
  title.instrument = instrument.id;
  title.revision = std::to_string(instrument.revision);
  title.state = sign_heading(instrument.sign);
  title.kind = "wrap template of " + decimals(content_.net.development().at_from(), 1) + " to " +
               decimals(content_.net.development().at_to(), 1);
  title.scale = "1:1";
  title.paper = content_.paper;
  title.sheet = row_ * plan.across() + column_ + 1;
  title.sheets = plan.sheets();
  blocks.push_back(title_block(title));
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    Group& group = page_.group(blocks[i].id, blocks[i].title);
    const Vec2 origin{plan.blocks[i].left, plan.blocks[i].top};
    for (const Item& item : blocks[i].items) group.items.push_back(moved(item, origin));
  }
}

}  // namespace culmwright
