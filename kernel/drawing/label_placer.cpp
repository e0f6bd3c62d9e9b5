#include "drawing/label_placer.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

void LabelPlacer::keep_off(const Box& box) {
  boxes_.push_back(
      {{{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}}});
}

void LabelPlacer::keep_off(const Polyline& line, bool closed) {
  for (std::size_t i = 0; i + 1 < line.size(); ++i) lines_.push_back({line[i], line[i + 1]});
  if (closed && line.size() > 2) lines_.push_back({line.back(), line.front()});
}

bool LabelPlacer::free(const Text& text) const {
  const Quad tight = text_box(text);
  const Quad box = text_box(text, gap_);
  const Box around = culmwright::bounds(box);
  if (!bounds_.contains(culmwright::bounds(tight))) return false;
  const auto meets_box = [&](const Segment& line) {
    const Box span{std::min(line.from.x, line.to.x), std::min(line.from.y, line.to.y),
                   std::max(line.from.x, line.to.x), std::max(line.from.y, line.to.y)};
    return span.grown(1e-6).overlaps(around) && meets(line, box);
  };
  return std::none_of(boxes_.begin(), boxes_.end(), [&](const Quad& other) { return overlap(box, other); }) &&
         std::none_of(lines_.begin(), lines_.end(), meets_box) &&
         std::none_of(leaders_.begin(), leaders_.end(), meets_box);
}

bool LabelPlacer::leader_free(const Segment& leader) const {
  return std::none_of(boxes_.begin(), boxes_.end(), [&](const Quad& box) { return meets(leader, box); }) &&
         std::none_of(leaders_.begin(), leaders_.end(),
                      [&](const Segment& other) { return crosses(leader, other); });
}

std::optional<PlacedLabel> LabelPlacer::tried(const LabelWish& wish, Angle way, double away) const {
  PlacedLabel label{wish.text, {}};
  label.text.anchor = Anchor::start;
  label.text.at = {0.0, 0.0};
  const Vec2 out = direction_on_page(way);
  // The box slides out along `way` until its edge is `away` from the anchor point.
  const Quad at_origin = text_box(label.text);
  const Vec2 middle = (at_origin[0] + at_origin[2]) * 0.5;
  const Vec2 half_wide = (at_origin[1] - at_origin[0]) * 0.5;
  const Vec2 half_down = (at_origin[3] - at_origin[0]) * 0.5;
  // From the middle of the box to its edge along `out`: the nearer of its two pairs of sides.
  const auto to_side = [&](Vec2 side) {
    const double size = length(side);
    const double share = std::abs(dot(out, side));
    return share > 1e-9 * size ? size * size / share : 1e300;
  };
  const double to_edge = std::min(to_side(half_wide), to_side(half_down));
  label.text.at = wish.anchor_point + out * (away + to_edge) - middle;
  if (!free(label.text)) return {};
  if (away <= wish.clear + wish.leader_from) return label;
  const Segment leader{wish.anchor_point + out * wish.clear, wish.anchor_point + out * (away - 0.5 * gap_)};
  if (!leader_free(leader)) return {};
  label.leader = leader;
  return label;
}

std::optional<PlacedLabel> LabelPlacer::place(const LabelWish& wish) {
  const double start = std::atan2(wish.preferred.y, wish.preferred.x);
  for (double away = wish.clear + gap_; away <= wish.farthest; away += 0.7) {
    for (int i = 0; i < 32; ++i) {
      // 0, +1, −1, +2, −2, … sixteenths of a half turn from the preferred way.
      const int turn = (i + 1) / 2 * (i % 2 == 1 ? 1 : -1);
      const std::optional<PlacedLabel> label =
          tried(wish, Angle::from_radians(start + turn * pi / 16.0), away);
      if (!label) continue;
      boxes_.push_back(text_box(label->text));
      if (label->leader) leaders_.push_back(*label->leader);
      return label;
    }
  }
  return {};
}

}  // namespace culmwright
