#include "plan/cup_plan.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "plan/sample_cups.hpp"
#include "plan/skin_ray.hpp"

using namespace culmwright;
using samples::placed_key;

namespace {

std::string refusal(const Tube& tube, const PlacedKey& key) {
  try {
    plan_cup(tube, key, Shop{}, End::a);
  } catch (const GeometryError& error) {
    return error.what();
  }
  return "";
}

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a rounded rectangle's area, edge and distance agree with integrals over it") {
  const RoundedRectangle outline{20.0, 14.0, 4.0};
  CHECK(over_area(outline, [](Vec2) { return 1.0; }) == Approx(outline.area()).epsilon(1e-5));
  CHECK(along_edge(outline, [](Vec2) { return 1.0; }) == Approx(outline.perimeter()).epsilon(1e-12));
  for (int i = 0; i < 36; ++i) {
    const Angle phi = Angle::from_degrees(10.0 * i + 1.0);
    CHECK(std::abs(outline.distance(Vec2{phi.cos(), phi.sin()} * outline.reach(phi))) < 1e-12);
  }
  CHECK(outline.distance({12.0, 0.0}) == Approx(2.0));
  CHECK(outline.distance({13.0, 11.0}) == Approx(std::hypot(7.0, 8.0) - 4.0));
  CHECK(outline.distance({0.0, -6.0}) == Approx(-1.0));
}

TEST_CASE("the plug between skin and bore has the volumes of the table of plugs") {
  // REFERENCES, "Plug cut from one wall (outer, inner, drill radius)"; calculated.
  const double table[3][4] = {{15, 12, 4, 152.531627}, {20, 15, 6, 574.389424}, {13, 9.5, 5, 282.461720}};
  for (const auto& [outer, inner, drill, volume] : table) {
    const Tube tube(test::round_tube(outer, outer, 200, outer - inner));
    const RigidMotion frame = rim_frame(drilling_at(tube, {100, 7}, HoleSquare::to_skin, drill));
    const double plug = over_disc(drill, [&](Vec2 p) {
      return skin_hit(tube, frame, p, 0.0).height - skin_hit(tube, frame, p, inner - outer).height;
    });
    CHECK(plug == Approx(volume).epsilon(1e-7));
  }
}

TEST_CASE("a ray's meeting point with the skin agrees with the rim of a hole") {
  const Tube tube(test::culm());
  const Drilling drilling = drilling_at(tube, {91, 11}, HoleSquare::to_skin, 6.0);
  for (const RimPoint& rim_point : rim(tube, drilling, 12)) {
    const Vec2 xy{6.0 * rim_point.phi.cos(), 6.0 * rim_point.phi.sin()};
    CHECK(skin_hit(tube, rim_frame(drilling), xy, 0.0).height == Approx(rim_point.depth).margin(1e-9));
  }
}

TEST_CASE("a cup's spigot is smaller than the hole by the fit, and never reaches the bore") {
  const Tube tube(test::culm());
  const PlacedKey key = placed_key(tube, {150, 20}, 10.0, CupKind::touch_cap);
  const CupPlan plan = plan_cup(tube, key, Shop{}, End::a);
  CHECK(plan.spigot_radius == Approx(4.85));
  const double deepest = skin_hit(tube, plan.to_tube, {}, -plan.spigot_length).height;
  CHECK(deepest > bore_depth(tube, {key.drilling.point, key.drilling.axis, 1e-6}, Angle()) + 0.49);
  CHECK(plan.notch.x == Approx(-8.0));
  CHECK(plan_cup(tube, key, Shop{}, End::b).notch.x == Approx(8.0));
}

TEST_CASE("a spigot drawn for a printer that shrinks never exceeds the smallest hole its drill makes") {
  // h8, 6 to 10 mm: lower deviation 22 µm (ISO 286; a catalogue page citing DIN 1414).
  CHECK(least_drill_diameter(10.0) == Approx(9.978));
  CHECK(least_drill_diameter(3.0) == Approx(2.986));
  const Tube tube(test::round_tube(16, 16, 300, 4));
  Shop shop;
  shop.printer.shrinkage = 0.05;
  const CupPlan plan = plan_cup(tube, placed_key(tube, {150, 0}, 10.0, CupKind::plug), shop, End::a);
  CHECK(plan.spigot_radius == Approx(0.5 * 9.978));
}

TEST_CASE("a wall too thin for a spigot, a flange too wide, and one beyond the end are refused by name") {
  const Tube thin(test::round_tube(16, 16, 300, 1.4));
  CHECK(says(refusal(thin, placed_key(thin, {150, 0}, 10.0, CupKind::touch_cap)), "key cup L1"));
  CHECK(says(refusal(thin, placed_key(thin, {150, 0}, 10.0, CupKind::touch_cap)), "wall, 1.40 mm"));
  const Tube narrow(test::round_tube(9, 9, 300, 3));
  CHECK(says(refusal(narrow, placed_key(narrow, {150, 0}, 8.0, CupKind::touch_cap)), "too wide"));
  const Tube tube(test::round_tube(16, 16, 300, 4));
  CHECK(says(refusal(tube, placed_key(tube, {324, 0}, 10.0, CupKind::touch_cap)), "beyond the end"));
  CHECK(says(refusal(tube, placed_key(tube, {150, 0}, 3.0, CupKind::sleeve)), "way"));
  CHECK(says(refusal(tube, placed_key(tube, {150, 0}, 6.0, CupKind::switch_seat, {10, 10, 5})), "recess"));
}

TEST_CASE("every wall of every kind of cup is 1.2 at least, measured square to the seat") {
  const Tube tube(test::culm());
  for (const CupKind kind :
       {CupKind::switch_seat, CupKind::touch_cap, CupKind::padded_cup, CupKind::plug, CupKind::sleeve}) {
    const CupPlan plan =
        plan_cup(tube, placed_key(tube, {300, -20}, 11.0, kind, {20, 16, 6}), Shop{}, End::a);
    over_area(plan.flange.inset(plan.chamfer), [&](Vec2 p) {
      const bool over_hole = length(p) < plan.spigot_radius;
      if (over_hole || plan.pad) return 0.0;
      const SkinHit seat = skin_hit(tube, plan.to_tube, p, plan.seat_offset);
      CHECK((plan.upper(p) - seat.height) * seat.facing >= 1.2);
      return 0.0;
    });
    if (plan.way_radius) CHECK(plan.spigot_radius - *plan.way_radius >= 1.2 - 1e-12);
  }
}

TEST_CASE("the planned volume of a round plug on a straight tube has its closed form") {
  // Flange of radius F on the cylinder R + g, spigot r down to R − L: the disc integrals of √(a² − y²) are
  // those of the plug table, checked above; here against a fine sum of slices.
  const Tube tube(test::round_tube(16, 16, 300, 4));
  CupPlan plan = plan_cup(tube, placed_key(tube, {150, 0}, 10.0, CupKind::plug), Shop{}, End::a);
  REQUIRE(plan.flange.round());
  plan.pry_slot = false;
  plan.id.reset();
  plan.lead_in = 0.0;
  const auto slices = [](double radius, double a, double top) {
    double sum = 0.0;
    for (int i = 0; i < 200000; ++i) {
      const double y = -radius + (i + 0.5) * radius / 100000;
      sum += 2.0 * std::sqrt(radius * radius - y * y) * (top - std::sqrt(a * a - y * y)) * radius / 100000;
    }
    return sum;
  };
  const double top = 16.0 + plan.top;
  const double flange = 0.5 * plan.flange.length;
  const double c = plan.chamfer;
  // The chamfer's ring: the part of the cylinder of height c outside the frustum.
  const double inner = flange - c;
  const double ring = pi * c * (flange * flange - (flange * flange + flange * inner + inner * inner) / 3.0);
  const double spigot =
      slices(plan.spigot_radius, 16.0 - plan.spigot_length, 50.0) - slices(plan.spigot_radius, 16.1, 50.0);
  const double expected = slices(flange, 16.1, top) - ring + spigot;
  const double notch = expected - expectation_of(plan, tube).volume;
  // Half of the notch's circle and what its two leads round off, in a flange about 1.9 high there.
  const double under = 0.5 * pi * 0.8 * 0.8;
  CHECK(notch > under * 1.3);
  CHECK(notch < 3.0 * under * 2.0);
}

TEST_CASE("a spigot's end with its lead-in broken off has the closed form of a cone's ring") {
  const Tube tube(test::round_tube(16, 16, 300, 4));
  CupPlan with = plan_cup(tube, placed_key(tube, {150, 0}, 10.0, CupKind::plug), Shop{}, End::a);
  CupPlan without = with;
  without.lead_in = 0.0;
  // The ring cut off a straight cylinder is ½ · c · height · 2π(r − c/3); the height along the axis of c
  // measured square to a cylinder of radius R is c / √(1 − (r sin φ / R)²), here its mean around.
  const double c = with.lead_in;
  const double r = with.spigot_radius;
  const double R = 16.0 - with.spigot_length;
  const double height = integrate(
      [&](double phi) { return c / std::sqrt(1.0 - std::pow(r * std::sin(phi) / R, 2)) / (2.0 * pi); }, 0.0,
      2.0 * pi, 8);
  const double ring = 0.5 * c * height * 2.0 * pi * (r - c / 3.0);
  CHECK(expectation_of(without, tube).volume - expectation_of(with, tube).volume ==
        Approx(ring).epsilon(0.005));
}

TEST_CASE("a hole as it came out: spigot from the smaller diameter, flange from the greater and the chip") {
  const Tube tube(test::round_tube(16, 16, 300, 4));
  PlacedKey key = placed_key(tube, {150, 0}, 9.0, CupKind::touch_cap, {12, 12, 6});
  DrilledHole drilled;
  drilled.across_along = 9.4;
  drilled.across_around = 9.2;
  drilled.chip_out = 0.6;
  drilled.wall = 3.0;
  key.drilled = drilled;
  key.drilling.radius = 4.7;
  const CupPlan plan = plan_cup(tube, key, Shop{}, End::a, 0.05, 0.15);
  // Two standard deviations of the caliper off the smaller: 9.1; less 0.15 a side.
  CHECK(2.0 * plan.spigot_radius == Approx(9.1 - 0.3));
  CHECK(plan.flange.length == Approx(9.4 + 0.1 + 2.0 * (0.6 + cup_sizes::lip)));
  // By the hook gauge less its error, not the survey's 4; half a millimetre short of the bore.
  CHECK(plan.wall == Approx(2.85));
  CHECK(plan.spigot_length == Approx(2.35));
  CHECK(std::any_of(plan.notes.begin(), plan.notes.end(),
                    [](const std::string& n) { return says(n, "what chipped out"); }));
  key.drilled->state = DrilledState::pilot;
  key.drilling.radius = 4.5;
  CHECK(2.0 * plan_cup(tube, key, Shop{}, End::a).spigot_radius == Approx(8.7));
}

TEST_CASE("no spigot is larger than its hole, for any drill under h8 and any shrinkage") {
  // ISO 286 h8: a drill is never larger than its nominal size and by so much smaller at most.
  const Tube tube(test::round_tube(40, 40, 300, 6));
  for (const double hole : {5.0, 6.0, 8.5, 10.0, 14.0, 18.0, 25.0, 30.0}) {
    for (const double shrinkage : {-0.02, 0.0, 0.004, 0.02, 0.05}) {
      for (const double fit : {0.0, 0.05, 0.15}) {
        Shop shop;
        shop.printer.shrinkage = shrinkage;
        shop.fits.spigot = fit;
        const CupPlan plan = plan_cup(tube, placed_key(tube, {150, 0}, hole, CupKind::plug), shop, End::a);
        const double printed = 2.0 * plan.spigot_radius * (1.0 - shrinkage);
        CHECK(printed <= least_drill_diameter(hole) + 1e-9);
        CHECK(printed <= hole - 2.0 * fit + 1e-9);
        CHECK(2.0 * plan.spigot_radius <= least_drill_diameter(hole) + 1e-9);
      }
    }
  }
}

TEST_CASE("a pad's opening follows the curtain rule, and a flat for it is the chord's sagitta deep") {
  // REFERENCES, Pads: πdh = πd²/4 gives h = d/4 (calculated); a third of the diameter (a clarinet page,
  // seen).
  const Tube tube(test::round_tube(16, 16, 300, 4));
  PlacedKey key = placed_key(tube, {150, 0}, 9.0, CupKind::padded_cup, {18, 18, 9});
  key.key.cup_shape = CupShape{};
  key.key.cup_shape->land = PadLand::facet;
  const CupPlan plan = plan_cup(tube, key, Shop{}, End::a);
  REQUIRE(plan.pad);
  CHECK(pi * 9.0 * plan.pad->opens_floor == Approx(pi * 81.0 / 4.0));
  CHECK(plan.pad->opens == Approx(3.0));
  CHECK(plan.pad->diameter == Approx(12.0));  // 9 + 2 · 1.5, in steps of 0.5
  CHECK(plan.pad->facet_depth == Approx(16.0 - std::sqrt(16.0 * 16.0 - 36.0)));
  CHECK(plan.pad->facet_leaves == Approx(4.0 - plan.pad->facet_depth));
  const Tube thin(test::round_tube(16, 16, 300, 2.4));
  PlacedKey other = placed_key(thin, {150, 0}, 9.0, CupKind::padded_cup, {18, 18, 9});
  other.key.cup_shape = key.key.cup_shape;
  CHECK(says(refusal(thin, other), "of the wall"));
  other.key.cup_shape->land = PadLand::saddle;
  CHECK(refusal(thin, other).empty());
  other.key.cup_shape->pad_diameter = 9.5;
  CHECK(says(refusal(thin, other), "does not cover the hole"));
}

TEST_CASE("a closed pad lies on the skin, and nothing else of its cup comes nearer than 0.4") {
  const Tube tube(test::culm());
  const CupPlan plan =
      plan_cup(tube, placed_key(tube, {150, 20}, 8.0, CupKind::padded_cup, {18, 18, 9}), Shop{}, End::a);
  REQUIRE(plan.pad);
  const SeatedPart part = cup_part(plan);
  over_disc(plan.pad->radius, [&](Vec2 p) {
    const double floor = skin_hit(tube, plan.to_tube, p, plan.pad->floor.offset).height;
    CHECK(skin_distance(tube, plan.to_tube, {p.x, p.y, floor}, 0.0) ==
          Approx(plan.pad->thickness).epsilon(1e-3));
    return 0.0;
  });
  CHECK(plan.pad->rim.offset >= cup_sizes::clear_of_skin);
  CHECK(plan.lugs);
  CHECK(part.lugs.size() == 2);
}

TEST_CASE("a sleeve's bore prints as wide as it is wanted, and a hole too narrow for it is refused") {
  const Tube tube(test::round_tube(16, 16, 300, 4));
  PlacedKey key = placed_key(tube, {150, 0}, 11.0, CupKind::sleeve);
  key.key.cup_shape = CupShape{};
  key.key.cup_shape->bore = 8.0;
  const Shop shop;
  const CupPlan plan = plan_cup(tube, key, shop, End::a);
  CHECK(2.0 * *plan.way_radius - shop.printer.hole_undersize == Approx(8.0));
  key.key.cup_shape->bore = 9.0;
  CHECK(says(refusal(tube, key), "needs a hole of at least"));
  // A hole that came out too wide takes a sleeve with the bore that was wanted.
  PlacedKey wide = placed_key(tube, {150, 0}, 8.0, CupKind::sleeve);
  wide.drilled = DrilledHole{};
  wide.drilled->across_along = wide.drilled->across_around = 11.2;
  wide.drilling.radius = 5.6;
  CHECK(2.0 * *plan_cup(tube, wide, shop, End::a).way_radius - shop.printer.hole_undersize == Approx(8.0));
}

TEST_CASE("a tilted touch looks where it is told to, whichever end is the mouth") {
  const Tube tube(test::round_tube(16, 16, 300, 4));
  PlacedKey key = placed_key(tube, {150, 0}, 9.0, CupKind::touch_cap);
  key.key.cup_shape = CupShape{};
  key.key.cup_shape->tilt = Angle::from_degrees(6.0);
  for (const End mouth : {End::a, End::b}) {
    const double foot = mouth == End::a ? 1.0 : -1.0;  // along x
    key.key.cup_shape->tilt_toward = Angle::from_degrees(0.0);
    CupPlan plan = plan_cup(tube, key, Shop{}, mouth);
    // Looking toward the foot, the touch falls that way.
    CHECK(plan.slope.x * foot == Approx(-std::tan(Angle::from_degrees(6.0).radians())));
    CHECK(plan.slope.y == Approx(0.0).margin(1e-12));
    // The player's left is the right of the onlooker who holds the mouth end up (DESIGN, directions): with A
    // up that is growing θ, the cup's y.
    key.key.cup_shape->tilt_toward = Angle::from_degrees(90.0);
    plan = plan_cup(tube, key, Shop{}, mouth);
    CHECK(plan.slope.y * foot == Approx(-std::tan(Angle::from_degrees(6.0).radians())));
  }
}

TEST_CASE("a flush cap stays under the skin and its spigot short of the bore") {
  const Tube tube(test::round_tube(16, 16, 300, 4));
  PlacedKey key = placed_key(tube, {150, 0}, 10.0, CupKind::touch_cap);
  key.key.cup_shape = CupShape{};
  key.key.cup_shape->flush = true;
  for (const TouchSurface surface : {TouchSurface::flat, TouchSurface::dished, TouchSurface::domed}) {
    key.key.cup_shape->surface = surface;
    const CupPlan plan = plan_cup(tube, key, Shop{}, End::a);
    over_disc(plan.spigot_radius, [&](Vec2 p) {
      CHECK(plan.upper(p) <= skin_hit(tube, plan.to_tube, p, 0.0).height + 1e-9);
      return 0.0;
    });
  }
}

TEST_CASE("a notch's edge has no corner, and its area the closed form of its arcs") {
  for (const RoundedRectangle& outline :
       {RoundedRectangle{16, 16, 8}, RoundedRectangle{22, 15, 5}, RoundedRectangle{20, 14, 7}}) {
    const OutlinePath path = with_notch(outline, 0.8, 0.8, 1.0);
    for (std::size_t i = 0; i < path.size(); ++i) {
      const PathPiece& next = path[(i + 1) % path.size()];
      CHECK(length(path[i].at(1.0) - next.at(0.0)) < 1e-9);
      CHECK(length(path[i].inward(1.0) - next.inward(0.0)) < 1e-6);
    }
    CHECK(over_path(path, [](Vec2) { return 1.0; }) == Approx(path_area(path)).epsilon(1e-9));
    const double taken = outline.area() - path_area(path);
    CHECK(taken > 0.5 * pi * 0.64);  // the half circle of radius 0.8 and its leads
    CHECK(taken < 1.0 * pi * 0.64 + 1.0);
    CHECK(
        path_area(moved_in(path, 0.5)) ==
        Approx(path_area(path) - 0.5 * path_length(path) + 0.25 * pi).epsilon(1e-9));  // Steiner, smooth edge
    CHECK(path_distance(path, {-0.5 * outline.length + 0.8, 0.0}) < 1e-12);
  }
}

TEST_CASE("engraved ids keep to their face, read from the side they are on and are as wide as the nozzle") {
  const Tube tube(test::culm());
  for (const CupKind kind : {CupKind::touch_cap, CupKind::plug, CupKind::padded_cup, CupKind::switch_seat}) {
    const CupPlan plan = plan_cup(tube, placed_key(tube, {300, -20}, 9.0, kind, {22, 18, 6}), Shop{}, End::a);
    REQUIRE(plan.id);
    // Strokes are 0.6 in letters 5 high (stroke_letters.hpp); the nozzle is 0.4.
    CHECK(plan.id->letter_height * 0.6 / 5.0 >= 0.4 - 1e-9);
    for (const std::vector<Vec2>& outline : plan.id->outlines) {
      CHECK(polygon_area(outline) > 0.0);
      for (const Vec2& p : outline) CHECK(plan.flange.distance(p) < -0.6);
    }
  }
}

TEST_CASE("turning the tube turns the cup and changes nothing of it") {
  TubeShape shape = test::round_tube(16, 16, 300, 4);
  const Tube tube(shape);
  const CupPlan here = plan_cup(tube, placed_key(tube, {150, 0}, 10.0, CupKind::switch_seat), Shop{}, End::a);
  const CupPlan there =
      plan_cup(tube, placed_key(tube, {150, 16}, 10.0, CupKind::switch_seat), Shop{}, End::a);
  CHECK(here.top == Approx(there.top).epsilon(1e-12));
  CHECK(expectation_of(here, tube).volume == Approx(expectation_of(there, tube).volume).epsilon(1e-10));
}
