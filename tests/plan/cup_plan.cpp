#include "plan/cup_plan.hpp"

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
  CHECK(says(refusal(tube, placed_key(tube, {150, 0}, 6.0, CupKind::switch_seat, {10, 10, 5})), "pocket"));
}

TEST_CASE("every wall of every kind of cup is 1.2 at least, measured square to the seat") {
  const Tube tube(test::culm());
  for (const CupKind kind :
       {CupKind::switch_seat, CupKind::touch_cap, CupKind::padded_cup, CupKind::plug, CupKind::sleeve}) {
    const CupPlan plan =
        plan_cup(tube, placed_key(tube, {300, -20}, 11.0, kind, {20, 16, 6}), Shop{}, End::a);
    over_area(plan.flange.inset(plan.chamfer), [&](Vec2 p) {
      const bool over_hole = length(p) < plan.spigot_radius;
      if (over_hole) return 0.0;
      const SkinHit seat = skin_hit(tube, plan.to_tube, p, plan.seat_offset);
      CHECK((plan.upper(length(p)) - seat.height) * seat.facing >= 1.2);
      return 0.0;
    });
    if (plan.way_radius) CHECK(plan.spigot_radius - *plan.way_radius >= 1.2 - 1e-12);
  }
}

TEST_CASE("the planned volume of a round plug on a straight tube has its closed form") {
  // Flange of radius F on the cylinder R + g, spigot r down to R − L: the disc integrals of √(a² − y²) are
  // those of the plug table, checked above; here against a fine sum of slices.
  const Tube tube(test::round_tube(16, 16, 300, 4));
  const CupPlan plan = plan_cup(tube, placed_key(tube, {150, 0}, 10.0, CupKind::plug), Shop{}, End::a);
  REQUIRE(plan.flange.round());
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
  // Half of the notch's circle, a little less for the flange's roundness, under a flange 1.6 high.
  CHECK(notch > 0.40 * pi * 0.64 * 1.4);
  CHECK(notch < 0.50 * pi * 0.64 * 1.7);
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
