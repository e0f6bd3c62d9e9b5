/// The words that say which side is which and where the ends lie.
#include <algorithm>
#include <array>
#include <cmath>

#include "paper/wrap_sheet.hpp"

namespace culmwright {

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
  if (*side.second == '\0') return label_wish({{side.first, tall, Weight::bold}});
  return label_wish({{side.first, less, Weight::bold}, {side.second, less, Weight::bold}});
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
    for (const PlacedLabel& label : *labels) put(label);
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
    LabelWish slim = label_wish({{words, 3.5, Weight::bold}});
    slim.rotation = upward;
    LabelWish slimmer = slim;
    slimmer.lines[0].height = 2.5;
    put_somewhere({side_wish(side, 3.5, 2.5), side_wish(side, 2.5, 2.5), slim, slimmer}, candidates, words);
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
    put_somewhere({label_wish({{words, 3.5, Weight::bold}}), label_wish({{words, 2.5, Weight::bold}})},
                  grid(area, {x, edge}), "the arrow to an end");
  }
}

}  // namespace culmwright
