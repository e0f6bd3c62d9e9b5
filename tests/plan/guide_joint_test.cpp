/// Joints between guides: where they are planned, what their two halves leave between them, what they hold.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "guide_samples.hpp"
#include "plan/guide_plan.hpp"
#include "plan/hole_tolerance_draws.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// Two holes near end A, two where neither end nor a drilled hole is within reach of their guide.
Instrument two_far_pairs(const Tube& tube, double turned_by = 0.0) {
  Instrument instrument = instrument_on(tube);
  for (const double at : {45.0, 67.0}) {
    instrument.keys.push_back(placed(tube, "L" + std::to_string(static_cast<int>(at)), {at, 0.0}, 10.0));
  }
  for (const double at : {290.0, 312.0}) {
    instrument.keys.push_back(
        placed(tube, "R" + std::to_string(static_cast<int>(at)), {at, turned_by}, 10.0));
  }
  return instrument;
}

Tube long_pipe() {
  return Tube{round_tube(15.0, 15.0, 600.0, 3.0)};
}

const GuideJoint& notch_of(const GuidePlan& plan) {
  REQUIRE(plan.joints.size() == 1);
  REQUIRE_FALSE(plan.joints[0].tongue);
  return plan.joints[0];
}

}  // namespace

TEST_CASE("a guide far from ends and drilled holes locks onto the one that has a stop") {
  const Tube tube = long_pipe();
  const auto plans = plan_guides(tube, two_far_pairs(tube), Shop{});
  REQUIRE(plans.size() == 2);
  CHECK(plans[0].stop == StopKind::end_on_line);
  REQUIRE(plans[1].stop == StopKind::joint);
  REQUIRE(plans[1].tongue() != nullptr);
  CHECK(plans[1].tongue()->with == plans[0].name);
  CHECK(notch_of(plans[0]).with == plans[1].name);
  CHECK(plans[1].after == std::vector<std::string>{plans[0].name});
  // The ends meet in one plane.
  CHECK(plans[0].at.to == plans[1].at.from);
  CHECK(plans[0].at.to == plans[1].tongue()->at);
}

TEST_CASE("a tongue leaves the shop's fit on either side of its notch and room at its tip") {
  const Tube tube = long_pipe();
  Shop shop;
  shop.guides.joint_fit = GENERATE(0.05, 0.1, 0.25);
  const auto plans = plan_guides(tube, two_far_pairs(tube), shop);
  REQUIRE(plans.size() == 2);
  const GuideJoint& notch = notch_of(plans[0]);
  const GuideJoint& tongue = *plans[1].tongue();
  // On the inner face of a round tube, radius 15 and the crown's relief: arcs.
  const double radius = 15.0 + guide_sizes::crown_relief;
  CHECK((tongue.theta.from - notch.theta.from) * radius == Approx(shop.guides.joint_fit).margin(1e-9));
  CHECK((notch.theta.to - tongue.theta.to) * radius == Approx(shop.guides.joint_fit).margin(1e-9));
  CHECK(notch.tip_at() == Approx(tongue.tip_at() - guide_sizes::tongue_tip_room));
}

TEST_CASE("guides turned far from each other, and stretches longer than the bed, get no joint") {
  const Tube tube = long_pipe();
  const auto turned = plan_guides(tube, two_far_pairs(tube, 15.0 * pi), Shop{});
  REQUIRE(turned.size() == 2);
  CHECK(turned[1].stop == StopKind::sighting_only);
  Shop small;
  small.printer.bed_x = small.printer.bed_y = 180.0;
  const auto short_ones = plan_guides(tube, two_far_pairs(tube), small);
  CHECK(std::none_of(short_ones.begin(), short_ones.end(),
                     [](const GuidePlan& plan) { return plan.stop == StopKind::joint; }));
}

TEST_CASE("a notch keeps off bosses, windows, letters, straps and pads") {
  const Tube tube = long_pipe();
  const auto plans = plan_guides(tube, two_far_pairs(tube), Shop{});
  const GuidePlan& host = plans[0];
  const GuideJoint& notch = notch_of(host);
  const auto inside = [&](const Vec2& c) { return notch.theta.contains(c.x) && notch.along().contains(c.y); };
  for (const SightingWindow& window : host.sights) {
    CHECK(std::none_of(window.corners.begin(), window.corners.end(), inside));
  }
  for (const EngravedText& text : host.texts) {
    for (const EngravedStroke& stroke : text.strokes)
      CHECK(std::none_of(stroke.corners.begin(), stroke.corners.end(), inside));
  }
  for (const Span& strap : host.straps) CHECK(strap.to + 3.0 <= notch.along().from);
  const double pad_flank =
      (guide_sizes::pad_middle_deg - guide_sizes::pad_half_deg - guide_sizes::pad_step_deg) * pi / 180.0;
  CHECK(notch.theta.to - host.middle() < pad_flank);
  CHECK(host.middle() - notch.theta.from < pad_flank);
}

TEST_CASE("a locked guide goes where the guide goes that it locks to") {
  const Tube tube = long_pipe();
  const auto plans = plan_guides(tube, two_far_pairs(tube), Shop{});
  REQUIRE(plans[1].stop == StopKind::joint);
  // The other one stands 0.4 farther along and 0.3 around: so does this one.
  GuideSetting setting;
  Vec3 notch = plans[1].tongue_point();
  const double turn = 0.3 / 15.0;
  notch = {15.0 * std::cos(std::atan2(notch.y, notch.x) + turn),
           15.0 * std::sin(std::atan2(notch.y, notch.x) + turn), notch.z - 0.4};
  setting.peg_holes = {notch};
  const SeatedGuide seated = seat(plans[1], tube, setting);
  const HoleProbe probe(tube, plans[1].holes[0]);
  const HoleMiss miss = probe.miss(tube, seated.to_tube, planned_axis(plans[1].holes[0]));
  CHECK(miss.along == Approx(0.4).margin(1e-3));
  CHECK(miss.around == Approx(0.3).margin(0.02));
}

TEST_CASE("a locked guide's holes are truer along than those set by eye") {
  const Tube tube = long_pipe();
  const Instrument instrument = two_far_pairs(tube);
  auto joined = plan_guides(tube, instrument, Shop{});
  REQUIRE(joined[1].stop == StopKind::joint);
  const GuideSet set(tube, joined);
  auto by_eye = joined;
  by_eye[1].stop = StopKind::sighting_only;
  by_eye[1].joints.clear();
  const GuideSet eyed(tube, by_eye);
  const ToleranceOptions options;
  double squares[2] = {0.0, 0.0};
  for (unsigned seed = 1; seed <= 200; ++seed) {
    const auto locked = set.drill(tube, &options, seed);
    const auto alone = eyed.drill(tube, &options, seed);
    REQUIRE(locked[2]);
    REQUIRE(alone[2]);
    squares[0] += locked[2]->along * locked[2]->along;
    squares[1] += alone[2]->along * alone[2]->along;
  }
  // The stop of the other guide, three printed faces, print_scale over its length and this one's; by hand and
  // its print: √(0.3² + 3 · 0.07² + 0.1² + 0.25²) at most, against √(0.5² + 0.07²) at least.
  CHECK(std::sqrt(squares[0] / 200.0) < 0.45);
  CHECK(std::sqrt(squares[1] / 200.0) > 0.45);
}
