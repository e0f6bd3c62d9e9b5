/// What the skin carries, as lines.
#include <algorithm>
#include <cmath>

#include "paper/wrap_sheet.hpp"

namespace culmwright {

namespace {

constexpr double clear_of_rim = 0.9;  ///< between a rim and the marks outside of it
constexpr double mark_length = 2.6;   ///< of those marks
constexpr double small_arm = 2.0;     ///< of the cross in a screw's hole

/// Half the length of the arms of a centre cross.
double centre_arm(double reach) {
  return std::min(3.0, 0.6 * reach);
}

}  // namespace

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
    lines("blemishes", content_.flat_of(feature), LineType::dashed_thin);
    signs_.insert(Sign::blemish);
    if (feature.use != BlemishUse::avoid) continue;
    hatching("blemishes", content_.inside_of(feature), -45.0, 2.0);
    signs_.insert(Sign::keep_off);
  }
}

void WrapSheet::draw_limits() {
  for (const SkinCurve& limit : content_.limits) {
    if (lines("limits", content_.net.flat(limit), LineType::long_dashed_double_dotted_thin))
      signs_.insert(Sign::limit);
  }
}

void WrapSheet::draw_relief() {
  for (const SkinCurve& slit : content_.relief) {
    if (lines("relief", content_.net.flat(slit), LineType::continuous_thick)) signs_.insert(Sign::relief);
  }
}

void WrapSheet::draw_features() {
  for (const Feature& feature : content_.features) {
    if (feature.kind == Feature::Kind::blemish || !drawn_here(feature)) continue;
    const std::vector<Polyline> flat = content_.flat_of(feature);
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
        for (const SkinCurve& rim : feature.small_holes) draw_small_hole(rim);
        break;
      case Feature::Kind::hole:
        draw_hole(feature);
        break;
      case Feature::Kind::blemish:
        break;
    }
  }
}

/// A rim and a cross to punch by: too small for marks around it.
void WrapSheet::draw_small_hole(const SkinCurve& rim) {
  const Net& net = content_.net;
  lines("screws", net.flat(rim), LineType::continuous_thick);
  Vec2 middle;
  for (const Vec2& p : rim.points) middle = middle + p * (1.0 / static_cast<double>(rim.points.size()));
  const double at = middle.y;
  const double around = small_arm * 2.0 * pi / net.development().girth(at);
  lines("centres", net.flat(SkinCurve{{{middle.x - around, at}, {middle.x + around, at}}, false}),
        LineType::continuous_thin);
  lines("centres", net.flat(SkinCurve{{{middle.x, at - small_arm}, {middle.x, at + small_arm}}, false}),
        LineType::continuous_thin);
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

void WrapSheet::draw_hole(const Feature& feature) {
  const Net& net = content_.net;
  lines("holes", content_.flat_of(feature), LineType::continuous_thick);
  signs_.insert(feature.drilled ? Sign::drilled : Sign::rim);
  if (!feature.pilot.points.empty()) {
    lines("pilots", net.flat(feature.pilot), LineType::continuous_thin);
    signs_.insert(Sign::bits);
  }
  // What is there already is hatched and never punched again.
  if (feature.drilled) {
    const bool whole = feature.pilot.points.empty();
    if (whole) hatching("holes", content_.inside_of(feature), 45.0, 1.5);
    if (!whole) hatching("pilots", net.flat(feature.pilot), 45.0, 0.8);
    return;
  }
  // A middle on the seam is marked at both edges.
  for (const double turns : {-1.0, 0.0, 1.0}) {
    const Vec2 middle{net.on_net(feature.middle.x) + 2.0 * pi * turns, feature.middle.y};
    if (turns != 0.0 && !net.window().contains(middle, 1e-9)) continue;
    if (middle.y < net.window().top || middle.y > net.window().bottom) continue;
    draw_centre(net.flat(middle), feature);
  }
}

/// A cross in the middle to punch by, and four marks outside of the rim that point at the middle: they are
/// still there when cross and pilot are gone.
void WrapSheet::draw_centre(Vec2 middle, const Feature& feature) {
  const double arm = centre_arm(feature.reach);
  std::vector<Polyline> marks{{middle - Vec2{arm, 0}, middle + Vec2{arm, 0}},
                              {middle - Vec2{0, arm}, middle + Vec2{0, arm}}};
  const Polyline edge = content_.net.outline();
  std::vector<Polyline> rims;
  for (const Feature& other : content_.features) {
    if (other.kind != Feature::Kind::hole && other.kind != Feature::Kind::opening) continue;
    for (const Polyline& rim : content_.inside_of(other)) rims.push_back(rim);
  }
  for (const Vec2 way : {Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) {
    // The rim is wider around than along: its own reach that way.
    double reach = 0.0;
    for (const Polyline& rim : content_.flat_of(feature)) {
      for (Vec2 p : rim) {
        const Vec2 from = p - middle;
        if (length(from) < 2.0 * feature.reach) reach = std::max(reach, dot(from, way));
      }
    }
    const Vec2 from = middle + way * (reach + clear_of_rim);
    const Vec2 to = middle + way * (reach + clear_of_rim + mark_length);
    const auto covers = [&](const Polyline& rim) { return inside(rim, from) || inside(rim, to); };
    if (!inside(edge, to) || std::any_of(rims.begin(), rims.end(), covers)) continue;
    marks.push_back({from, to});
  }
  lines("centres", marks, LineType::continuous_thin);
}

}  // namespace culmwright
