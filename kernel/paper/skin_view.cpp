#include "paper/skin_view.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/label_placer.hpp"

namespace culmwright {

namespace {

constexpr double hatch_spacing = 1.2;

SkinCurve touch_curve(const Tube& tube, const PlacedKey& key) {
  const Touch& touch = key.key.touch;
  return patch_curve(tube, key.place, touch.length, touch.width, touch.corner_radius);
}

}  // namespace

double greatest_girth(const Tube& tube) {
  double girth = 0.0;
  for (int i = 0; i <= 20; ++i) {
    girth = std::max(girth, tube.section(tube.end_a_at() + tube.length() * i / 20).girth());
  }
  for (const Node& node : tube.nodes()) girth = std::max(girth, tube.section(node.at()).girth());
  return girth;
}

SkinView::SkinView(const Tube& tube, const Instrument& instrument, Angle middle, double scale, Vec2 origin,
                   double origin_at, Page& page, std::string group, std::optional<Box> window)
    : tube_(tube),
      instrument_(instrument),
      middle_(middle),
      scale_(scale),
      origin_(origin),
      origin_at_(origin_at),
      page_(page),
      group_(std::move(group)),
      window_(window),
      sense_(instrument.mouth_end == End::a ? 1.0 : -1.0) {}

void SkinView::draw() {
  draw_skin();
  for (const Node& node : tube_.nodes()) draw_node(node);
  for (const Blemish& blemish : tube_.blemishes()) {
    curve(oval_curve(tube_, blemish.place, blemish.length, blemish.width), LineType::dashed_thin);
  }
  if (earlier_ != nullptr) draw_earlier();
  for (const PlacedPart& part : instrument_.parts) draw_part(part);
  for (const PlacedKey& key : instrument_.keys) draw_key(key);
  if (earlier_ != nullptr) draw_moves();
  draw_names();
  if (window_) return;
  draw_hand(Hand::left, "left hand");
  draw_hand(Hand::right, "right hand");
}

Vec2 SkinView::laid(double theta, double at) const {
  const Section section = tube_.section(at);
  const double arc = section.arc(section.theta_on_half_plane(middle_), Angle::from_radians(theta));
  return origin_ + Vec2{sense_ * arc / scale_, sense_ * (at - origin_at_) / scale_};
}

Vec2 SkinView::near_middle(Angle theta, double at) const {
  const Angle line = middle_theta(at);
  return laid((line + (theta - line).normalized()).radians(), at);
}

Vec2 SkinView::on_page(SkinPlace place) const {
  return near_middle(tube_.section(place.at).theta_at(place.around), place.at);
}

void SkinView::line(const Polyline& points, LineType type) {
  if (points.size() < 2) return;
  if (!window_) {
    add(stroked(open_path(points), type));
    return;
  }
  for (const Polyline& piece : clipped(points, *window_)) {
    if (piece.size() > 1) add(stroked(open_path(piece), type));
  }
}

/// The curve on the page, moved by whole turns so that its middle lies within half a girth of the middle
/// line, and `turns` beyond that.
Polyline SkinView::laid_out(const SkinCurve& curve, int turns) const {
  if (curve.points.empty()) return {};
  double theta = 0.0;
  double at = 0.0;
  for (const Vec2& p : curve.points) {
    theta += p.x / static_cast<double>(curve.points.size());
    at += p.y / static_cast<double>(curve.points.size());
  }
  const Angle line = middle_theta(at);
  const double turned = (line + (Angle::from_radians(theta) - line).normalized()).radians() - theta;
  Polyline points;
  for (const Vec2& p : curve.points) points.push_back(laid(p.x + turned + 2.0 * pi * turns, p.y));
  if (curve.closed) points.push_back(points.front());
  return points;
}

/// What crosses the back appears at both edges.
void SkinView::curve(const SkinCurve& on_skin, LineType type) {
  if (on_skin.points.size() < 2) return;
  const double at = on_skin.points.front().y;
  const Box inside{edge(-1, at).x, -1e6, edge(1, at).x, 1e6};
  for (int turns : {-1, 0, 1}) {
    for (const Polyline& piece : clipped(laid_out(on_skin, turns), inside)) line(piece, type);
  }
}

/// Both edges of the unrolled skin, half a turn either side of the middle line.
Vec2 SkinView::edge(int side, double at) const {
  const double half = 0.5 * tube_.section(at).girth();
  return origin_ + Vec2{side * half / scale_, sense_ * (at - origin_at_) / scale_};
}

void SkinView::outline(double from_at, double to_at, LineType type) {
  Polyline points;
  for (int i = 0; i <= 40; ++i) points.push_back(edge(-1, from_at + (to_at - from_at) * i / 40));
  for (int i = 40; i >= 0; --i) points.push_back(edge(1, from_at + (to_at - from_at) * i / 40));
  points.push_back(points.front());
  line(points, type);
}

Polyline SkinView::key_line(Angle facing) const {
  const double from = instrument_.mouth_cut_at;
  const double to = instrument_.foot_cut_at;
  const auto on_key_line = [&](double at) {
    return near_middle(tube_.section(at).theta_on_half_plane(facing), at);
  };
  return {on_key_line(from), on_key_line(to)};
}

void SkinView::draw_skin() {
  const double mouth_at = sense_ > 0.0 ? tube_.end_a_at() : tube_.end_b_at();
  const double foot_at = sense_ > 0.0 ? tube_.end_b_at() : tube_.end_a_at();
  if (std::abs(mouth_at - instrument_.mouth_cut_at) > 0.5) {
    outline(mouth_at, instrument_.mouth_cut_at, LineType::long_dashed_double_dotted_thin);
  }
  if (std::abs(foot_at - instrument_.foot_cut_at) > 0.5) {
    outline(instrument_.foot_cut_at, foot_at, LineType::long_dashed_double_dotted_thin);
  }
  outline(instrument_.mouth_cut_at, instrument_.foot_cut_at, LineType::continuous_thick);
  line(key_line(instrument_.facing), LineType::long_dashed_dotted_thin);
}

void SkinView::draw_node(const Node& node) {
  const Angle middle = middle_theta(node.at());
  const Vec2 left = edge(-1, node.at());
  const Vec2 right = edge(1, node.at());
  Polyline band;
  const auto side = [&](double shift, bool forward) {
    for (int i = 0; i <= 32; ++i) {
      const double share = forward ? i / 32.0 : 1.0 - i / 32.0;
      const Angle theta = middle + Angle::from_degrees(sense_ * (360.0 * share - 180.0));
      const double at = node.at() + 0.5 * (node.at_line - node.at_far) * theta.cos() + shift;
      band.push_back({left.x + (right.x - left.x) * share, origin_.y + sense_ * (at - origin_at_) / scale_});
    }
  };
  side(-0.5 * node.band, true);
  side(0.5 * node.band, false);
  band.push_back(band.front());
  line(band, LineType::continuous_thin);
  for (const Segment& stroke : hatched({band}, Angle::from_degrees(45), hatch_spacing)) {
    line({stroke.from, stroke.to}, LineType::continuous_thin);
  }
}

void SkinView::draw_part(const PlacedPart& part) {
  const bool opening = part.part.kind == PartKind::opening;
  if (part.part.length <= 0.0 || part.part.width <= 0.0 || part.part.kind == PartKind::mouthpiece) return;
  curve(patch_curve(tube_, part.place, part.part.length, part.part.width, part.part.corner_radius),
        opening ? LineType::continuous_thick : LineType::long_dashed_double_dotted_thin);
}

void SkinView::draw_key(const PlacedKey& key) {
  curve(touch_curve(tube_, key), LineType::continuous_thin);
  Polyline rim = laid_out(rim_curve(tube_, key.drilling, 48));
  rim.pop_back();
  if (window_) rim = clipped_polygon(rim, *window_);
  if (rim.size() < 3) return;
  Shape hole = stroked(closed_path(rim), LineType::continuous_thin);
  hole.fill = Ink::accent;
  add(hole);
}

void SkinView::draw_names() {
  const double half = 0.5 * greatest_girth(tube_) / scale_;
  const Box whole{origin_.x - half, edge(-1, instrument_.mouth_cut_at).y, origin_.x + half,
                  edge(1, instrument_.foot_cut_at).y};
  LabelPlacer placer(window_.value_or(whole), 0.3);
  for (const PlacedKey& key : instrument_.keys) placer.keep_off(laid_out(touch_curve(tube_, key)));
  for (const PlacedPart& part : instrument_.parts) {
    if (part.part.kind == PartKind::mouthpiece) continue;
    placer.keep_off(laid_out(patch_curve(tube_, part.place, part.part.length, part.part.width, 0.0)));
  }
  placer.keep_off(key_line(instrument_.facing));
  if (earlier_ != nullptr) {
    for (const SkinCurve& curve : earlier_curves()) placer.keep_off(laid_out(curve));
    for (const Segment& move : earlier_moves()) placer.keep_off(Polyline{move.from, move.to});
    placer.keep_off(key_line(earlier_->facing));
    for (double at : {earlier_->mouth_cut_at, earlier_->foot_cut_at}) {
      placer.keep_off(Polyline{edge(-1, at), edge(1, at)});
    }
  }
  for (const Node& node : tube_.nodes()) {
    const double reach = 0.5 * (node.band + std::abs(node.at_line - node.at_far)) / scale_;
    const Vec2 left = edge(-1, node.at());
    placer.keep_off(Box{left.x, left.y - reach, edge(1, node.at()).x, left.y + reach});
  }
  for (int side : {-1, 1}) {
    Polyline skin;
    for (int i = 0; i <= 20; ++i) {
      const double share = i / 20.0;
      skin.push_back(edge(side, instrument_.mouth_cut_at * (1.0 - share) + instrument_.foot_cut_at * share));
    }
    placer.keep_off(skin);
  }
  LabelPlacer anywhere = placer;
  for (const Polyline& line : drawn_over_) placer.keep_off(line);
  for (const PlacedKey& key : instrument_.keys) {
    LabelWish wish;
    wish.anchor_point = near_middle(key.theta, key.place.at);
    if (window_ && !window_->contains(wish.anchor_point)) continue;
    wish.clear = 0.5 * std::max(key.key.touch.width, key.key.touch.length) / scale_;
    wish.farthest = wish.clear + 12.0;
    wish.leader_from = 3.0;
    // At true size the names are read at arm's length; on strips all of them must find room.
    std::optional<PlacedLabel> label;
    for (const double height : window_ ? std::vector<double>{5.0, 3.5, 2.5} : std::vector<double>{2.5}) {
      if (label) break;
      wish.lines = {{key.key.id, height, window_ ? Weight::bold : Weight::regular}};
      label = placer.place(wish);
    }
    if (!label) {
      label = anywhere.place(wish);
      if (label) placer.keep_off(label->box);
    }
    if (!label) continue;
    anywhere.keep_off(label->box);
    for (const Text& text : label->texts) add(text);
    if (label->leader) add(line_between(label->leader->from, label->leader->to, LineType::continuous_thin));
  }
}

void SkinView::draw_hand(Hand hand, const char* name) {
  double least = 1e300;
  double greatest = -1e300;
  for (const PlacedKey& key : instrument_.keys) {
    if (key.key.hand != hand) continue;
    const double y = near_middle(key.theta, key.place.at).y;
    const double half = 0.5 * key.key.touch.length / scale_;
    least = std::min(least, y - half);
    greatest = std::max(greatest, y + half);
  }
  if (least > greatest) return;
  const double x = origin_.x + 0.5 * greatest_girth(tube_) / scale_ + 2.0;
  add(line_between({x, least}, {x, greatest}, LineType::continuous_thin));
  add(line_between({x - 1.0, least}, {x, least}, LineType::continuous_thin));
  add(line_between({x - 1.0, greatest}, {x, greatest}, LineType::continuous_thin));
  if (greatest - least > text_extent(name, 2.5, Weight::regular).width + 1.0) {
    add(Text{{x + 1.0, 0.5 * (least + greatest)}, name, 2.5, Anchor::middle, Angle::from_degrees(90)});
  }
}

}  // namespace culmwright
