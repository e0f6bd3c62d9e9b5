/// Where the hands lie: a bracket along the touches of each hand, with its name.
#include <algorithm>
#include <cmath>

#include "paper/wrap_sheet.hpp"

namespace culmwright {

namespace {

constexpr double clear_of_features = 1.2;
constexpr double clear_of_edge = 3.0;
constexpr double tick = 2.0;

}  // namespace

/// The ruling nearest to an edge of the net along which nothing stands between two places; θ of it.
std::optional<double> WrapSheet::free_ruling(double at_from, double at_to) const {
  const Net& net = content_.net;
  const double radius = net.development().girth(0.5 * (at_from + at_to)) / (2.0 * pi);
  const double width = net.window().width() * radius;
  const auto taken = [&](double theta) {
    return std::any_of(content_.features.begin(), content_.features.end(), [&](const Feature& feature) {
      const Box span = span_of(feature);
      const double away = std::abs(std::remainder(theta - span.middle().x, 2.0 * pi)) - 0.5 * span.width();
      const double along = std::max(0.5 * feature.travel - 0.5 * span.height(), 0.0);
      return away * radius < clear_of_features + tick && span.top - along < at_to &&
             span.bottom + along > at_from;
    });
  };
  for (double from_edge = clear_of_edge; from_edge < 0.5 * width; from_edge += 1.0) {
    for (const double theta :
         {net.window().left + from_edge / radius, net.window().right - from_edge / radius}) {
      if (!taken(theta)) return theta;
    }
  }
  return {};
}

void WrapSheet::draw_hand(Hand hand) {
  const Net& net = content_.net;
  double from = 1e300;
  double to = -1e300;
  for (const PlacedKey& key : content_.instrument.keys) {
    if (key.key.hand != hand) continue;
    from = std::min(from, key.place.at - 0.5 * key.key.touch.length);
    to = std::max(to, key.place.at + 0.5 * key.key.touch.length);
  }
  const bool begins = from >= net.window().top;
  const bool ends = to <= net.window().bottom;
  from = std::max(from, net.window().top);
  to = std::min(to, net.window().bottom);
  if (to - from < 5.0) return;
  const std::optional<double> theta = free_ruling(from, to);
  if (!theta) return;
  const double radius = net.development().girth(0.5 * (from + to)) / (2.0 * pi);
  const double inward = (*theta < net.window().middle().x ? tick : -tick) / radius;
  const Polyline bar{net.flat(Vec2{*theta, from}), net.flat(Vec2{*theta, to})};
  std::vector<Polyline> bracket{bar};
  if (begins) bracket.push_back({bar[0], net.flat(Vec2{*theta + inward, from})});
  if (ends) bracket.push_back({bar[1], net.flat(Vec2{*theta + inward, to})});
  if (!lines("hands", bracket, LineType::continuous_thin)) return;
  signs_.insert(Sign::hand);
  LabelWish wish = label_wish({{hand == Hand::left ? "left hand" : "right hand", 3.5, Weight::regular}});
  wish.rotation = upward;
  std::vector<Vec2> beside;
  for (const Polyline& piece : clipped({on_page(bar[0]), on_page(bar[1])}, core_)) {
    const Vec2 middle = (piece.front() + piece.back()) * 0.5;
    const double half = 0.5 * length(piece.back() - piece.front());
    for (double away = 0.0; away < half; away += 2.0) {
      for (const double off : {3.6, 5.0, -3.6}) {
        for (const double up : {away, -away}) {
          beside.push_back(middle + Vec2{std::copysign(1.0, inward) * off, up});
        }
      }
    }
  }
  if (put_centred(wish, beside)) return;
  wish.lines[0].height = 2.5;
  put_centred(wish, beside);
}

void WrapSheet::draw_hands() {
  draw_hand(Hand::left);
  draw_hand(Hand::right);
}

}  // namespace culmwright
