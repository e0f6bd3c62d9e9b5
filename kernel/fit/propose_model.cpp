#include "fit/propose_model.hpp"

#include <algorithm>
#include <cmath>

#include "fit/frame.hpp"
#include "fit/hands.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

std::optional<SkinPlace> fixed_place(const std::vector<PlacedId>& listed, const std::string& id) {
  for (const PlacedId& placed : listed) {
    if (placed.id != id) continue;
    const auto stays = [](const Tracked<double>& number) {
      return number.locked || number.origin == Origin::drilled;
    };
    if (stays(placed.at) || stays(placed.around)) return placed.place();
  }
  return std::nullopt;
}

bool has_drilled(const Placement& placement) {
  const auto drilled = [](const PlacedId& placed) {
    return placed.at.origin == Origin::drilled || placed.around.origin == Origin::drilled;
  };
  return std::any_of(placement.keys.begin(), placement.keys.end(), drilled) ||
         std::any_of(placement.parts.begin(), placement.parts.end(), drilled);
}

Item item_of(const Key& key, std::size_t index, const HandMark& mark, const KeyLayout& layout,
             double skin_radius) {
  const RuleLimits& limits = layout.limits;
  Item item;
  item.id = key.id;
  item.words = key.id;
  item.index = index;
  item.anchor = key.hand == Hand::left ? Anchor::left_hand : Anchor::right_hand;
  item.along = key.along;
  item.around = mark.around + key.around;
  item.leeway = key.leeway;
  item.weight = layout.weights.departure;
  item.under_hand = is_under_hand(key);
  item.diameter = key.hole_diameter;
  const double radius = 0.5 * key.hole_diameter;
  item.cut = FlatOutline::of_hole(radius, std::max(skin_radius, 1.01 * radius));
  const bool has_touch = key.touch.length > 0.0 && key.touch.width > 0.0;
  item.touch = has_touch ? FlatOutline::of_patch(key.touch.length, key.touch.width, key.touch.corner_radius)
                         : FlatOutline::of_patch(key.hole_diameter, key.hole_diameter, radius);
  item.mass_g = key.mass_g;
  const double room =
      radius + std::max(limits.end_clearance, limits.end_clearance_per_diameter * key.hole_diameter);
  item.mouth_room = room;
  item.foot_room = room;
  return item;
}

Item item_of(const Part& part, std::size_t index, const HandMark marks[2], const KeyLayout& layout,
             double girth) {
  Item item;
  item.id = part.id;
  item.words = words_of(part.kind) + std::string(" ") + quoted(part.id);
  item.is_key = false;
  item.index = index;
  item.kind = part.kind;
  item.along = part.from == From::foot_end ? -part.along : part.along;
  item.around = part.around;
  if (part.from == From::left_hand) item.around += marks[0].around;
  if (part.from == From::right_hand) item.around += marks[1].around;
  item.anchor = part.from == From::left_hand    ? Anchor::left_hand
                : part.from == From::right_hand ? Anchor::right_hand
                : part.from == From::mouth_end  ? Anchor::mouth_end
                                                : Anchor::foot_end;
  item.leeway = part.leeway;
  item.weight = layout.weights.parts;
  item.mass_g = part.mass_g;
  // As the rules take a part's footprint: a millimetre at least.
  item.touch = FlatOutline::of_patch(std::max(part.length + part.travel, 1.0),
                                     std::clamp(part.width, 1.0, girth), part.corner_radius);
  if (part.kind == PartKind::opening) {
    item.cut = item.touch;
    item.diameter = part.width;
    item.mouth_room = item.touch->half_along() + layout.limits.end_clearance;
    item.foot_room = item.mouth_room;
  }
  return item;
}

/// What clears what: as the rules have it.
void add_pair_rules(Model& model, int a, int b) {
  const Item& of_a = model.items[static_cast<std::size_t>(a)];
  const Item& of_b = model.items[static_cast<std::size_t>(b)];
  if (of_a.fixed && of_b.fixed) return;
  const RuleLimits& limits = model.layout.limits;
  int order = 0;
  const bool fingers = of_a.under_hand && of_b.under_hand;
  if (fingers && of_a.anchor == of_b.anchor)
    order = of_a.along < of_b.along ? 1 : of_a.along > of_b.along ? -1 : 0;
  const bool both_hands = fingers && of_a.anchor != of_b.anchor;
  if (both_hands) order = (of_a.anchor == Anchor::left_hand) == (model.upper == Hand::left) ? 1 : -1;
  if (of_a.cut && of_b.cut) {
    const double along =
        std::max(limits.web_along, limits.web_along_per_diameter * std::max(of_a.diameter, of_b.diameter));
    const DemandKind kind = of_a.is_key && of_b.is_key ? DemandKind::web : DemandKind::opening;
    model.pairs.push_back({a, b, kind, &*of_a.cut, &*of_b.cut, {along, limits.web_around}, order});
  }
  model.pairs.push_back({a, b, DemandKind::touches, &*of_a.touch, &*of_b.touch, {}, order});
  for (const auto& [part, key] : {std::pair{&of_a, &of_b}, std::pair{&of_b, &of_a}}) {
    const bool bearing =
        !part->is_key && (part->kind == PartKind::thumb_rest || part->kind == PartKind::strap_ring);
    if (!bearing || !key->is_key) continue;
    const bool a_is_part = part == &of_a;
    model.pairs.push_back({a,
                           b,
                           DemandKind::touches,
                           a_is_part ? &*of_a.touch : &*of_a.cut,
                           a_is_part ? &*of_b.cut : &*of_b.touch,
                           {},
                           order});
  }
  if (!both_hands) return;
  const double apart = limits.hands_apart;
  model.pairs.push_back({a, b, DemandKind::hands_apart, &*of_a.touch, &*of_b.touch, {apart, apart}, order});
  model.pairs.push_back({a, b, DemandKind::hands_order, nullptr, nullptr, {}, order});
}

}  // namespace

Model::Model(const Tube& tube_in, const PieceFacts& facts_in, const KeyLayout& layout_in,
             const ProposeOptions& options_in)
    : tube(tube_in), facts(facts_in), layout(layout_in), options(options_in), skin(tube_in) {
  const Placement* base = options.placement ? &*options.placement : nullptr;
  marks[0] = base && base->left_mark ? *base->left_mark : layout.left;
  marks[1] = base && base->right_mark ? *base->right_mark : layout.right;
  upper = upper_hand(layout);
  double rings_end = -1e300;
  for (std::size_t i = 0; i < layout.keys.size(); ++i) {
    const Key& key = layout.keys[i];
    items.push_back(item_of(key, i, marks[key.hand == Hand::right], layout, skin.least_curvature()));
    if (base) items.back().fixed = fixed_place(base->keys, key.id);
  }
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (part.kind == PartKind::mouthpiece) {
      rings_end = std::max(rings_end, part.along + 0.5 * part.length);
      ring_mass_g += part.mass_g;
      ring_moment += part.mass_g * part.along;
      continue;
    }
    items.push_back(item_of(part, i, marks, layout, skin.least_girth()));
    if (base) items.back().fixed = fixed_place(base->parts, part.id);
  }
  for (Item& item : items) {
    item.mouth_room = std::max(item.mouth_room, rings_end + item.touch->half_along());
    any_fixed = any_fixed || item.fixed;
  }
  any_drilled = base && has_drilled(*base);
  const int count = static_cast<int>(items.size());
  for (int a = 0; a < count; ++a) {
    for (int b = a + 1; b < count; ++b) add_pair_rules(*this, a, b);
  }
}

Stand Model::stand(End mouth_end, Angle facing) const {
  Stand stand;
  stand.mouth_end = mouth_end;
  stand.sense = mouth_end == End::a ? 1.0 : -1.0;
  stand.facing = facing;
  for (const Item& item : items) {
    double around = item.around;
    if (item.fixed) {
      const Section section = tube.section(item.fixed->at);
      const double key_line = section.around(section.theta_on_half_plane(facing));
      around = stand.sense * wrapped(item.fixed->around - key_line, section.girth());
    }
    stand.around.push_back(around);
  }
  return stand;
}

double Model::anchor_y(const Item& item, const Setting& setting) const {
  switch (item.anchor) {
    case Anchor::left_hand:
      return setting.left;
    case Anchor::right_hand:
      return setting.right;
    case Anchor::mouth_end:
      return setting.mouth;
    case Anchor::foot_end:
      break;
  }
  return setting.foot;
}

double Model::apart_around(const Stand& stand, double y_a, double around_a, double y_b,
                           double around_b) const {
  const SkinTable::Ring& ring_a = skin.nearest(stand.sense * y_a);
  const SkinTable::Ring& ring_b = skin.nearest(stand.sense * y_b);
  const SkinTable::Ring& middle = skin.nearest(stand.sense * 0.5 * (y_a + y_b));
  const auto arc_at = [&](const SkinTable::Ring& ring, double around) {
    const double theta = skin.theta(ring, stand.facing, stand.sense * around);
    const auto i = static_cast<std::size_t>(theta);
    return middle.arc[i] + (middle.arc[i + 1] - middle.arc[i]) * (theta - static_cast<double>(i));
  };
  return std::abs(std::remainder(arc_at(ring_a, around_a) - arc_at(ring_b, around_b), middle.girth));
}

}  // namespace culmwright
