/// The names on a sheet: every text on the net finds a place of its own.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "paper/words.hpp"
#include "paper/wrap_sheet.hpp"

namespace culmwright {

namespace {

constexpr double hole_name = 5.0;  ///< readable at arm's length

}  // namespace

void WrapSheet::put(const PlacedLabel& label) {
  Group& group = page_.group("names", "Names");
  for (const Text& text : label.texts) group.items.push_back(text);
  if (label.leader) {
    group.items.push_back(line_between(label.leader->from, label.leader->to, LineType::continuous_thin));
  }
  placed_.push_back(label);
  if (lines_drawn_) return;
  const Box box = bounds(label.box).grown(1.0);
  on_lines_.push_back(
      {{{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}}});
}

bool WrapSheet::one_line() const {
  return std::abs(content_.instrument.facing.normalized().degrees()) < 0.05;
}

bool WrapSheet::put_centred(const LabelWish& wish, const std::vector<Vec2>& candidates) {
  const std::optional<PlacedLabel> label = placer_.place_centred(wish, candidates);
  if (label) put(*label);
  return label.has_value();
}

bool WrapSheet::put_with_leader(const LabelWish& wish) {
  const std::optional<PlacedLabel> label = placer_.place(wish);
  if (label) put(*label);
  return label.has_value();
}

void WrapSheet::put_somewhere(const std::vector<LabelWish>& variants, const std::vector<Vec2>& candidates,
                              const std::string& what) {
  for (const LabelWish& wish : variants) {
    if (put_centred(wish, candidates)) return;
  }
  let_outside(true);
  bool done = false;
  for (const LabelWish& wish : variants) {
    done = done || put_centred(wish, grid(content_.plan.window, candidates.front()));
  }
  let_outside(false);
  if (!done) throw GeometryError("wrap template", "names", what + " finds no free place on the sheet");
}

std::vector<Vec2> WrapSheet::grid(Box area, Vec2 nearest_to) const {
  struct Point {
    double away;
    Vec2 place;
  };
  std::vector<Point> points;
  for (double y = area.top; y <= area.bottom; y += 1.0) {
    for (double x = area.left; x <= area.right; x += 1.0) {
      const Vec2 step = Vec2{x, y} - nearest_to;
      points.push_back({dot(step, step), {x, y}});
    }
  }
  std::stable_sort(points.begin(), points.end(),
                   [](const Point& a, const Point& b) { return a.away < b.away; });
  std::vector<Vec2> places;
  places.reserve(points.size());
  for (const Point& point : points) places.push_back(point.place);
  return places;
}

const Feature* WrapSheet::touch_around(const Feature& hole) const {
  for (const Feature& feature : content_.features) {
    if (feature.kind != Feature::Kind::touch || feature.middle.y != hole.middle.y) continue;
    if (std::abs(std::remainder(feature.middle.x - hole.middle.x, 2.0 * pi)) < 1e-9) return &feature;
  }
  return nullptr;
}

std::vector<Segment> WrapSheet::outlines_but(Vec2 middle) const {
  std::vector<Segment> found;
  for (const Feature& feature : content_.features) {
    if (length(feature.middle - middle) < 1e-9) continue;
    for (const Polyline& line : content_.flat_of(feature)) {
      for (std::size_t i = 0; i + 1 < line.size(); ++i)
        found.push_back({on_page(line[i]), on_page(line[i + 1])});
    }
  }
  return found;
}

void WrapSheet::name_joints() {
  for (const JointMark& mark : content_.marks) {
    const Vec2 p = on_page(mark.place);
    if (!core_.contains(p, 1e-6)) continue;
    put_somewhere({label_wish({{mark.letter, 3.5, Weight::bold}})},
                  grid({p.x - 9.0, p.y - 9.0, p.x + 9.0, p.y + 9.0}, p), "joint mark " + mark.letter);
  }
}

/// They keep off the upright lines, though these are drawn later, broken under the words that may stand on
/// them.
void WrapSheet::name_holes_first() {
  const LabelPlacer before = placer_;
  for (const SkinCurve& upright : upright_lines()) {
    for (Polyline line : content_.net.flat(upright)) {
      for (Vec2& p : line) p = on_page(p);
      placer_.keep_off(line);
    }
  }
  placed_.clear();
  name_holes();
  placer_ = before;
  for (const PlacedLabel& label : placed_) {
    placer_.keep_off(label.box);
    if (label.leader) placer_.keep_off(Polyline{label.leader->from, label.leader->to});
  }
}

void WrapSheet::name_holes() {
  for (const Feature& feature : content_.features) {
    if (feature.kind != Feature::Kind::hole || !here(feature.middle)) continue;
    const Net& net = content_.net;
    const Feature* touch = touch_around(feature);
    LabelWish wish;
    wish.anchor_point = on_page(net.flat(Vec2{net.on_net(feature.middle.x), feature.middle.y}));
    wish.clear = feature.reach;
    wish.leader_avoids = outlines_but(touch != nullptr ? touch->middle : feature.middle);
    wish.leader_from = (touch != nullptr ? std::max(0.0, touch->reach - feature.reach) : 0.0) + 5.0;
    // Where it is crowded nearness is given up first, the height of the letters last, the bits never.
    bool done = false;
    const auto try_heights = [&](std::initializer_list<double> heights) {
      for (double height : heights) {
        wish.lines = {{feature.name, height, Weight::bold}};
        for (const std::string& detail : feature.details)
          wish.lines.push_back({detail, 2.5, Weight::regular});
        done = done || put_with_leader(wish);
      }
    };
    try_heights({hole_name});
    wish.farthest = 120.0;
    try_heights({hole_name});
    if (!done) wish.leader_avoids.clear();
    try_heights({hole_name, 3.5, 2.5});
    if (!done) {
      let_outside(true);
      wish.farthest = 250.0;
      try_heights({hole_name});
      let_outside(false);
    }
    if (!done) {
      throw GeometryError("wrap template", "names",
                          "hole " + feature.name + " finds no free place for its name");
    }
  }
}

void WrapSheet::name_line(const SkinCurve& line, const std::string& words) {
  // Upright beside the line where there is room, from the middle of the sheet outward; else level, with a
  // leader.
  std::vector<Polyline> covered;
  for (const Feature& feature : content_.features) {
    for (const Polyline& part : content_.inside_of(feature)) covered.push_back(part);
  }
  const auto on_a_feature = [&](Vec2 p) {
    return std::any_of(covered.begin(), covered.end(), [&](const Polyline& part) { return inside(part, p); });
  };
  std::vector<Vec2> on_line;
  for (const Polyline& piece : content_.net.flat(line)) {
    for (Vec2 p : piece) {
      if (core_.contains(on_page(p))) on_line.push_back(on_page(p));
    }
  }
  if (on_line.empty()) return;  // on the sheet beside
  const double middle = core_.middle().y;
  std::stable_sort(on_line.begin(), on_line.end(),
                   [&](Vec2 a, Vec2 b) { return std::abs(a.y - middle) < std::abs(b.y - middle); });
  // A leader rather ends where the line is alone.
  std::stable_partition(on_line.begin(), on_line.end(), [&](Vec2 p) { return !on_a_feature(p - shift_); });
  std::vector<Vec2> beside;
  for (Vec2 p : on_line) {
    for (double side : {-2.7, 2.7}) beside.push_back(p + Vec2{side, 0.0});
  }
  LabelWish wish = label_wish({{words, 2.5, Weight::regular}});
  wish.rotation = upward;
  if (put_centred(wish, beside)) return;
  wish.rotation = Angle();
  wish.leader_from = 0.0;
  for (double farthest : {12.0, 25.0, 60.0, 250.0}) {
    let_outside(farthest > 200.0);
    wish.farthest = farthest;
    for (std::size_t i = 0; i < on_line.size(); i += 5) {
      wish.anchor_point = on_line[i];
      if (!put_with_leader(wish)) continue;
      let_outside(false);
      return;
    }
  }
  let_outside(false);
  const Vec2 head =
      *std::min_element(on_line.begin(), on_line.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
  LabelWish turned = label_wish({{words, 2.5, Weight::regular}});
  turned.rotation = upward;
  put_somewhere({label_wish({{words + " \u25BC", 2.5, Weight::regular}}), turned}, {head},
                "the name of the " + words);
}

/// How far the ends of the piece are from the wrap's own edges.
void WrapSheet::name_edges() {
  const Development& net = content_.net.development();
  for (const bool top : {true, false}) {
    if (top ? row_ > 0 : row_ + 1 < content_.plan.down()) continue;
    const double at = top ? net.at_from() : net.at_to();
    const double end = top ? tube_.end_a_at() : tube_.end_b_at();
    const Instrument& instrument = content_.instrument;
    std::string words = top ? "upper edge" : "lower edge";
    if (std::abs(at - instrument.mouth_cut_at) < 0.05) words += " = mouth cut";
    if (std::abs(at - instrument.foot_cut_at) < 0.05) words += " = foot cut";
    const std::string name = top ? "end A" : "end B";
    words +=
        std::abs(at - end) < 0.05 ? " = " + name : ", " + decimals(std::abs(at - end), 1) + " from " + name;
    const double x = on_page(content_.net.flat(Vec2{net.line(at).radians(), at})).x;
    const Box area = top ? Box{core_.left, core_.top, core_.right, core_.middle().y}
                         : Box{core_.left, core_.middle().y, core_.right, core_.bottom};
    LabelWish turned = label_wish({{words, 2.5, Weight::regular}});
    turned.rotation = upward;
    put_somewhere({label_wish(turned.lines), turned}, grid(area, {x, top ? core_.top : core_.bottom}),
                  "an edge's place");
  }
}

void WrapSheet::name_cuts() {
  const Development& net = content_.net.development();
  const Instrument& instrument = content_.instrument;
  for (const auto& [cut, words] :
       {std::pair{instrument.mouth_cut_at, "mouth cut"}, {instrument.foot_cut_at, "foot cut"}}) {
    const Vec2 place{net.line(std::clamp(cut, net.at_from(), net.at_to())).radians(), cut};
    if (!here(place) || cut <= net.at_from() + 0.05 || cut >= net.at_to() - 0.05) continue;
    const Vec2 p = on_page(content_.net.flat(place));
    put_somewhere({label_wish({{words, 2.5, Weight::regular}})},
                  grid({core_.left, p.y - 15.0, core_.right, p.y + 15.0}, p), words);
  }
}

void WrapSheet::name_tab() {
  const Polyline tab = content_.net.tab_outline();
  const Vec2 middle = on_page((tab[0] + tab[1] + tab[2] + tab[3]) * 0.25);
  const Vec2 edge = tab[3] - tab[0];
  Text text{
      middle,          "glue tab", 2.5, Anchor::middle, Angle::from_radians(std::atan2(-edge.y, -edge.x)),
      Weight::regular, Ink::black};
  // The baseline lies below the middle of the letters: to the right, where the text reads upward.
  text.at.x += 1.25;
  if (!core_.contains(bounds(text_box(text)))) return;
  page_.group("names").items.push_back(text);
  placer_.keep_off(text);
}

void WrapSheet::name_piece() {
  const Instrument& instrument = content_.instrument;
  std::string revision = instrument.id + ", revision " + std::to_string(instrument.revision);
  if (content_.plan.sheets() > 1) {
    revision += ", sheet " + std::to_string(row_ * content_.plan.across() + column_ + 1);
  }
  const std::string state = sign_heading(instrument.sign);
  const std::string detail = shortened(sign_detail(instrument.sign), 60.0);
  const auto with_detail = [&](std::vector<LabelLine> lines) {
    if (!detail.empty()) lines.push_back({detail, 2.5, Weight::regular});
    return label_wish(std::move(lines));
  };
  std::vector<LabelWish> variants;
  for (const auto& [name, mark] : {std::pair{5.0, 10.0}, {5.0, 7.0}, {5.0, 5.0}, {3.5, 5.0}, {3.5, 3.5}}) {
    variants.push_back(with_detail(
        {{tube_.id(), name, Weight::bold}, {revision, 2.5, Weight::regular}, {state, mark, Weight::bold}}));
  }
  variants.insert(variants.end(),
                  {label_wish({{tube_.id(), 2.5, Weight::bold},
                               {instrument.id, 2.5, Weight::regular},
                               {"revision " + std::to_string(instrument.revision), 2.5, Weight::regular},
                               {state, 2.5, Weight::bold}}),
                   label_wish({{tube_.id() + ", " + revision + ", " + state, 2.5, Weight::bold}})});
  variants.push_back(variants.back());
  variants.back().rotation = upward;
  put_somewhere(variants, grid(core_, {core_.middle().x, core_.bottom - 0.2 * core_.height()}),
                "the piece's name");
}

void WrapSheet::name_rest() {
  const Net& net = content_.net;
  for (const Feature& feature : content_.features) {
    if (feature.kind == Feature::Kind::hole || feature.name.empty() || !here(feature.middle)) continue;
    LabelWish wish = label_wish({{feature.name, 2.5, Weight::bold}});
    for (const std::string& detail : feature.details) wish.lines.push_back({detail, 2.5, Weight::regular});
    wish.anchor_point = on_page(net.flat(Vec2{net.on_net(feature.middle.x), feature.middle.y}));
    // Inside the outline where there is room, else beside it.
    const Box inner =
        Box{wish.anchor_point.x, wish.anchor_point.y, wish.anchor_point.x, wish.anchor_point.y}.grown(
            0.7 * feature.reach);
    if (feature.kind != Feature::Kind::blemish) {
      LabelWish turned = wish;
      turned.rotation = upward;
      if (put_centred(wish, grid(inner, wish.anchor_point))) continue;
      if (put_centred(turned, grid(inner, wish.anchor_point))) continue;
    }
    wish.farthest = feature.reach + 40.0;
    wish.leader_from = feature.reach + 2.0;
    bool done = put_with_leader(wish);
    while (!done && wish.lines.size() > 1) {
      wish.lines.pop_back();
      done = put_with_leader(wish);
    }
    if (!done) {
      let_outside(true);
      wish.farthest = 250.0;
      done = put_with_leader(wish);
      let_outside(false);
    }
    if (!done)
      throw GeometryError("wrap template", "names", feature.name + " finds no free place for its name");
  }
  name_cuts();
  const std::vector<SkinCurve> upright = upright_lines();
  name_line(upright[0], upright.size() == 1 ? "reference line, key line" : "reference line");
  if (upright.size() == 2) name_line(upright[1], "key line");
}

}  // namespace culmwright
