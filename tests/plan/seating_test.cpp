#include "plan/seating.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "bench.hpp"
#include "guide_samples.hpp"
#include "plan/seating_programme.hpp"
#include "true_tubes.hpp"

using namespace culmwright;

namespace {

/// A straight round piece with three holes in a row in front: one guide with a stop on the line.
std::vector<GuidePlan> pipe_guides(double radius) {
  const Tube tube{test::round_tube(radius, radius, 220.0, 4.0)};
  Instrument instrument = test::instrument_on(tube);
  for (int i = 0; i < 3; ++i) {
    instrument.keys.push_back(test::placed(tube, "L" + std::to_string(i + 1), {45.0 + 25.0 * i, 0.0}, 8.0));
  }
  return plan_guides(tube, instrument, Shop{});
}

Tube pipe(double radius) {
  return Tube{test::round_tube(radius, radius, 220.0, 4.0)};
}

double rise(const GuidePlan& plan, const SeatedGuide& seated) {
  const Vec3 p = plan.inner.point(plan.middle(), plan.at.middle());
  return dot(seated.to_tube.apply(p) - p, plan.foot.up);
}

/// The same tube seen in a mirror that keeps the reference line: sines change their sign.
Tube mirrored(const Tube& tube) {
  TubeShape shape = tube.shape();
  std::vector<FourierAlong::Term> terms = shape.skin.terms();
  for (FourierAlong::Term& term : terms) {
    if (term.order == 0) continue;
    const std::vector<double> x = term.sine.knots();
    std::vector<double> y;
    for (double at : x) y.push_back(-term.sine(at).value);
    term.sine = term.order == 1 ? PiecewiseCubic::spline(x, y, std::vector<bool>(x.size(), false))
                                : PiecewiseCubic::monotone(x, y, Beyond::held);
  }
  shape.skin = FourierAlong(terms);
  return Tube(shape);
}

}  // namespace

TEST_CASE("the seat's linear programme finds what GLPK finds") {
  std::mt19937 generator(7);
  std::normal_distribution<double> normal;
  int bounded = 0;
  for (int round = 0; round < 200; ++round) {
    SeatingProgramme programme;
    programme.box = 2.0;
    const int count = 30 + round % 50;
    programme.rows.resize(count, 4);
    programme.least.resize(count);
    test::Rows6 rows;
    for (int i = 0; i < count; ++i) {
      std::array<double, 6> row{};
      for (int j = 0; j < 4; ++j) row[j] = programme.rows(i, j) = normal(generator) + (j == 0 ? 1.5 : 0.0);
      programme.least[i] = 0.2 * normal(generator) - 0.3;
      rows.rows.push_back(row);
      rows.least.push_back(programme.least[i]);
    }
    std::array<double, 6> cost{};
    for (int j = 0; j < 4; ++j) cost[j] = programme.cost[j] = (j == 0 ? 1.0 : 0.3 * normal(generator));
    const auto found = solve(programme);
    const auto x = test::minimum_by_glpk(cost, rows, 2.0);
    REQUIRE(found.has_value() == x.has_value());
    if (!found) continue;
    double by_glpk = 0.0;
    for (int j = 0; j < 4; ++j) by_glpk += cost[j] * (*x)[j];
    CHECK(programme.cost.dot(found->y) == Approx(by_glpk).margin(1e-9));
    CHECK((programme.rows * found->y - programme.least).minCoeff() > -1e-9);
    CHECK(found->force.minCoeff() > -1e-9);
    for (int j = 0; j < 4; ++j) bounded += found->bearing[j] < count;
  }
  CHECK(bounded > 400);
}

TEST_CASE("a programme that nothing satisfies is said to have no answer") {
  SeatingProgramme programme;
  programme.rows.resize(2, 4);
  programme.rows << 1, 0, 0, 0, -1, 0, 0, 0;
  programme.least.resize(2);
  programme.least << 0.5, -0.4;
  CHECK_FALSE(solve(programme));
}

TEST_CASE("on the tube that it was made from a guide stays where it was planned") {
  for (const double length : {400.0, 420.0}) {
    const Tube tube{test::culm(length)};
    for (const GuidePlan& plan : plan_guides(tube, test::twenty_holes(tube), Shop{})) {
      const SeatedGuide seated = seat(plan, tube);
      const Vec3 far{15.0, 15.0, -plan.at.from};
      CHECK(culmwright::length(seated.to_tube.apply(far) - far) < 1e-9);
      CHECK(seated.least_gap > -1e-9);
      CHECK_FALSE(seated.bearing.empty());
    }
  }
}

TEST_CASE("a thicker round tube lifts the guide onto the outer edges of its pads, a thinner one sinks it") {
  const auto plans = pipe_guides(16.0);
  REQUIRE(plans.size() == 1);
  const GuidePlan& plan = plans[0];
  // Closed form: two circles of radii 16 (the pads) and R (the tube), the pads' arc from 46° to 64°; a rise u
  // gives a pad point at φ the distance √(R₀² + 2 R₀ u cos φ + u²) from the tube's axis, which must be R.
  // Thicker: the flattest arc end, 64° … its step, bears; from the first point beyond full contact the face
  // recedes, so u lies between the closed forms at 64° and at 67° where the step has taken 0.04.
  const auto closed = [](double radius, double degrees) {
    const double c = 16.0 * std::cos(degrees * pi / 180.0);
    return -c + std::sqrt(c * c + radius * radius - 256.0);
  };
  const SeatedGuide thicker = seat(plan, pipe(16.2));
  CHECK(rise(plan, thicker) >= closed(16.2, 64.0) - 1e-6);
  CHECK(rise(plan, thicker) < closed(16.2, 66.0));
  const SeatedGuide thinner = seat(plan, pipe(15.8));
  CHECK(rise(plan, thinner) >= closed(15.8, 46.0) - 1e-6);
  CHECK(rise(plan, thinner) < closed(15.8, 44.0));
  CHECK(rise(plan, thicker) > -1.3 * rise(plan, thinner));
  for (const Vec3& p : thicker.bearing) CHECK(std::abs(std::atan2(p.y, p.x)) * 180.0 / pi > 60.0);
  for (const Vec3& p : thinner.bearing) CHECK(std::abs(std::atan2(p.y, p.x)) * 180.0 / pi < 50.0);
}

TEST_CASE("a symmetric departure moves a guide symmetrically") {
  const auto plans = pipe_guides(16.0);
  TubeShape shape = test::round_tube(16.1, 15.7, 220.0, 4.0);
  shape.skin = FourierAlong(
      {{0, test::straight(0, 16.1, 220, 15.7), {}}, {2, test::constant(0.15), test::constant(0.0)}});
  const SeatedGuide seated = seat(plans[0], Tube(shape));
  CHECK(seated.to_tube.origin.y == Approx(0.0).margin(1e-6));
  CHECK(seated.to_tube.x.y == Approx(0.0).margin(1e-7));  // no turn
  CHECK(seated.to_tube.z.y == Approx(0.0).margin(1e-7));  // no sideways lean
}

TEST_CASE("the mirror image of a tube gives the mirror image of the seat") {
  const auto plans = pipe_guides(16.0);
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const Tube tube = test::grown_tube(priors_for(Material::wood), seed, 220.0);
    TubeShape shape = tube.shape();
    const double radius = tube.girth(110.0) / (2.0 * pi);
    std::vector<FourierAlong::Term> terms = shape.skin.terms();
    terms[0].cosine = test::straight(0, 16.0 + 0.01 * radius, 220, 15.9);
    shape.skin = FourierAlong(terms);
    const SeatedGuide one = seat(plans[0], Tube(shape));
    const SeatedGuide other = seat(plans[0], mirrored(Tube(shape)));
    INFO("seed " << seed);
    for (const double at : {20.0, 150.0}) {
      const Vec3 a = one.to_tube.apply({16.0, 5.0, -at});
      const Vec3 b = other.to_tube.apply({16.0, -5.0, -at});
      CHECK(a.x == Approx(b.x).margin(2e-5));
      CHECK(a.y == Approx(-b.y).margin(2e-5));
      CHECK(a.z == Approx(b.z).margin(2e-5));
    }
  }
}

TEST_CASE("what stop and eye set, the guide keeps: along from the stop, sideways at the corners") {
  const auto plans = pipe_guides(16.0);
  const GuidePlan& plan = plans[0];
  REQUIRE(plan.post);
  REQUIRE(plan.sights.size() == 2);
  const Tube tube = pipe(16.1);
  GuideSetting setting;
  setting.along = 0.4;
  setting.sight = 0.25;
  const SeatedGuide seated = seat(plan, tube, setting);
  CHECK(seated.to_tube.apply(plan.post->touches).z == Approx(plan.post->touches.z - 0.4).margin(1e-7));
  double beside = 0.0;
  for (const SightingWindow& window : plan.sights) {
    for (int corner : {0, 2}) {
      const Vec3 q =
          seated.to_tube.apply(plan.inner.point(window.corners[corner].x, window.corners[corner].y));
      beside += 0.25 * q.y;
    }
  }
  CHECK(beside == Approx(0.25).margin(1e-6));
  setting.pads = {0.1, 0.1, 0.1, 0.1};
  CHECK(rise(plan, seat(plan, tube, setting)) > rise(plan, seated) + 0.1);
}

TEST_CASE("a pegged guide stands where the drilled holes came out") {
  const Tube tube{test::culm(420.0)};
  const auto plans = plan_guides(tube, test::twenty_holes(tube), Shop{});
  int pegged = 0;
  for (const GuidePlan& plan : plans) {
    if (plan.pegs.empty()) continue;
    ++pegged;
    GuideSetting setting;
    for (const GuidePeg& peg : plan.pegs) {
      const Section section = tube.section(-peg.drilling.point.z + 0.3);
      const Angle theta = Angle::from_radians(std::atan2(peg.drilling.axis.y, peg.drilling.axis.x));
      const Vec2 p = section.point(theta);
      setting.peg_holes.push_back({p.x, p.y, peg.drilling.point.z - 0.3});
    }
    const SeatedGuide seated = seat(plan, tube, setting);
    double along = 0.0;
    for (const GuidePeg& peg : plan.pegs) {
      along += (seated.to_tube.apply(peg.drilling.point).z - peg.drilling.point.z) /
               static_cast<double>(plan.pegs.size());
    }
    CHECK(along == Approx(-0.3).margin(1e-6));
    CHECK(seated.least_gap > -1e-6);
  }
  CHECK(pegged > 0);
}

TEST_CASE("a guide rests where an independent bench with GLPK lets it rest") {
  Shop shop;
  int compared = 0;
  for (unsigned seed = 1; seed <= 3; ++seed) {
    const Tube truth = test::grown_tube(priors_for(Material::bamboo), seed, 300.0);
    const TubeFit fit = fit_survey(test::measured(truth, test::Care::calipers, seed));
    Instrument instrument = test::instrument_on(fit.tube());
    for (int i = 0; i < 4; ++i) {
      instrument.keys.push_back(
          test::placed(fit.tube(), "L" + std::to_string(i + 1), {60.0 + 24.0 * i, 6.0 - 4.0 * i}, 8.0));
    }
    for (const GuidePlan& plan : plan_guides(fit.tube(), instrument, shop)) {
      if (!plan.pegs.empty()) continue;
      GuideSetting setting;
      setting.along = 0.2;
      setting.sight = -0.3;
      setting.pads = {0.05, -0.04, 0.02, 0.0};
      const SeatedGuide ours = seat(plan, truth, setting);
      test::Bench bench(plan, truth, setting);
      const auto settled = bench.settle();
      REQUIRE(settled);
      const RigidMotion theirs = *settled;
      INFO("seed " << seed << " " << plan.name << ", theirs " << bench.deepest() << " deep");
      CHECK(ours.least_gap > -1e-6);
      // A pad touches at its edges; crown and flanks anywhere on a lobe's flat top: there the bench's own
      // points stand elsewhere, and the guide rolls a little farther or less.
      bool on_pads = true;
      for (const Vec3& p : ours.bearing) {
        const double off = std::abs(std::remainder(std::atan2(p.y, p.x) - plan.middle(), 2.0 * pi));
        on_pads = on_pads && off > 0.7 && off < 1.2;
      }
      const double near = on_pads ? 0.02 : 0.06;
      for (const GuideHole& hole : plan.holes) {
        CHECK(length(ours.to_tube.apply(hole.drilling.point) - theirs.apply(hole.drilling.point)) < near);
        CHECK(length(ours.to_tube.turn(hole.drilling.axis) - theirs.turn(hole.drilling.axis)) < 0.1 * near);
      }
      ++compared;
    }
  }
  CHECK(compared >= 3);
}
