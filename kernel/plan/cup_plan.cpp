#include "plan/cup_plan.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/words.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

using namespace cup_sizes;

/// What a kind has; the one place where kinds differ.
struct Profile {
  bool dish = false;
  double pocket_across = 0.0;  ///< 0: none; as_wide_as_possible: to the flange's walls
  double pocket_depth = 0.0;
  bool wire = false;
  bool open = false;  ///< a way as wide as the spigot allows, and no floor
};
constexpr double as_wide_as_possible = 1e9;

Profile profile_of(CupKind kind) {
  switch (kind) {
    case CupKind::switch_seat:
      return {true, switch_across, switch_depth, true, false};
    case CupKind::touch_cap:
      return {true, 0.0, 0.0, false, false};
    case CupKind::padded_cup:
      return {false, as_wide_as_possible, pad_depth, true, false};
    case CupKind::plug:
      return {};
    case CupKind::sleeve:
      return {false, 0.0, 0.0, false, true};
  }
  return {};
}

std::string mm(double value) {
  return fixed_text(value, 2) + " mm";
}

[[noreturn]] void refuse(const CupPlan& plan, const std::string& why) {
  throw GeometryError(plan.part(), "plan", why);
}

/// The touch's outline, at least `lip` beyond the hole.
RoundedRectangle flange_outline(const Touch& touch, double hole_radius) {
  const double least = 2.0 * (hole_radius + lip);
  RoundedRectangle flange{std::max(touch.length, least), std::max(touch.width, least), touch.corner_radius};
  const bool round = touch.length == touch.width && 2.0 * touch.corner_radius == touch.length;
  const double half = 0.5 * std::min(flange.length, flange.width);
  flange.corner = round ? half : std::clamp(flange.corner, 2.0 * chamfer, half);
  return flange;
}

double spigot_radius(double hole_radius, const Shop& shop) {
  // Printed, it must come out smaller than the hole by the fit; drawn, it may never exceed the smallest hole
  // the drill makes, whatever the printer shrinks.
  const double printed = hole_radius - shop.fits.spigot;
  const double smallest_hole = 0.5 * least_drill_diameter(2.0 * hole_radius);
  return std::min(printed / (1.0 - shop.printer.shrinkage), smallest_hole);
}

/// Printed inner sizes come out small; drawn larger by that much.
double printed_hole(double radius, const Shop& shop) {
  return (radius + 0.5 * shop.printer.hole_undersize) / (1.0 - shop.printer.shrinkage);
}

/// Calls f(xy) on a polar grid over the outline, its edge and middle included.
template <class F>
void for_grid(const RoundedRectangle& outline, const F& f) {
  constexpr int spokes = 24;
  constexpr int rings = 4;
  f(Vec2{});
  for (int i = 0; i < spokes; ++i) {
    const Angle phi = Angle::from_degrees(360.0 * i / spokes);
    for (int k = 1; k <= rings; ++k) {
      f(Vec2{phi.cos(), phi.sin()} * (outline.reach(phi) * k / rings));
    }
  }
}

void seat_on_skin(CupPlan& plan, const Tube& tube) {
  const double room = tube.shape().beyond - 1.0;
  const double at = -plan.to_tube.origin.z;
  const double half = 0.5 * plan.flange.length;
  if (at - half < tube.end_a_at() - room || at + half > tube.end_b_at() + room) {
    refuse(plan, "the flange, " + mm(2.0 * half) + " long, stands beyond the end of the tube");
  }
  plan.seat_low = 1e300;
  plan.seat_high = -1e300;
  double leaning = 1.0;
  for_grid(plan.flange, [&](Vec2 p) {
    const SkinHit hit = skin_hit(tube, plan.to_tube, p, plan.seat_offset);
    plan.seat_low = std::min(plan.seat_low, hit.height);
    plan.seat_high = std::max(plan.seat_high, hit.height);
    leaning = std::min(leaning, hit.facing);
  });
  if (leaning < least_facing) {
    refuse(plan, "the flange, " + mm(plan.flange.width) + " wide, is too wide for the tube there (" +
                     mm(tube.section(at).width(Angle())) + "): the skin leans away by more than 60°");
  }
}

void reach_into_hole(CupPlan& plan, const Tube& tube, double hole_radius) {
  double least = 1e300;
  for_grid({2 * hole_radius, 2 * hole_radius, hole_radius}, [&](Vec2 p) {
    const SkinHit hit = skin_hit(tube, plan.to_tube, p, 0.0);
    const double at = -plan.to_tube.apply({p.x, p.y, hit.height}).z;
    least = std::min(least, tube.section(at).wall(hit.theta));
  });
  plan.spigot_length = least - short_of_bore;
  if (plan.spigot_length < least_grip) {
    refuse(plan, "the tube's wall, " + mm(least) +
                     " at its thinnest under the hole, leaves a spigot of only " +
                     mm(std::max(plan.spigot_length, 0.0)) + "; at least " + mm(least_grip) + " is needed");
  }
}

void cut_way(CupPlan& plan, const Profile& profile, const Shop& shop) {
  const double widest = plan.spigot_radius - least_wall;
  if (profile.open) plan.way_radius = widest;
  if (profile.wire) plan.way_radius = std::min(printed_hole(0.5 * wire_way, shop), widest);
  if (plan.way_radius && *plan.way_radius < 0.5 * least_wire_way) {
    refuse(plan, "the spigot, " + mm(2.0 * plan.spigot_radius) + " thick, is too thin for a way of " +
                     mm(least_wire_way) + " with walls of " + mm(least_wall));
  }
}

void shape_touch(CupPlan& plan, const Profile& profile, const Shop& shop) {
  const double half = 0.5 * std::min(plan.flange.length, plan.flange.width);
  const double rim = half - chamfer - land;
  double pocket = printed_hole(0.5 * profile.pocket_across, shop);
  if (profile.pocket_across == as_wide_as_possible)
    pocket = std::floor(4.0 * (half - chamfer - least_wall)) / 4.0;
  const bool has_pocket = profile.pocket_across > 0.0;
  if (has_pocket && (half - pocket < least_wall || (plan.way_radius && pocket < *plan.way_radius + 0.5))) {
    refuse(plan, "a pocket of " + mm(2.0 * pocket) + " does not fit a flange of " + mm(2.0 * half) +
                     " with walls of " + mm(least_wall));
  }
  if (profile.dish && (!has_pocket || rim - pocket >= land)) {
    plan.dish = Dish{rim, std::min(dish_depth, 0.2 * rim)};
  } else if (profile.dish) {
    plan.notes.push_back("no dish: the pocket takes the whole touch");
  }
  const double hollow = plan.dish ? plan.dish->depth : 0.0;
  if (has_pocket) {
    plan.pocket = Pocket{pocket, plan.seat_high + floor};
    plan.top = plan.pocket->floor + profile.pocket_depth + hollow;
  } else {
    plan.top = plan.seat_high + floor + hollow;
  }
  plan.chamfer = std::min(chamfer, 0.25 * (plan.top - plan.seat_high));
}

/// Every wall between the touch and the skin, measured square to the seat, and above the spigot's end.
void check_walls(const CupPlan& plan, const Tube& tube) {
  double least = 1e300;
  for_grid(plan.flange.inset(plan.chamfer), [&](Vec2 p) {
    const double r = length(p);
    if (plan.way_radius && r < *plan.way_radius) return;
    const bool over_hole = r < plan.spigot_radius;
    const SkinHit below = skin_hit(tube, plan.to_tube, p, over_hole ? -plan.spigot_length : plan.seat_offset);
    least = std::min(least, (plan.upper(r) - below.height) * below.facing);
  });
  if (least < least_wall) {
    refuse(plan,
           "a wall of " + mm(least) + " between touch and skin; at least " + mm(least_wall) + " is printed");
  }
}

/// Touch down, the hollows of the touch need support; touch up, all between the seat and the spigot's foot.
void choose_lie(CupPlan& plan, const Tube& tube) {
  double foot = plan.seat_low;
  for_grid({2 * plan.spigot_radius, 2 * plan.spigot_radius, plan.spigot_radius}, [&](Vec2 p) {
    foot = std::min(foot, skin_hit(tube, plan.to_tube, p, -plan.spigot_length).height);
  });
  const auto seat = [&](Vec2 p) { return skin_hit(tube, plan.to_tube, p, plan.seat_offset).height - foot; };
  plan.support.touch_up = over_area(plan.flange, seat) - over_disc(plan.spigot_radius, seat);
  const double way = plan.way_radius.value_or(0.0);
  double outer = plan.dish ? plan.dish->rim : 0.0;
  if (plan.pocket) outer = std::max(outer, plan.pocket->radius);
  if (outer > way) {
    plan.support.touch_down =
        2.0 * pi * integrate([&](double r) { return r * (plan.top - plan.upper(r)); }, way, outer, 40);
  }
  if (plan.touch_down()) plan.lie = {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {}};
  char text[160];
  std::snprintf(text, sizeof text, "printed touch %s: %.0f mm³ of support; touch %s it would be %.0f",
                plan.touch_down() ? "down" : "up", std::min(plan.support.touch_down, plan.support.touch_up),
                plan.touch_down() ? "up" : "down", std::max(plan.support.touch_down, plan.support.touch_up));
  plan.notes.push_back(text);
}

}  // namespace

double Dish::depth_at(double r) const {
  return depth - sphere() + std::sqrt(sphere() * sphere() - r * r);
}

double CupPlan::upper(double r) const {
  if (pocket && r < pocket->radius) return pocket->floor;
  if (dish && r < dish->rim) return top - dish->depth_at(r);
  return top;
}

double least_drill_diameter(double nominal) {
  // h8 lower deviations in µm (ISO 286; a catalogue page citing DIN 1414).
  constexpr double steps[6][2] = {{3, 14}, {6, 18}, {10, 22}, {18, 27}, {30, 33}, {50, 39}};
  for (const auto& step : steps) {
    if (nominal <= step[0]) return nominal - 1e-3 * step[1];
  }
  return nominal - 0.046;
}

CupPlan plan_cup(const Tube& tube, const PlacedKey& key, const Shop& shop, End mouth_end) {
  CupPlan plan;
  plan.key_id = key.key.id;
  plan.kind = key.key.cup;
  plan.to_tube = rim_frame(key.drilling);
  const Profile profile = profile_of(plan.kind);
  const double hole = key.drilling.radius;
  plan.flange = flange_outline(key.key.touch, hole);
  if (plan.flange.length > key.key.touch.length || plan.flange.width > key.key.touch.width) {
    plan.notes.push_back("flange grown beyond the touch to " + mm(plan.flange.length) + " × " +
                         mm(plan.flange.width) + ", to lie beyond the hole");
  }
  plan.seat_offset = shop.fits.glue_line;
  plan.spigot_radius = spigot_radius(hole, shop);
  seat_on_skin(plan, tube);
  reach_into_hole(plan, tube, hole);
  cut_way(plan, profile, shop);
  shape_touch(plan, profile, shop);
  plan.notch = {(mouth_end == End::a ? -0.5 : 0.5) * plan.flange.length, 0.0};
  check_walls(plan, tube);
  choose_lie(plan, tube);
  return plan;
}

}  // namespace culmwright
