/// The names on a sheet: every text on the net finds a place of its own.
#include <algorithm>
#include <array>
#include <cmath>

#include "base/problem.hpp"
#include "paper/words.hpp"
#include "paper/wrap_sheet.hpp"

namespace culmwright {

namespace {

constexpr double hole_name = 5.0;  ///< readable at arm's length
constexpr Angle upward = Angle::from_degrees(-90.0);

LabelWish wish_for(std::vector<LabelLine> lines) {
  LabelWish wish;
  wish.lines = std::move(lines);
  return wish;
}

}  // namespace

void WrapSheet::put(const PlacedLabel& label) {
  Group& group = page_.group("names", "Names");
  for (const Text& text : label.texts) group.items.push_back(text);
  if (label.leader) {
    group.items.push_back(line_between(label.leader->from, label.leader->to, LineType::continuous_thin));
  }
}

void WrapSheet::put_on_lines(const PlacedLabel& label) {
  put(label);
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

std::vector<Vec2> WrapSheet::grid(Box area, Vec2 nearest_to) const {
  std::vector<Vec2> points;
  for (double y = area.top; y <= area.bottom; y += 1.0) {
    for (double x = area.left; x <= area.right; x += 1.0) points.push_back({x, y});
  }
  std::stable_sort(points.begin(), points.end(),
                   [&](Vec2 a, Vec2 b) { return length(a - nearest_to) < length(b - nearest_to); });
  return points;
}

const Feature* WrapSheet::touch_around(const Feature& hole) const {
  for (const Feature& feature : content_.features) {
    if (feature.kind != Feature::Kind::touch || feature.middle.y != hole.middle.y) continue;
    if (std::abs(std::remainder(feature.middle.x - hole.middle.x, 2.0 * pi)) < 1e-9) return &feature;
  }
  return nullptr;
}

void WrapSheet::name_joints() {
  for (const JointMark& mark : content_.marks) {
    const Vec2 p = on_page(mark.place);
    if (!core_.contains(p, 1e-6)) continue;
    const std::optional<PlacedLabel> label = placer_.place_centred(
        wish_for({{mark.letter, 3.5, Weight::bold}}), grid({p.x - 9.0, p.y - 9.0, p.x + 9.0, p.y + 9.0}, p));
    if (!label) {
      throw GeometryError("wrap template", "names", "joint mark " + mark.letter + " finds no free place");
    }
    put_on_lines(*label);
  }
}

void WrapSheet::name_holes() {
  for (const Feature& feature : content_.features) {
    if (feature.kind != Feature::Kind::hole || !here(feature.middle)) continue;
    const Net& net = content_.net;
    const Feature* touch = touch_around(feature);
    LabelWish wish =
        wish_for({{feature.name, hole_name, Weight::bold}, {feature.detail, 2.5, Weight::regular}});
    wish.anchor_point = on_page(net.flat(Vec2{net.on_net(feature.middle.x), feature.middle.y}));
    wish.clear = feature.reach;
    wish.leader_from = (touch != nullptr ? std::max(0.0, touch->reach - feature.reach) : 0.0) + 3.0;
    std::optional<PlacedLabel> label = placer_.place(wish);
    if (!label) {
      // Crowded: the bore's size is given up before the name.
      wish.lines.resize(1);
      wish.farthest = 120.0;
      label = placer_.place(wish);
    }
    if (!label) {
      throw GeometryError("wrap template", "names",
                          "hole " + feature.name + " finds no free place for its name");
    }
    put(*label);
  }
}

namespace {

struct Side {
  double degrees;  ///< from the front, growing with θ
  const char* first;
  const char* second;  ///< a line below; may be empty
};

/// Right of the onlooker with the mouth end up is the player's left.
std::array<Side, 4> sides_of(End mouth_end) {
  const bool a = mouth_end == End::a;
  return {{{0.0, "FRONT", ""},
           {180.0, "BACK", ""},
           {90.0, "PLAYER'S", a ? "LEFT" : "RIGHT"},
           {-90.0, "PLAYER'S", a ? "RIGHT" : "LEFT"}}};
}

LabelWish side_wish(const Side& side, double tall, double less) {
  if (*side.second == '\0') return wish_for({{side.first, tall, Weight::bold}});
  return wish_for({{side.first, less, Weight::bold}, {side.second, less, Weight::bold}});
}

double half_width(const LabelWish& wish) {
  double half = 0.0;
  for (const LabelLine& line : wish.lines) {
    half = std::max(half, 0.5 * text_extent(line.words, line.height, line.weight).width);
  }
  return half;
}

}  // namespace

/// All four in one row, or front and back above the two others; each as near to its own ruling as the edges
/// of the net allow. The rows lie as near to the head of the sheet as they can.
bool WrapSheet::name_sides_in_rows(double tall, double less, bool two_rows, double within) {
  const Development& net = content_.net.development();
  const std::array<Side, 4> sides = sides_of(content_.instrument.mouth_end);
  const double below = two_rows ? tall + 2.0 + less : 0.0;
  for (double y = core_.top + tall + 5.0; y + below < core_.top + within * core_.height(); y += 1.0) {
    const double at = std::clamp(net.at_from() + y - shift_.y, net.at_from(), net.at_to());
    const Angle front = net.line(at, content_.instrument.facing);
    const auto x_of = [&](double theta) { return on_page(content_.net.flat(Vec2{theta, at})).x; };
    const double left = std::max(x_of(content_.net.window().left), core_.left);
    const double right = std::min(x_of(content_.net.window().right), core_.right);
    std::vector<LabelWish> wishes;
    std::vector<Vec2> middles;
    for (std::size_t i = 0; i < sides.size(); ++i) {
      const double x = x_of(content_.net.on_net((front + Angle::from_degrees(sides[i].degrees)).radians()));
      if (x < left - 0.1 || x > right + 0.1) continue;  // on the sheet beside
      wishes.push_back(side_wish(sides[i], tall, less));
      const double inset = half_width(wishes.back()) + 2.0;
      if (right - left < 2.0 * inset) return false;
      middles.push_back({std::clamp(x, left + inset, right - inset), y + (i < 2 ? 0.0 : below)});
    }
    const std::optional<std::vector<PlacedLabel>> labels = placer_.place_together(wishes, middles);
    if (!labels) continue;
    for (const PlacedLabel& label : *labels) put_on_lines(label);
    return true;
  }
  return false;
}

void WrapSheet::name_sides() {
  if (name_sides_in_rows(5.0, 3.5, false, 0.2) || name_sides_in_rows(5.0, 3.5, true, 0.25) ||
      name_sides_in_rows(3.5, 2.5, false, 0.25) || name_sides_in_rows(5.0, 3.5, true, 0.8) ||
      name_sides_in_rows(3.5, 2.5, false, 0.8) || name_sides_in_rows(3.5, 2.5, true, 0.8)) {
    return;
  }
  // Crowded: each for itself, within an eighth of the girth from its ruling.
  const Development& net = content_.net.development();
  const double at = 0.5 * (net.at_from() + net.at_to());
  const Angle front = net.line(at, content_.instrument.facing);
  const double eighth = net.girth(at) / 8.0;
  for (const Side& side : sides_of(content_.instrument.mouth_end)) {
    const double theta = content_.net.on_net((front + Angle::from_degrees(side.degrees)).radians());
    if (!here({theta, std::clamp(net.at_from() + core_.middle().y - shift_.y, net.at_from(), net.at_to())}))
      continue;
    std::vector<Vec2> candidates;
    for (const double turns : {0.0, -1.0, 1.0}) {
      const double x = on_page(content_.net.flat(Vec2{theta + 2.0 * pi * turns, at})).x;
      const std::vector<Vec2> more =
          grid({x - eighth, core_.top, x + eighth, core_.bottom}, {x, core_.top + 0.12 * core_.height()});
      candidates.insert(candidates.end(), more.begin(), more.end());
    }
    std::string words = side.first;
    if (*side.second != '\0') words += std::string(" ") + side.second;
    LabelWish slim = wish_for({{words, 3.5, Weight::bold}});
    slim.rotation = upward;
    if (put_centred(side_wish(side, 3.5, 2.5), candidates) || put_centred(slim, candidates)) continue;
    slim.lines[0].height = 2.5;
    if (!put_centred(slim, candidates)) {
      throw GeometryError("wrap template", "names", words + " finds no free place");
    }
  }
}

/// The arrows to the mouth end and the foot end, on the front where there is room.
void WrapSheet::name_ends() {
  const Development& net = content_.net.development();
  const bool mouth_up = content_.instrument.mouth_end == End::a;
  for (const bool top : {true, false}) {
    const double edge = top ? core_.top : core_.bottom;
    const double at = std::clamp(net.at_from() + (edge - shift_.y), net.at_from(), net.at_to());
    const double x =
        on_page(content_.net.flat(Vec2{net.line(at, content_.instrument.facing).radians(), at})).x;
    const Box area = top ? Box{core_.left, core_.top, core_.right, core_.middle().y}
                         : Box{core_.left, core_.middle().y, core_.right, core_.bottom};
    const std::string words =
        std::string(top ? "\u25B2 " : "\u25BC ") + (top == mouth_up ? "MOUTH END" : "FOOT END");
    const std::optional<PlacedLabel> label =
        placer_.place_centred(wish_for({{words, 3.5, Weight::bold}}), grid(area, {x, edge}));
    if (!label) throw GeometryError("wrap template", "names", "the arrow to an end finds no free place");
    put_on_lines(*label);
  }
}

void WrapSheet::name_line(const SkinCurve& line, const std::string& words) {
  // Upright beside the line where there is room, from the middle of the sheet outward; else level, with a
  // leader.
  std::vector<Polyline> covered;
  for (const Feature& feature : content_.features) {
    for (const Polyline& part : content_.net.flat_inside(feature.outline)) covered.push_back(part);
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
  LabelWish wish = wish_for({{words, 2.5, Weight::regular}});
  wish.rotation = upward;
  if (put_centred(wish, beside)) return;
  wish.rotation = Angle();
  wish.leader_from = 0.0;
  for (double farthest : {12.0, 25.0, 60.0}) {
    wish.farthest = farthest;
    for (Vec2 p : on_line) {
      wish.anchor_point = p;
      const std::optional<PlacedLabel> label = placer_.place(wish);
      if (!label) continue;
      put(*label);
      return;
    }
  }
  throw GeometryError("wrap template", "names", "the " + words + " finds no free place for its name");
}

/// How far the ends of the piece are from the wrap's own edges.
void WrapSheet::name_edges() {
  const Development& net = content_.net.development();
  for (const bool top : {true, false}) {
    if (top ? row_ > 0 : row_ + 1 < content_.plan.down()) continue;
    const double at = top ? net.at_from() : net.at_to();
    const double end = top ? tube_.end_a_at() : tube_.end_b_at();
    const std::string name = top ? "end A" : "end B";
    const std::string words = std::abs(at - end) < 0.05
                                  ? "this edge on " + name
                                  : name + " is " + decimals(std::abs(at - end), 1) + " from this edge";
    const double x = on_page(content_.net.flat(Vec2{net.line(at).radians(), at})).x;
    const Box area = top ? Box{core_.left, core_.top, core_.right, core_.middle().y}
                         : Box{core_.left, core_.middle().y, core_.right, core_.bottom};
    if (!put_centred(wish_for({{words, 2.5, Weight::regular}}),
                     grid(area, {x, top ? core_.top : core_.bottom}))) {
      throw GeometryError("wrap template", "names", "the place of an edge finds no room to be written");
    }
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
    if (!put_centred(wish_for({{words, 2.5, Weight::regular}}),
                     grid({core_.left, p.y - 15.0, core_.right, p.y + 15.0}, p))) {
      throw GeometryError("wrap template", "names",
                          std::string("the ") + words + " finds no free place for its name");
    }
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
  if (core_.contains(bounds(text_box(text)))) page_.group("names").items.push_back(text);
}

void WrapSheet::name_piece() {
  const Instrument& instrument = content_.instrument;
  std::string revision = instrument.id + ", revision " + std::to_string(instrument.revision);
  if (content_.plan.sheets() > 1) {
    revision += ", sheet " + std::to_string(row_ * content_.plan.across() + column_ + 1);
  }
  const std::string state = instrument.draft ? "DRAFT" : "SIGNED OFF";
  const Vec2 foot{core_.middle().x, core_.bottom - 0.2 * core_.height()};
  const std::vector<Vec2> everywhere = grid(core_, foot);
  if (put_centred(wish_for({{tube_.id(), 5.0, Weight::bold},
                            {revision, 2.5, Weight::regular},
                            {state, 5.0, Weight::bold}}),
                  everywhere)) {
    return;
  }
  LabelWish slim = wish_for({{tube_.id() + ", " + revision + ", " + state, 2.5, Weight::bold}});
  if (put_centred(slim, everywhere)) return;
  slim.rotation = upward;
  if (!put_centred(slim, everywhere)) {
    throw GeometryError("wrap template", "names", "the piece finds no free place for its name");
  }
}

void WrapSheet::name_rest() {
  const Net& net = content_.net;
  for (const Feature& feature : content_.features) {
    if (feature.kind == Feature::Kind::hole || feature.name.empty() || !here(feature.middle)) continue;
    LabelWish wish = wish_for({{feature.name, 2.5, Weight::bold}});
    if (!feature.detail.empty()) wish.lines.push_back({feature.detail, 2.5, Weight::regular});
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
    std::optional<PlacedLabel> label = placer_.place(wish);
    if (!label && wish.lines.size() > 1) {
      wish.lines.resize(1);
      label = placer_.place(wish);
    }
    if (!label)
      throw GeometryError("wrap template", "names", feature.name + " finds no free place for its name");
    put(*label);
  }
  name_cuts();
  const Development& development = net.development();
  const auto line = [&](Angle direction) {
    return half_plane_curve(tube_, development.at_from(), development.at_to(), direction);
  };
  if (one_line()) {
    name_line(line(Angle()), "reference line, key line");
  } else {
    name_line(line(Angle()), "reference line");
    name_line(line(content_.instrument.facing), "key line");
  }
}

}  // namespace culmwright
