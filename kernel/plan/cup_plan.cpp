#include "plan/cup_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/cup_parts.hpp"
#include "plan/seated_levels.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

using namespace cup_sizes;
using namespace cup_parts;

CupHole hole_of(const PlacedKey& key, double caliper_error, double hook_gauge_error) {
  CupHole hole;
  hole.least = hole.greatest = key.drilling.radius;
  if (!key.drilled || key.drilled->state != DrilledState::finished) return hole;
  const DrilledHole& drilled = *key.drilled;
  hole.measured = true;
  hole.least = 0.5 * (drilled.least_across() - sigmas * caliper_error);
  hole.greatest = 0.5 * (drilled.greatest_across() + sigmas * caliper_error);
  hole.chip_out = drilled.chip_out;
  if (drilled.wall) hole.wall = *drilled.wall - hook_gauge_error;
  return hole;
}

/// The touch's outline, at least `lip` beyond all that is open.
RoundedRectangle flange_outline(const Touch& touch, double least_diameter) {
  RoundedRectangle flange{std::max(touch.length, least_diameter), std::max(touch.width, least_diameter),
                          touch.corner_radius};
  const bool round = touch.length == touch.width && 2.0 * touch.corner_radius == touch.length;
  const double half = 0.5 * std::min(flange.length, flange.width);
  flange.corner = round ? half : std::clamp(flange.corner, 2.0 * chamfer, half);
  return flange;
}

void plan_flange(const Job& job) {
  CupPlan& plan = job.plan;
  if (plan.flush) {
    const double across = 2.0 * plan.spigot_radius;
    plan.flange = {across, across, plan.spigot_radius};
    return;
  }
  const Touch& touch = job.key.key.touch;
  double least = 2.0 * (plan.hole.greatest + plan.hole.chip_out + lip);
  std::string why = "to lie beyond the hole";
  if (plan.hole.chip_out > 0.0) why += " and what chipped out of its edge";
  if (plan.kind == CupKind::padded_cup) {
    least = pad_diameter(job) + job.shop.printer.hole_undersize +
            2.0 * (pad_room + least_wall + notch_depth) + 0.1;
    why = "to hold its pad";
  }
  plan.flange = flange_outline(touch, least);
  if (plan.flange.length > touch.length || plan.flange.width > touch.width) {
    job.note("flange grown beyond the touch to " + mm(plan.flange.length) + " × " + mm(plan.flange.width) +
             ", " + why);
  }
}

void seat_on_skin(const Job& job) {
  CupPlan& plan = job.plan;
  const double room = job.tube.shape().beyond - 1.0;
  const double at = -plan.to_tube.origin.z;
  const double half = 0.5 * plan.flange.length;
  if (at - half < job.tube.end_a_at() - room || at + half > job.tube.end_b_at() + room) {
    job.refuse("the flange, " + mm(2.0 * half) + " long, stands beyond the end of the tube");
  }
  plan.seat_low = 1e300;
  plan.seat_high = -1e300;
  double leaning = 1.0;
  for_grid(plan.flange, [&](Vec2 p) {
    const SkinHit hit = skin_hit(job.tube, plan.to_tube, p, plan.seat_offset);
    plan.seat_low = std::min(plan.seat_low, hit.height);
    plan.seat_high = std::max(plan.seat_high, hit.height);
    leaning = std::min(leaning, hit.facing);
  });
  if (leaning < least_facing) {
    job.refuse("the flange, " + mm(plan.flange.width) + " wide, is too wide for the tube there (" +
               mm(job.tube.section(at).width(Angle())) + "): the skin leans away by more than 60°");
  }
}

/// The thinnest of the wall under the hole: the survey's, moved to what the hook gauge said of its middle.
void measure_wall(const Job& job) {
  CupPlan& plan = job.plan;
  double least = 1e300;
  double middle = 0.0;
  const double r = plan.hole.greatest;
  for_grid({2 * r, 2 * r, r}, [&](Vec2 p) {
    const SkinHit hit = skin_hit(job.tube, plan.to_tube, p, 0.0);
    const double at = -plan.to_tube.apply({p.x, p.y, hit.height}).z;
    const double wall = job.tube.section(at).wall(hit.theta);
    if (p.x == 0.0 && p.y == 0.0) middle = wall;
    least = std::min(least, wall);
  });
  plan.wall = plan.hole.wall ? std::min(least, *plan.hole.wall - (middle - least)) : least;
}

void reach_into_hole(const Job& job) {
  CupPlan& plan = job.plan;
  plan.spigot_radius = spigot_in(plan.hole.least, job.shop, plan.hole.measured);
  plan.spigot_length = plan.wall - short_of_bore;
  plan.lead_in = lead_in;
  if (plan.spigot_length < least_grip) {
    job.refuse("the tube's wall, " + mm(plan.wall) + (plan.hole.wall ? " by the hook gauge" : "") +
               " at its thinnest under the hole, leaves a spigot of only " +
               mm(std::max(plan.spigot_length, 0.0)) + "; at least " + mm(least_grip) + " is needed");
  }
  if (plan.spigot_radius < least_wall) {
    job.refuse("the hole, " + mm(2.0 * plan.hole.least) + ", is too narrow for a spigot of " +
               mm(2.0 * least_wall));
  }
  const double play = plan.hole.greatest - plan.spigot_radius;
  if (plan.hole.measured && play > loose_play) {
    job.note("the hole came out oval: the spigot has up to " + mm(play) +
             " of play on a side; fill it with thread or glue");
  }
}

/// Every wall between the touch and the skin, measured square to the seat, and above the spigot's end.
void check_walls(const Job& job) {
  const CupPlan& plan = job.plan;
  double least = 1e300;
  over_flange(plan, [&](Vec2 p) {
    const double r = length(p);
    if (plan.way_radius && r < *plan.way_radius + plan.countersink) return;
    const bool over_hole = plan.flush || r < plan.spigot_radius;
    const SkinHit below =
        over_hole ? skin_hit(job.tube, plan.to_tube, p, -plan.spigot_length) : seat_under(job, p);
    least = std::min(least, (plan.upper(p) - below.height) * below.facing);
  });
  if (least < least_wall - 1e-9) {
    job.refuse("a wall of " + mm(least) + " between touch and skin; at least " + mm(least_wall) +
               " is printed");
  }
}

/// A slot for a blade, where the lip has room for it.
void plan_pry_slot(const Job& job) {
  CupPlan& plan = job.plan;
  if (plan.flush || plan.pad) return;
  const double lip_there = 0.5 * plan.flange.length - plan.spigot_radius;
  const double straight = 0.5 * plan.flange.width - plan.chamfer;
  plan.pry_slot = lip_there - slot_depth >= 0.8 && straight > slot_half_width + 0.5;
  if (!plan.pry_slot) job.note("no slot to pry it out by: its lip is too narrow");
}

/// Touch down, the hollows of the touch need support; touch up, all between the seat and the spigot's foot.
void choose_lie(const Job& job) {
  CupPlan& plan = job.plan;
  plan.support = support_of(cup_part(plan), job.tube);
  if (plan.touch_down()) plan.lie = {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {}};
  const double need = std::min(plan.support.upside_down, plan.support.upright);
  const double other = std::max(plan.support.upside_down, plan.support.upright);
  job.note(std::string("printed touch ") + (plan.touch_down() ? "down" : "up") + ": " +
           (need < 0.5 ? "no support" : fixed_text(need, 0) + " mm³ to hold up or bridge") + "; touch " +
           (plan.touch_down() ? "up" : "down") + " it would be " + fixed_text(other, 0));
}

}  // namespace

std::string name_of(CupKind kind) {
  switch (kind) {
    case CupKind::switch_seat:
      return "switch seat";
    case CupKind::touch_cap:
      return "touch cap";
    case CupKind::padded_cup:
      return "padded cup";
    case CupKind::plug:
      return "plug";
    case CupKind::sleeve:
      return "sleeve";
  }
  return "";
}

Level CupPlan::touch() const {
  if (dome <= 0.0) return Level::plane(top, slope);
  return Level::dome(top, dome, 0.5 * flange.length - chamfer, 0.5 * flange.width - chamfer, slope);
}

double CupPlan::upper(Vec2 xy) const {
  if (pocket && pocket->outline.distance(xy) < 0.0) return pocket->floor;
  if (dish && length(xy) < dish->rim) return graph_jet(Level::dish(top, dish->rim, dish->depth, slope), xy).z;
  return graph_jet(touch(), xy).z;
}

double least_drill_diameter(double nominal) {
  // h8 lower deviations in µm (ISO 286; a catalogue page citing DIN 1414).
  constexpr double steps[6][2] = {{3, 14}, {6, 18}, {10, 22}, {18, 27}, {30, 33}, {50, 39}};
  for (const auto& step : steps) {
    if (nominal <= step[0]) return nominal - 1e-3 * step[1];
  }
  return nominal - 0.046;
}

CupPlan plan_cup(const Tube& tube, const PlacedKey& key, const Shop& shop, End mouth_end,
                 double caliper_error, double hook_gauge_error) {
  CupPlan plan;
  plan.key_id = key.key.id;
  plan.kind = key.key.cup;
  plan.to_tube = rim_frame(key.drilling);
  plan.toward_mouth = mouth_end == End::a ? -1.0 : 1.0;
  plan.seat_offset = shop.fits.glue_line;
  plan.hole = hole_of(key, caliper_error, hook_gauge_error);
  const Job job{tube, key, shop, key.key.cup_shape.value_or(CupShape{}), plan};
  if (key.drilled && key.drilled->state == DrilledState::pilot)
    job.note("its hole is a pilot so far: the cup is sized to the hole that is wanted");
  plan.flush = job.shape.flush.value_or(false);
  measure_wall(job);
  if (plan.kind != CupKind::padded_cup) reach_into_hole(job);
  plan_flange(job);
  seat_on_skin(job);
  plan.notch = {plan.toward_mouth * 0.5 * plan.flange.length, 0.0};
  if (plan.kind == CupKind::padded_cup) {
    shape_padded_cup(job);
  } else {
    plan_pry_slot(job);
    shape_cup(job);
    check_walls(job);
  }
  engrave_id(job);
  choose_lie(job);
  return plan;
}

Expectation expectation_of(const CupPlan& plan, const Tube& tube) {
  return expectation_of(cup_part(plan), tube);
}

namespace cup_parts {

void Job::refuse(const std::string& why) const {
  throw GeometryError(plan.part(), "plan", why);
}

double Job::skin(Vec2 xy, double offset) const {
  return skin_hit(tube, plan.to_tube, xy, offset).height;
}

std::string mm(double value) {
  return fixed_text(value, 2) + " mm";
}

SkinHit seat_under(const Job& job, Vec2 xy) {
  const CupPlan& plan = job.plan;
  const bool in_slot = plan.pry_slot && std::abs(xy.y) < slot_half_width + 1e-6 &&
                       -xy.x * plan.toward_mouth > 0.5 * plan.flange.length - slot_depth - 1e-6;
  return skin_hit(job.tube, plan.to_tube, xy, plan.seat_offset + (in_slot ? slot_height : 0.0));
}

void over_flange(const CupPlan& plan, const std::function<void(Vec2)>& f) {
  const RoundedRectangle inner = plan.flange.inset(plan.chamfer);
  for_grid(inner, f);
  if (!plan.pry_slot) return;
  for (const double y : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
    for (const double from_edge : {0.0, slot_depth - plan.chamfer}) {
      Vec2 p{-plan.toward_mouth * (0.5 * inner.length - std::max(from_edge, 0.0)), y * slot_half_width};
      while (inner.distance(p) > 0.0) p.x *= 0.99;
      f(p);
    }
  }
}

OutlinePath flange_path(const CupPlan& plan) {
  if (plan.flush) return rounded_path(plan.flange);
  const OutlinePath path = with_notch(plan.flange, notch_radius, notch_depth, notch_lead);
  return plan.toward_mouth > 0.0 ? half_turned(path) : path;
}

double printed_hole(double radius, const Shop& shop) {
  return (radius + 0.5 * shop.printer.hole_undersize) / (1.0 - shop.printer.shrinkage);
}

double spigot_in(double hole_radius, const Shop& shop, bool measured) {
  // Printed, it comes out smaller than the hole by the fit, and never larger than the smallest hole the drill
  // makes; drawn, neither, whatever the printer shrinks.
  const double smallest = measured ? hole_radius : 0.5 * least_drill_diameter(2.0 * hole_radius);
  const double printed = std::min(hole_radius - shop.fits.spigot, smallest);
  return std::min(printed / (1.0 - shop.printer.shrinkage), smallest);
}

}  // namespace cup_parts

}  // namespace culmwright
