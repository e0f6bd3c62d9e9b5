/// What lies between a cup's seat and the finger: recess, way, touch, and the pad and lugs of a padded cup.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/cup_parts.hpp"
#include "plan/seated_levels.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright::cup_parts {

namespace {

using namespace cup_sizes;

constexpr double recess_corner = 0.4;     ///< a nozzle's: what fits is not rounder
constexpr double least_domed_half = 5.9;  ///< smaller, notch and chamfer leave a dome no room (by trial)
constexpr double flush_chamfer = 0.3;
constexpr double wall_spare = 0.02;  ///< the end is not quite highest in the middle
constexpr double least_dish = 0.3;   ///< deep: less is not felt
constexpr double flat_chamfer = 0.5;
constexpr double notch_land = 0.5;  ///< of the touch between dish and notch

double narrow_half(const CupPlan& plan) {
  return 0.5 * std::min(plan.flange.length, plan.flange.width);
}

void cut_way(const Job& job, double wanted) {
  CupPlan& plan = job.plan;
  if (wanted <= 0.0) return;
  const double widest = plan.spigot_radius - least_wall;
  plan.way_radius = std::min(printed_hole(0.5 * wanted, job.shop), widest);
  if (*plan.way_radius < 0.5 * least_wire_way) {
    job.refuse("the spigot, " + mm(2.0 * plan.spigot_radius) + " thick, is too thin for a way of " +
               mm(least_wire_way) + " with walls of " + mm(least_wall));
  }
  if (*plan.way_radius == widest)
    job.note("its way for the wires is " + mm(2.0 * widest) + " wide: all that the spigot leaves");
}

void bore_sleeve(const Job& job) {
  CupPlan& plan = job.plan;
  const double widest = plan.spigot_radius - least_wall;
  std::optional<double> wanted = job.shape.bore;
  if (!wanted && plan.hole.measured && job.key.key.hole_diameter < 2.0 * plan.hole.least)
    wanted = job.key.key.hole_diameter;
  if (!wanted) {
    plan.way_radius = widest;
    job.note("its bore is as wide as walls of " + mm(least_wall) +
             " allow: " + mm(2.0 * widest - job.shop.printer.hole_undersize) + " as printed");
  } else {
    plan.way_radius = printed_hole(0.5 * *wanted, job.shop);
  }
  if (*plan.way_radius > widest + 1e-9) {
    const double needed = 2.0 * (*plan.way_radius + least_wall + job.shop.fits.spigot);
    job.refuse("a sleeve with a bore of " + mm(*wanted) + " needs a hole of at least " + mm(needed) +
               "; this one is " + mm(2.0 * plan.hole.least) + ": open the hole, or do without the sleeve");
  }
  if (*plan.way_radius < 0.5 * least_wire_way) {
    job.refuse("the spigot, " + mm(2.0 * plan.spigot_radius) + " thick, is too thin for a way of " +
               mm(least_wire_way) + " with walls of " + mm(least_wall));
  }
  plan.countersink = countersink;
}

RoundedRectangle recess_outline(const Job& job, const Recess& recess) {
  if (recess.round()) {
    const double r = printed_hole(0.5 * recess.length, job.shop);
    return {2.0 * r, 2.0 * r, r};
  }
  return {2.0 * printed_hole(0.5 * recess.length, job.shop), 2.0 * printed_hole(0.5 * recess.width, job.shop),
          recess_corner};
}

/// Between a hollow and the flange's edge, its notch included; below 0 where it breaks through.
double wall_around(const CupPlan& plan, const OutlinePath& hollow) {
  const OutlinePath edge = flange_path(plan);
  double wall = 1e300;
  for (const PathPiece& piece : hollow) {
    for (int i = 0; i <= 8; ++i) {
      const Vec2 p = piece.at(i / 8.0);
      wall = std::min(wall, path_holds(edge, p) ? path_distance(edge, p) : -1.0);
    }
  }
  return wall;
}

std::string in_words(const Recess& recess) {
  return recess.round() ? mm(recess.length) + " across" : mm(recess.length) + " × " + mm(recess.width);
}

/// Its floor comes later; here what it needs across.
void fit_recess(const Job& job, const Recess& recess) {
  CupPlan& plan = job.plan;
  const RoundedRectangle outline = recess_outline(job, recess);
  const double wall = wall_around(plan, rounded_path(outline));
  const double least_half = 0.5 * std::min(outline.length, outline.width);
  if (wall < least_wall || (plan.way_radius && least_half < *plan.way_radius + 0.3)) {
    job.refuse("a recess (pocket) of " + in_words(recess) + " does not fit a flange of " +
               mm(plan.flange.length) + " × " + mm(plan.flange.width) + " with walls of " + mm(least_wall) +
               " and a way inside it");
  }
  plan.pocket = Pocket{outline, 0.0};
}

void plan_dish(const Job& job, TouchSurface surface) {
  CupPlan& plan = job.plan;
  if (surface != TouchSurface::dished) return;
  const double to_notch =
      plan.flush ? 1e300 : 0.5 * plan.flange.length - notch_depth - plan.chamfer - notch_land;
  const double rim = std::min(narrow_half(plan) - plan.chamfer - land, to_notch);
  double inner = plan.way_radius.value_or(0.0);
  if (plan.pocket) {
    const RoundedRectangle& p = plan.pocket->outline;
    inner =
        p.round() ? p.corner : length(Vec2{0.5 * p.length - p.corner, 0.5 * p.width - p.corner}) + p.corner;
  }
  if (rim - inner >= land && rim > 1.5) {
    plan.dish = Dish{rim, std::min(dish_depth, 0.2 * rim)};
  } else {
    job.note(plan.pocket ? "no dish: the recess takes the whole touch" : "no dish: the touch is too small");
  }
}

void plan_tilt(const Job& job) {
  const double tilt = job.shape.tilt.value_or(Angle()).radians();
  if (tilt == 0.0) return;
  // Toward the foot and to the player's left, in the cup's frame: with end B as the mouth end both turn
  // round.
  const Angle toward = job.shape.tilt_toward.value_or(Angle());
  const Vec2 looks = Vec2{toward.cos(), toward.sin()} * -job.plan.toward_mouth;
  job.plan.slope = looks * -std::tan(tilt);
}

/// The touch as low as its walls allow, or as high as is asked for.
void set_top(const Job& job) {
  CupPlan& plan = job.plan;
  plan.top = 0.0;
  double least = -1e300;
  over_flange(plan, [&](Vec2 p) {
    if (plan.pocket && plan.pocket->outline.distance(p) < 0.0) return;
    const SkinHit below = seat_under(job, p);
    const bool in_slot = below.height > job.skin(p, plan.seat_offset) + 1e-3;
    const double need = std::max(in_slot ? 0.0 : floor, least_wall / below.facing);
    least = std::max(least, below.height + need - (plan.pocket ? 0.0 : plan.upper(p)));
  });
  plan.top = least;
  if (plan.pocket) {
    plan.pocket->floor = plan.seat_high + floor;
    const double hollow = plan.dish ? plan.dish->depth : 0.0;
    const double depth = job.shape.recess.value_or(job.usual().recess).depth;
    plan.top = plan.pocket->floor + depth + hollow;
  }
  const double middle = plan.dome - (plan.dish ? plan.dish->depth : 0.0);
  if (job.shape.rise) {
    const double wanted = *job.shape.rise - middle;
    if (wanted < plan.top) {
      job.note("its touch rises " + mm(plan.top + middle) + " above the skin: " + mm(*job.shape.rise) +
               " would leave too thin a floor");
    } else if (plan.pocket) {
      plan.pocket->floor += wanted - plan.top;
      plan.top = wanted;
    } else {
      plan.top = wanted;
    }
  }
}

/// A cap whose touch lies at the lowest place of the hole's edge: nothing stands above the skin.
void shape_flush(const Job& job, TouchSurface surface) {
  CupPlan& plan = job.plan;
  double lowest = 1e300;
  for_grid(plan.flange, [&](Vec2 p) { lowest = std::min(lowest, job.skin(p, 0.0)); });
  plan.chamfer = flush_chamfer;
  if (surface == TouchSurface::domed)
    plan.dome = std::min(dome_rise, std::min(0.2 * plan.spigot_radius, -lowest));
  plan_dish(job, surface);
  plan.top = lowest;
  if (plan.dish) {
    // As deep as the wall under its middle allows; the spigot's end lies highest there.
    const SkinHit end = skin_hit(job.tube, plan.to_tube, {}, -plan.spigot_length);
    const double hollow = lowest - end.height - (least_wall + wall_spare) / end.facing;
    plan.dish->depth = std::min(plan.dish->depth, hollow);
    if (plan.dish->depth < least_dish) {
      plan.dish.reset();
      job.note("no dish: the wall of the tube is too thin for one");
    }
  }
  job.note(
      "flush: set it level with the skin while the glue sets, the top of its id toward the mouth end; it is "
      "pushed out from the bore");
}

}  // namespace

void shape_cup(const Job& job) {
  CupPlan& plan = job.plan;
  const bool seat = plan.kind == CupKind::switch_seat;
  const bool cap = plan.kind == CupKind::touch_cap;
  const TouchSurface surface =
      seat || cap ? job.shape.surface.value_or(job.usual().surface) : TouchSurface::flat;
  if (seat) cut_way(job, job.shape.wire_way.value_or(job.usual().wire_way));
  if (cap) cut_way(job, job.shape.wire_way.value_or(0.0));
  if (plan.kind == CupKind::sleeve) bore_sleeve(job);
  if (plan.flush) {
    shape_flush(job, surface);
    return;
  }
  plan.chamfer = chamfer;
  if (seat) fit_recess(job, job.shape.recess.value_or(job.usual().recess));
  plan_dish(job, surface);
  if (surface == TouchSurface::domed && narrow_half(plan) >= least_domed_half) {
    plan.dome = std::min(dome_rise, 0.2 * narrow_half(plan));
  } else if (surface == TouchSurface::domed) {
    job.note("no dome: the touch is too small");
  }
  plan_tilt(job);
  // A thin flat flange has a smaller chamfer: its edge lies low over the slot for prying.
  const bool flat =
      !plan.dish && !plan.pocket && plan.dome == 0.0 && plan.slope.x == 0.0 && plan.slope.y == 0.0;
  if (flat) plan.chamfer = flat_chamfer;
  set_top(job);
}

double pad_diameter(const Job& job) {
  if (job.shape.pad_diameter) return *job.shape.pad_diameter;
  const CupHole& hole = job.plan.hole;
  const double wanted = 2.0 * (hole.greatest + hole.chip_out + job.usual().pad_over_rim);
  return pad_step * std::ceil(wanted / pad_step - 1e-9);
}

namespace {

void check_pad_covers(const Job& job, const PadSeat& pad) {
  const CupHole& hole = job.plan.hole;
  const double least = 2.0 * (hole.greatest + hole.chip_out) + 1.0;
  if (pad.diameter >= least) return;
  job.refuse("a pad of " + mm(pad.diameter) + " does not cover the hole, " + mm(2.0 * hole.greatest) +
             (hole.chip_out > 0.0 ? " and chipped out by " + mm(hole.chip_out) : "") + ": at least " +
             mm(least) + " is needed");
}

void land_on_saddle(PadSeat& pad) {
  pad.rim = Level::skin(std::max(pad.thickness * (1.0 - pad_covered), clear_of_skin));
  pad.floor = Level::skin(pad.thickness);
}

void land_on_facet(const Job& job, PadSeat& pad) {
  const CupPlan& plan = job.plan;
  const double r = 0.5 * pad.diameter;
  double lowest = 0.0;
  for_grid({2 * r, 2 * r, r}, [&](Vec2 p) { lowest = std::min(lowest, job.skin(p, 0.0)); });
  double crown = -1e300;
  for_grid(plan.flange, [&](Vec2 p) { crown = std::max(crown, job.skin(p, 0.0)); });
  pad.facet_depth = -lowest;
  pad.facet_width = pad.diameter;
  pad.facet_leaves = plan.wall - pad.facet_depth;
  if (pad.facet_leaves < job.usual().wall_under_facet) {
    job.refuse("a flat for a pad of " + mm(pad.diameter) + " would be " + mm(pad.facet_depth) +
               " deep and leave " + mm(std::max(pad.facet_leaves, 0.0)) + " of the wall; at least " +
               mm(job.usual().wall_under_facet) +
               " must stay: choose \"land\": \"saddle\", or a smaller pad");
  }
  const double edge = std::max(lowest + pad.thickness * (1.0 - pad_covered), crown + clear_of_skin);
  const double behind = lowest + pad.thickness;
  if (behind - edge < least_pad_hold) {
    job.refuse("a pad " + mm(pad.thickness) + " thick is too thin for a flat " + mm(pad.facet_depth) +
               " deep: the cup's edge would touch the skin; at least " + mm(edge - lowest + least_pad_hold) +
               " is needed");
  }
  pad.rim = Level::plane(edge);
  pad.floor = Level::plane(behind);
}

void add_lugs(const Job& job, double top_half_length, double top_half_width) {
  CupPlan& plan = job.plan;
  if (!job.shape.lugs.value_or(job.usual().lugs)) return;
  PinLugs lugs;
  lugs.pin_radius = printed_hole(0.5 * job.shape.pin.value_or(job.usual().pin), job.shop);
  lugs.half_width = lugs.pin_radius + lug_wall;
  lugs.pin_height = lugs.half_width + lug_lift;
  lugs.apart = job.shape.arm_width.value_or(job.usual().arm_width) + 2.0 * arm_room;
  const double reach = 0.5 * lugs.apart + lug_thickness;
  // The corners of both feet, on the flat of the touch.
  const RoundedRectangle flat = plan.flange.inset(plan.chamfer + 0.3);
  if (flat.distance({lugs.half_width, reach}) > 0.0) {
    job.note("no lugs: for an arm " + mm(lugs.apart - 2.0 * arm_room) +
             " wide they would stand beyond the touch, " + mm(2.0 * top_half_length) + " × " +
             mm(2.0 * top_half_width));
    return;
  }
  plan.lugs = lugs;
}

}  // namespace

void shape_padded_cup(const Job& job) {
  CupPlan& plan = job.plan;
  plan.chamfer = chamfer;
  PadSeat pad;
  pad.diameter = pad_diameter(job);
  pad.thickness = job.shape.pad_thickness.value_or(job.usual().pad_thickness);
  pad.radius = printed_hole(0.5 * pad.diameter + pad_room, job.shop);
  pad.land = job.shape.land.value_or(job.usual().land);
  check_pad_covers(job, pad);
  if (wall_around(plan, circle_path({}, pad.radius)) < least_wall) {
    job.refuse("a pad of " + mm(pad.diameter) + " does not fit a cup " + mm(2.0 * narrow_half(plan)) +
               " wide with walls of " + mm(least_wall));
  }
  if (pad.land == PadLand::saddle) {
    land_on_saddle(pad);
  } else {
    land_on_facet(job, pad);
  }
  const double hole = 2.0 * plan.hole.greatest;
  pad.opens_floor = 0.25 * hole;
  pad.opens = hole / 3.0;
  plan.pad = pad;
  add_lugs(job, 0.5 * plan.flange.length - plan.chamfer, 0.5 * plan.flange.width - plan.chamfer);
  const TouchSurface surface = job.shape.surface.value_or(job.usual().surface);
  if (!plan.lugs) plan_dish(job, surface);
  const bool flat = pad.floor.kind != Level::Kind::skin;
  double behind = -1e300;
  double edge = -1e300;
  for_grid({2.0 * pad.radius, 2.0 * pad.radius, pad.radius}, [&](Vec2 p) {
    behind = std::max(behind, flat ? pad.floor.height : job.skin(p, pad.floor.offset));
  });
  for_grid(plan.flange,
           [&](Vec2 p) { edge = std::max(edge, flat ? pad.rim.height : job.skin(p, pad.rim.offset)); });
  const double hollow = plan.dish ? plan.dish->depth : 0.0;
  plan.top = std::max(behind + floor + hollow, edge + plan.chamfer + 0.5);
  job.note("pad " + number_text(pad.diameter) + " across, " + number_text(pad.thickness) +
           " thick; the arm lifts it " + fixed_text(pad.opens, 1) + " at least, a third of the hole; under " +
           fixed_text(pad.opens_floor, 1) + ", a quarter, the opening chokes");
  if (pad.land == PadLand::facet) {
    job.note("file or spot-face a flat " + fixed_text(pad.facet_width, 1) + " across around the hole, " +
             fixed_text(pad.facet_depth, 2) + " deep at its middle: it leaves " +
             fixed_text(pad.facet_leaves, 1) + " of the wall");
  }
}

}  // namespace culmwright::cup_parts
