#include "plan/fitted_plan.hpp"

#include <catch2/catch.hpp>

#include "base/problem.hpp"
#include "sample_fitted.hpp"

using namespace culmwright;
using samples::placed_part;

namespace {

Tube round_tube(double wall, double radius = 16.0, double taper = 0.0) {
  return Tube(test::round_tube(radius, radius + 400.0 * taper, 400, wall));
}

std::string refusal(const Tube& tube, const PlacedPart& part, const Shop& shop = {}) {
  try {
    plan_fitted(tube, part, shop, End::a);
  } catch (const GeometryError& error) {
    return error.what();
  }
  return "";
}

bool says(const FittedPlan& plan, const std::string& words) {
  for (const std::string& note : plan.notes) {
    if (note.find(words) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a long rest has two screws in a slot and moves by all that is wanted") {
  const Tube tube = round_tube(6.0);
  const FittedPlan plan =
      plan_fitted(tube, placed_part(tube, PartKind::thumb_rest, {150, 20}, 60, 16), {}, End::a);
  CHECK(plan.fastening == Fastening::screws);
  CHECK(plan.adjust == 10.0);
  REQUIRE(plan.screws.size() == 2);
  REQUIRE(plan.slots.size() == 1);
  // 10 either way and 8 between the screws: the slot's ends lie 14 from its middle.
  CHECK(plan.slots[0].travel == Approx(14.0));
  CHECK(plan.screws[1].xy.x - plan.screws[0].xy.x == Approx(8.0));
  CHECK(plan.screws[1].place.at - plan.screws[0].place.at == Approx(8.0).margin(1e-9));
  CHECK(plan.screws[0].place.around == Approx(20.0).margin(1e-9));
  // The hook stands toward the mouth, end A, and the slot clear of it.
  CHECK(plan.hook_middle < plan.slots[0].middle - plan.slots[0].travel);
  CHECK(plan.ride == Approx(0.0).margin(1e-9));
  const FittedPlan other =
      plan_fitted(tube, placed_part(tube, PartKind::thumb_rest, {150, 20}, 60, 16), {}, End::b);
  CHECK(other.hook_middle == Approx(-plan.hook_middle));
}

TEST_CASE("a screw is the longest of the drawer that ends half a millimetre before the bore") {
  // The base's top lies 3 above the skin: of 6, 8, 10 … in a wall of 5.6 the one of 8 goes 5.0 deep.
  const auto chosen = [](double wall) {
    const Tube tube = round_tube(wall);
    const FittedPlan plan =
        plan_fitted(tube, placed_part(tube, PartKind::thumb_rest, {150, 0}, 60, 16), {}, End::a);
    REQUIRE(plan.fastening == Fastening::screws);
    for (const FittedScrew& screw : plan.screws) {
      CHECK(screw.depth <= screw.wall - 0.5 + 1e-9);
      CHECK(screw.wall <= wall);
    }
    CHECK(plan.screws[0].depth == Approx(plan.screws[0].length - 3.0).margin(1e-6));
    return plan.screws[0].length;
  };
  CHECK(chosen(5.6) == 8.0);
  CHECK(chosen(5.4) == 6.0);
  CHECK(chosen(3.6) == 6.0);
}

TEST_CASE("where the wall holds no screw the part is glued and says so; demanded, it is refused by name") {
  const Tube tube = round_tube(2.4);
  PlacedPart part = placed_part(tube, PartKind::thumb_rest, {150, 0}, 60, 16);
  const FittedPlan plan = plan_fitted(tube, part, {}, End::a);
  CHECK(plan.fastening == Fastening::glue);
  CHECK(plan.screws.empty());
  CHECK(plan.slots.empty());
  CHECK(says(plan, "no screws: a wall of"));
  CHECK(says(plan, "glued on"));
  part.part.shape->fastening = Fastening::screws;
  CHECK(refusal(tube, part).find("thumb rest rest") != std::string::npos);
  CHECK(refusal(tube, part).find("shall be screwed on, but a wall of") != std::string::npos);
}

TEST_CASE("a short rest has one screw, moves as far as its footprint lets it, and says so") {
  const Tube tube = round_tube(6.0);
  const FittedPlan plan =
      plan_fitted(tube, placed_part(tube, PartKind::thumb_rest, {150, 0}, 26, 13), {}, End::a);
  REQUIRE(plan.screws.size() == 1);
  // From the hook's wall at −13 + 2.4 + 4 + 1.6 to 13 − 0.8 − 1.6: 15.6, less a head of 5.4, halved.
  CHECK(plan.adjust == Approx(5.1));
  CHECK(says(plan, "held by one screw"));
  CHECK(says(plan, "moved by 5.1 either way, not by 10: a footprint 10 longer"));
}

TEST_CASE("moved along a taper or under a ridge a part rides hollow, and the notes say by how much") {
  // Along a cone of 1:15 the same seat 10 further on: radii differ by 0.67. Over half the footprint's width
  // of 8 the skin falls by y²/2r: 64/2 · (1/16 − 1/16.67) = 0.08 less there, straightened by a tilt only
  // along.
  const Tube cone = round_tube(6.0, 16.0, 1.0 / 15.0);
  const FittedPlan plan =
      plan_fitted(cone, placed_part(cone, PartKind::thumb_rest, {60, 0}, 50, 16), {}, End::a);
  CHECK(plan.ride > 0.02);
  CHECK(plan.ride < 0.15);
  const Tube culm(test::culm());
  const double ridge = culm.nodes()[0].at();
  PlacedPart near = placed_part(culm, PartKind::thumb_rest, {ridge + 32.0, 0}, 50, 12);
  near.part.shape->fastening = Fastening::screws;
  const FittedPlan beside = plan_fitted(culm, near, {}, End::a);
  CHECK(beside.ride > fitted_sizes::rides);
  CHECK(says(beside, "rides up to"));
}

TEST_CASE("a ring's eye stands in the middle between two screws, or alone where there is no room") {
  const Tube tube = round_tube(6.0);
  const FittedPlan plan =
      plan_fitted(tube, placed_part(tube, PartKind::strap_ring, {150, 0}, 34, 14), {}, End::a);
  REQUIRE(plan.eye.has_value());
  CHECK(plan.eye->pin_radius == Approx(3.0));
  REQUIRE(plan.screws.size() == 2);
  CHECK(plan.adjust == 0.0);
  CHECK(plan.slots[0].middle == Approx(-plan.slots[1].middle));
  CHECK(plan.slots[1].middle - plan.slots[1].head - plan.eye->half_width >= fitted_sizes::wall - 1e-9);
  const FittedPlan small =
      plan_fitted(tube, placed_part(tube, PartKind::strap_ring, {150, 0}, 18, 12), {}, End::a);
  CHECK(small.fastening == Fastening::glue);
  CHECK(refusal(tube, placed_part(tube, PartKind::strap_ring, {150, 0}, 10, 12)).find("has no room for it") !=
        std::string::npos);
}

TEST_CASE("a slider's shoe is as long as the slider and its travel, with its control's recess and wire way") {
  const Tube tube = round_tube(6.0, 20.0);
  PlacedPart part = placed_part(tube, PartKind::slider, {150, 0}, 24, 18);
  part.part.travel = 36.0;
  part.part.shape->recess = Recess{48.0, 11.0, 2.0};
  part.part.shape->wire_way = 3.0;
  part.part.shape->height = 7.0;
  const FittedPlan plan = plan_fitted(tube, part, {}, End::a);
  CHECK(plan.base.length == Approx(60.0));
  CHECK(plan.recess->length == Approx(48.2));  // holes print 0.2 under size
  CHECK(plan.recess_floor == Approx(5.0));
  CHECK(plan.way_middle < plan.slots[0].middle - plan.slots[0].travel);
  CHECK(says(plan, "its wires pass through a hole of 3 mm"));
  CHECK(plan.adjust > 0.0);
  part.part.shape->recess->depth = 6.0;
  CHECK(refusal(tube, part).find("leaves less than 1.20 mm under it") != std::string::npos);
  part.part.shape->recess = Recess{59.0, 11.0, 2.0};
  CHECK(refusal(tube, part).find("walls of 1.20 mm have to stay all round") != std::string::npos);
}

TEST_CASE("parts too wide for the tube, beyond its end or too small to print are refused by name") {
  const Tube tube = round_tube(4.0, 10.0);
  CHECK(refusal(tube, placed_part(tube, PartKind::thumb_rest, {150, 0}, 40, 18.5))
            .find("too wide for the tube") != std::string::npos);
  CHECK(refusal(tube, placed_part(tube, PartKind::thumb_rest, {15, 0}, 40, 12)).find("beyond the end") !=
        std::string::npos);
  CHECK(
      refusal(tube, placed_part(tube, PartKind::thumb_rest, {150, 0}, 40, 5)).find("both ways is printed") !=
      std::string::npos);
}
