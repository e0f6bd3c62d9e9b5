#include "drawing/label_placer.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

void LabelPlacer::keep_off(const Box& box) {
  boxes_.push_back(
      {{{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}}});
}

void LabelPlacer::keep_off(const Polyline& line, bool closed) {
  for (std::size_t i = 0; i + 1 < line.size(); ++i) add_line({line[i], line[i + 1]});
  if (closed && line.size() > 2) add_line({line.back(), line.front()});
}

namespace {

constexpr double band_height = 4.0;

int band(double y) {
  return static_cast<int>(std::floor(y / band_height));
}

Quad grown(const Quad& quad, double by) {
  const Vec2 along = unit(quad[1] - quad[0]) * by;
  const Vec2 down = unit(quad[3] - quad[0]) * by;
  return {{quad[0] - along - down, quad[1] + along - down, quad[2] + along + down, quad[3] - along + down}};
}

/// The label about the origin, lines stacked at 1.6 of their height, farther under descenders.
PlacedLabel stacked(const LabelWish& wish) {
  PlacedLabel label;
  double baseline = 0.0;
  double half = 0.5;
  double hanging = 0.0;  // descenders of the line before
  double top = 0.0;
  double bottom = 0.0;
  const Vec2 along = direction_on_page(wish.rotation);
  const Vec2 down{-along.y, along.x};
  for (const LabelLine& line : wish.lines) {
    if (!label.texts.empty()) baseline += std::max(1.6 * line.height, hanging + line.height + 1.0);
    const TextExtent extent = text_extent(line.words, line.height, line.weight);
    hanging = extent.below;
    half = std::max(half, 0.5 * extent.width);
    top = std::min(top, baseline - std::max(extent.above, line.height));
    bottom = std::max(bottom, baseline + extent.below);
    label.texts.push_back(
        {down * baseline, line.words, line.height, Anchor::middle, wish.rotation, line.weight, Ink::black});
  }
  const auto corner = [&](double x, double y) { return along * x + down * y; };
  label.box = {{corner(-half, top), corner(half, top), corner(half, bottom), corner(-half, bottom)}};
  return label;
}

void move_label(PlacedLabel& label, Vec2 by) {
  for (Vec2& corner : label.box) corner = corner + by;
  for (Text& text : label.texts) text.at = text.at + by;
}

}  // namespace

void LabelPlacer::add_line(const Segment& line) {
  const int first = band(std::min(line.from.y, line.to.y));
  const int last = band(std::max(line.from.y, line.to.y));
  for (int i = first; i <= last; ++i) lines_[i].push_back(line);
}

bool LabelPlacer::free(const Quad& tight) const {
  if (!bounds_.contains(culmwright::bounds(tight))) return false;
  const Quad box = grown(tight, gap_);
  const Box around = culmwright::bounds(box);
  const auto meets_box = [&](const Segment& line) {
    return std::max(line.from.x, line.to.x) >= around.left &&
           std::min(line.from.x, line.to.x) <= around.right &&
           std::max(line.from.y, line.to.y) >= around.top &&
           std::min(line.from.y, line.to.y) <= around.bottom && meets(line, box);
  };
  for (auto near = lines_.lower_bound(band(around.top));
       near != lines_.end() && near->first <= band(around.bottom); ++near) {
    if (std::any_of(near->second.begin(), near->second.end(), meets_box)) return false;
  }
  if (std::any_of(boxes_.begin(), boxes_.end(), [&](const Quad& other) { return overlap(box, other); }))
    return false;
  if (std::any_of(leaders_.begin(), leaders_.end(), meets_box)) return false;
  const auto outside_region = [&](Vec2 corner) { return !inside(region_, corner); };
  return region_.empty() || std::none_of(box.begin(), box.end(), outside_region);
}

bool LabelPlacer::leader_free(const Segment& leader) const {
  return std::none_of(boxes_.begin(), boxes_.end(), [&](const Quad& box) { return meets(leader, box); }) &&
         std::none_of(leaders_.begin(), leaders_.end(),
                      [&](const Segment& other) { return crosses(leader, other); });
}

std::optional<PlacedLabel> LabelPlacer::tried(const PlacedLabel& at_origin, const LabelWish& wish, Angle way,
                                              double away) const {
  PlacedLabel label = at_origin;
  const Vec2 out = direction_on_page(way);
  // The box slides out along `way` until its edge is `away` from the anchor point.
  const Vec2 middle = (label.box[0] + label.box[2]) * 0.5;
  const Vec2 half_wide = (label.box[1] - label.box[0]) * 0.5;
  const Vec2 half_down = (label.box[3] - label.box[0]) * 0.5;
  // From the middle of the box to its edge along `out`: the nearer of its two pairs of sides.
  const auto to_side = [&](Vec2 side) {
    const double size = length(side);
    const double share = std::abs(dot(out, side));
    return share > 1e-9 * size ? size * size / share : 1e300;
  };
  const double to_edge = std::min(to_side(half_wide), to_side(half_down));
  const Vec2 move = wish.anchor_point + out * (away + to_edge) - middle;
  move_label(label, move);
  if (!free(label.box)) return {};
  if (away <= wish.clear + wish.leader_from) return label;
  const Segment leader{wish.anchor_point + out * wish.clear, wish.anchor_point + out * (away - 0.5 * gap_)};
  const auto crossed = [&](const Segment& line) { return crosses(line, leader); };
  if (!leader_free(leader) || std::any_of(wish.leader_avoids.begin(), wish.leader_avoids.end(), crossed))
    return {};
  label.leader = leader;
  return label;
}

std::optional<PlacedLabel> LabelPlacer::place(const LabelWish& wish) {
  const PlacedLabel at_origin = stacked(wish);
  const double start = std::atan2(wish.preferred.y, wish.preferred.x);
  for (double away = wish.clear + gap_; away <= wish.farthest; away += 0.7) {
    for (int i = 0; i < 32; ++i) {
      // 0, +1, −1, +2, −2, … sixteenths of a half turn from the preferred way.
      const int turn = (i + 1) / 2 * (i % 2 == 1 ? 1 : -1);
      const std::optional<PlacedLabel> label =
          tried(at_origin, wish, Angle::from_radians(start + turn * pi / 16.0), away);
      if (!label) continue;
      boxes_.push_back(label->box);
      if (label->leader) leaders_.push_back(*label->leader);
      return label;
    }
  }
  return {};
}

std::optional<std::vector<PlacedLabel>> LabelPlacer::place_together(const std::vector<LabelWish>& wishes,
                                                                    const std::vector<Vec2>& middles) {
  std::vector<PlacedLabel> labels;
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    const std::optional<PlacedLabel> label = place_centred(wishes[i], {middles[i]});
    if (!label) {
      boxes_.resize(boxes_.size() - labels.size());
      return {};
    }
    labels.push_back(*label);
  }
  return labels;
}

std::optional<PlacedLabel> LabelPlacer::place_centred(const LabelWish& wish,
                                                      const std::vector<Vec2>& candidates) {
  const PlacedLabel at_origin = stacked(wish);
  const Vec2 middle = (at_origin.box[0] + at_origin.box[2]) * 0.5;
  for (Vec2 candidate : candidates) {
    PlacedLabel label = at_origin;
    move_label(label, candidate - middle);
    if (!free(label.box)) continue;
    boxes_.push_back(label.box);
    return label;
  }
  return {};
}

}  // namespace culmwright
