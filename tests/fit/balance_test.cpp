#include "fit/balance.hpp"

#include <catch2/catch.hpp>

#include "instruments.hpp"
#include "tube/mass.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

constexpr double kg_per_m3 = 1e-6;  // g/mm³

Tube weighed(double length = 400.0) {
  TubeShape shape = round_tube(15, 15, length, 4);
  shape.density = 700 * kg_per_m3;
  return Tube(shape);
}

Instrument bare(const Tube& tube) {
  Instrument instrument;
  instrument.tube_id = tube.id();
  instrument.mouth_cut_at = tube.end_a_at();
  instrument.foot_cut_at = tube.end_b_at();
  return instrument;
}

PlacedPart part(const Tube& tube, const std::string& id, PartKind kind, double at, double degrees,
                double mass_g) {
  PlacedPart placed;
  placed.part.id = id;
  placed.part.kind = kind;
  placed.part.mass_g = mass_g;
  const SkinPoint skin = tube.skin_point(at, Angle::from_degrees(degrees));
  placed.place = skin.place;
  placed.along = at;
  placed.theta = skin.theta;
  placed.point = skin.point;
  placed.normal = skin.normal;
  return placed;
}

}  // namespace

TEST_CASE("a tube with two weights balances and turns about its rest as calculated by hand") {
  // Tube 30/22 × 400, 91.483 g at 700 kg/m³; 30 g at −20 and 50 g at 320: centre 196.5011, torque about 180
  // 0.0277495 N·m (g = 9.80665; calculated).
  const Tube tube = weighed();
  Instrument instrument = bare(tube);
  instrument.parts = {part(tube, "mouthpiece", PartKind::mouthpiece, -20, 0, 30),
                      part(tube, "box", PartKind::other, 320, 180, 50),
                      part(tube, "rest", PartKind::thumb_rest, 180, 180, 0)};
  const auto balance = balance_of(tube, instrument, Angle(), 1.0, 0.5);
  REQUIRE(balance);
  CHECK(balance->mass_g.value == Approx(171.483).margin(1e-3));
  CHECK(balance->along.value == Approx(196.5011).margin(1e-4));
  REQUIRE(balance->torque);
  CHECK(balance->torque->value == Approx(27.7495).margin(1e-3));
  // Where the rest would have to be for none.
  CHECK(*balance->neutral_along == Approx(196.5011).margin(1e-4));
  // The ballast at the mouth end that lifts the foot: m · 180 = 171.483 · 16.5011.
  CHECK(*balance->ballast_g == Approx(171.483 * 16.5011 / 180).epsilon(1e-4));
  CHECK(*balance->ballast_end == End::a);
}

TEST_CASE("upright the tube stands on its rest, and only its girth has a lever") {
  const Tube tube = weighed();
  Instrument instrument = bare(tube);
  instrument.parts = {part(tube, "rest", PartKind::thumb_rest, 180, 180, 0)};
  const double weight = 91.483e-3 * standard_gravity;
  const auto upright = balance_of(tube, instrument, Angle::from_degrees(90), 1.0, 0.5);
  CHECK(upright->torque->value == Approx(weight * 15.0).epsilon(1e-4));
  const auto slanted = balance_of(tube, instrument, Angle::from_degrees(40), 1.0, 0.5);
  CHECK(slanted->torque->value ==
        Approx(weight * (20.0 * std::cos(40 * pi / 180) + 15.0 * std::sin(40 * pi / 180))).epsilon(1e-4));
}

TEST_CASE("a bowed tube rolls toward its belly by the mean of the bow") {
  // Round, so h′ at the rest is the bow's own part there; the centre of gravity stands off by the mean
  // bow 1.25 (natural cubic through 0, 2, 0), the rest stands under the middle, where the axis stands off by
  // 2, at 180° with the bow toward 90°: arm = h′(180°) − g·t = −2 + 1.25, the bow's part being c·t = −2
  // there.
  TubeShape shape = round_tube(15, 15, 300, 4);
  const std::vector<double> at{0, 150, 300};
  shape.skin =
      FourierAlong({{0, constant(15.0), {}},
                    {1, constant(0.0), PiecewiseCubic::spline(at, {0, 2, 0}, {false, false, false})}});
  shape.density = 700 * kg_per_m3;
  const Tube tube{shape};
  Instrument instrument = bare(tube);
  instrument.parts = {part(tube, "rest", PartKind::thumb_rest, 150, 180, 0)};
  const auto balance = balance_of(tube, instrument, Angle::from_degrees(30), 1.0, 0.5);
  REQUIRE(balance->roll);
  CHECK(balance->roll->arm == Approx(-2.0 + 1.25).epsilon(1e-6));
  CHECK(balance->roll->torque ==
        Approx(-0.75 * balance->mass_g.value * 1e-3 * standard_gravity * std::cos(30 * pi / 180))
            .epsilon(1e-6));
}

TEST_CASE("a hole weighs as much less as its plug") {
  // Plug cut from one wall (outer, inner, drill radius): (15, 12, 4) 152.531627 mm³ (calculated).
  TubeShape shape = round_tube(15, 15, 300, 3);
  shape.density = 700 * kg_per_m3;
  const Tube tube{shape};
  Drilled drilled(tube);
  drilled.hole(8.0, 100.0, 5.0);
  const Instrument instrument = assemble(tube, drilled.layout, drilled.placement);
  const auto balance = balance_of(tube, instrument, Angle(), 1.0, 0.5);
  const double whole = mass_of(tube, 0, 300)->mass_g;
  CHECK(whole - balance->mass_g.value == Approx(152.531627 * 700 * kg_per_m3).epsilon(3e-3));
}

TEST_CASE("turning the piece end for end changes no weight and no torque") {
  const Tube tube = weighed();
  Instrument a = bare(tube);
  a.parts = {part(tube, "box", PartKind::other, 300, 0, 40),
             part(tube, "rest", PartKind::thumb_rest, 150, 180, 0)};
  Instrument b = a;
  b.mouth_end = End::b;
  std::swap(b.mouth_cut_at, b.foot_cut_at);
  b.parts = {part(tube, "box", PartKind::other, 100, 0, 40),
             part(tube, "rest", PartKind::thumb_rest, 250, 180, 0)};
  for (PlacedPart& placed : b.parts) placed.along = 400 - placed.place.at;
  const auto first = balance_of(tube, a, Angle::from_degrees(35), 1.0, 0.5);
  const auto second = balance_of(tube, b, Angle::from_degrees(35), 1.0, 0.5);
  CHECK(first->torque->value == Approx(second->torque->value).epsilon(1e-9));
  CHECK(first->along.value == Approx(second->along.value).epsilon(1e-9));
}

TEST_CASE("a mouthpiece before the end is assembled there and weighs on the axis") {
  const Tube tube = weighed();
  Drilled drilled(tube);
  drilled.hole(6.0, 200.0, 0.0);
  Part mouthpiece;
  mouthpiece.id = "mouthpiece";
  mouthpiece.kind = PartKind::mouthpiece;
  mouthpiece.from = From::mouth_end;
  mouthpiece.along = -60.0;
  mouthpiece.length = 100.0;
  mouthpiece.width = 20.0;
  mouthpiece.mass_g = 40.0;
  drilled.layout.parts.push_back(mouthpiece);
  const Instrument instrument = assemble(tube, drilled.layout, drilled.placement);
  REQUIRE(instrument.parts.size() == 1);
  CHECK(instrument.parts[0].along == Approx(-60.0));
  const auto balance = balance_of(tube, instrument, Angle(), 1.0, 0.5);
  const MassItem& item = balance->items.back();
  CHECK(item.mass_g == Approx(40.0));
  CHECK(length(item.centre - Vec3{0.0, 0.0, 60.0}) < 1e-9);
  // It ends 10 before the tube's end: nothing lies under it, and every rule can be asked.
  CHECK(acceptable(check(tube, drilled.layout, instrument)));
  // Listed in tube coordinates it stands there again.
  const Placement listed = explicit_placement(tube, drilled.layout, drilled.placement);
  CHECK(assemble(tube, drilled.layout, listed).parts[0].along == Approx(-60.0));
}
