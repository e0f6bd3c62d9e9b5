#include "plan/hole_tolerance.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <iostream>
#include <map>
#include <optional>

#include "bench.hpp"
#include "guide_samples.hpp"
#include "true_tubes.hpp"
#include "tube/sampled_tube.hpp"

using namespace culmwright;
using test::Care;

namespace {

bool long_tests() {
  return std::getenv("CULMWRIGHT_LONG_TESTS") != nullptr;
}

/// Five holes in front and one behind, planned on a tube as the survey describes it.
Instrument six_holes(const Tube& tube) {
  Instrument instrument = test::instrument_on(tube);
  const double first = 0.15 * tube.length();
  for (int i = 0; i < 5; ++i) {
    const double at = first + 0.09 * tube.length() * i;
    instrument.keys.push_back(
        test::placed(tube, "L" + std::to_string(i + 1), {at, 8.0 - 4.0 * (i % 5)}, 8.0 + i));
  }
  const double behind = first + 0.2 * tube.length();
  instrument.keys.push_back(test::placed(tube, "T", {behind, 0.5 * tube.girth(behind) - 4.0}, 9.0));
  return instrument;
}

struct Drilled {
  std::vector<HoleTolerance> stated;
  /// On the true tube, in the same order; nothing where the guide does not go on.
  std::vector<std::optional<HoleMiss>> found;
};

/// Smooth normal at a place by differences: the polar angle in which the skin of orders 0 to 2, moved to pass
/// through the place, has its tangent.
double smooth_direction(const Section& section, Vec2 p) {
  double best = 0.0;
  double greatest = -1e300;
  for (int i = 0; i < 3600; ++i) {
    const Angle theta = Angle::from_degrees(0.1 * i);
    const double excess = dot(p, direction(theta)) - section.smooth_support(theta).f;
    if (excess > greatest) {
      greatest = excess;
      best = theta.radians();
    }
  }
  return best;
}

/// A piece grown, measured, planned for and drilled: the guides printed and set with errors of their own on
/// the tube as it truly is, and the holes measured there.
Drilled drill_one(unsigned seed, Care care, bool independent) {
  const ToleranceOptions options;
  const Tube truth = test::grown_tube(priors_for(Material::bamboo), seed);
  const TubeFit fit = fit_survey(test::measured(truth, care, seed + 77000));
  const Instrument instrument = six_holes(fit.tube());
  const std::vector<GuidePlan> plans = plan_guides(fit.tube(), instrument, Shop{});
  Drilled drilled;
  drilled.stated = hole_tolerances(fit, plans, options);
  if (!independent) {
    drilled.found = GuideSet(fit.tube(), plans).drill(truth, &options, seed + 500000);
    return drilled;
  }
  Draws draws(seed + 900000);
  std::map<std::string, Vec3> points;
  for (const GuidePlan& plan : plans) {
    GuideMade made = culmwright::made(plan, options, draws);
    for (const GuidePeg& peg : plan.pegs) {
      if (points.count(peg.id) > 0) made.setting.peg_holes.push_back(points[peg.id]);
    }
    const bool pegged = made.setting.peg_holes.size() == plan.pegs.size();
    const auto set = pegged ? test::Bench(plan, truth, made.setting).settle() : std::nullopt;
    for (const GuideHole& hole : plan.holes) {
      const DrilledAxis axis = drilled_axis(plan, hole, made.scale, options, draws);
      if (!set) {
        drilled.found.emplace_back();
        continue;
      }
      const auto wanted = std::find_if(instrument.keys.begin(), instrument.keys.end(),
                                       [&](const PlacedKey& key) { return key.key.id == hole.id; });
      const Vec3 along = set->turn(axis.direction);
      const test::MeasuredHole measured = test::measure_hole(truth, set->apply(axis.point), along);
      const Section section = truth.section(measured.at);
      const double lean = std::remainder(
          std::atan2(along.y, along.x) - smooth_direction(section, {measured.point.x, measured.point.y}),
          2.0 * pi);
      drilled.found.push_back(
          HoleMiss{measured.at - wanted->place.at,
                   std::remainder(measured.around - wanted->place.around, section.girth()),
                   Angle::from_radians(std::hypot(lean, std::asin(along.z))), measured.point});
      points[hole.id] = measured.point;
    }
  }
  return drilled;
}

struct Covered {
  int holes = 0;
  int along = 0, around = 0, radial = 0, tilt = 0;
  void add(const Drilled& drilled) {
    for (std::size_t i = 0; i < drilled.found.size(); ++i) {
      const HoleTolerance& stated = drilled.stated[i];
      if (!drilled.found[i]) continue;
      const HoleMiss& found = *drilled.found[i];
      ++holes;
      along += std::abs(found.along) <= stated.along;
      around += std::abs(found.around) <= stated.around;
      radial += std::hypot(found.along, found.around) <= stated.radial;
      tilt += found.tilt.radians() <= stated.tilt.radians();
    }
  }
  double share(int count) const { return static_cast<double>(count) / holes; }
};

std::ostream& operator<<(std::ostream& out, const Covered& covered) {
  return out << covered.holes << " holes: along " << covered.share(covered.along) << ", around "
             << covered.share(covered.around) << ", radial " << covered.share(covered.radial) << ", tilt "
             << covered.share(covered.tilt);
}

}  // namespace

TEST_CASE("the stated 95 % covers holes drilled on true tubes") {
  // Holes of one tube err together: few tubes can only show that nothing is badly wrong, hundreds that 95 is
  // 95. Guides are set by the bench of bench.hpp, not by the kernel.
  const int tubes = long_tests() ? 100 : 2;
  Covered all;
  for (const Care care : {Care::quick, Care::calipers, Care::plates}) {
    Covered covered;
    for (int i = 0; i < tubes; ++i) {
      const Drilled drilled = drill_one(1000 * static_cast<unsigned>(care) + i + 1, care, true);
      covered.add(drilled);
      all.add(drilled);
    }
    std::cout << (care == Care::quick      ? "quick "
                  : care == Care::calipers ? "calipers "
                                           : "plates ")
              << covered << "\n";
  }
  std::cout << all << "\n";
  const double below = long_tests() ? 0.93 : 0.75;
  const double above = long_tests() ? 0.97 : 1.0;
  for (const int count : {all.along, all.around, all.radial, all.tilt}) {
    CHECK(all.share(count) >= below);
    CHECK(all.share(count) <= above);
  }
}

namespace {

ToleranceOptions nothing_amiss() {
  ToleranceOptions options;
  options.samples = 199;
  options.sighting = options.other_line = options.mark = options.stop = options.stop_aside = 0.0;
  options.by_hand = options.print = options.print_scale = 0.0;
  options.bush_play = options.peg_play = options.joint_play = options.bit_play = 0.0;
  return options;
}

/// A pipe known all but exactly, with three holes in front: one guide with its stop on the line.
struct KnownPipe {
  TubeFit fit;
  std::vector<GuidePlan> plans;
};

KnownPipe known_pipe() {
  const Tube pipe{test::round_tube(16.0, 16.0, 220.0, 4.0)};
  Survey survey = test::bare_survey(pipe);
  survey.errors.tape = survey.errors.caliper = survey.errors.straightedge = 1e-4;
  survey.errors.protractor = Angle::from_degrees(1e-3);
  for (double at : {0.0, 55.0, 110.0, 165.0, 220.0}) {
    test::add_girth(survey, pipe, at);
    test::add_widths(survey, pipe, at, {0, 45, 90, 135});
  }
  for (double degrees : {0.0, 90.0}) test::add_bow(survey, pipe, 110.0, degrees);
  test::add_walls(survey, pipe, {0.0, 220.0}, 4);
  FitPriors priors;
  priors.ovality = priors.lobe = priors.bow = priors.skin_wander = 1e-5;
  const TubeFit fit = fit_survey(survey, priors);
  Instrument instrument = test::instrument_on(fit.tube());
  for (int i = 0; i < 3; ++i) {
    instrument.keys.push_back(
        test::placed(fit.tube(), "L" + std::to_string(i + 1), {45.0 + 25.0 * i, 0.0}, 8.0));
  }
  return {fit, plan_guides(fit.tube(), instrument, Shop{})};
}

}  // namespace

TEST_CASE("on a tube known exactly a hole errs as stop and eye do: 1.96 standard deviations") {
  const KnownPipe pipe = known_pipe();
  REQUIRE(pipe.plans.size() == 1);
  REQUIRE(pipe.plans[0].stop == StopKind::end_on_line);
  REQUIRE(pipe.plans[0].sights.size() == 2);
  for (const HoleTolerance& hole : hole_tolerances(pipe.fit, pipe.plans, nothing_amiss())) {
    CHECK(hole.radial < 1e-3);
    CHECK(hole.seats == 1.0);
  }
  ToleranceOptions options = nothing_amiss();
  options.samples = 1999;
  options.stop = 0.3;
  options.sighting = 0.25;
  // 1999 draws know a 95 % bound to 2 %; four standard errors. Two windows halve the eye's variance; their
  // corners stand off the skin by the crown's relief, so that 16.5 of turn at the corners is 16 at the skin.
  for (const HoleTolerance& hole : hole_tolerances(pipe.fit, pipe.plans, options)) {
    CHECK(hole.along == Approx(1.96 * 0.3).epsilon(0.08));
    CHECK(hole.around == Approx(1.96 * 0.25 / std::sqrt(2.0) * 16.0 / 16.5).epsilon(0.08));
    // The axis turns with the guide, and so does the skin under it: a round pipe stays square.
    CHECK(hole.tilt.degrees() < 0.01);
  }
}

TEST_CASE("without errors of print and setting all that is left is the survey's share") {
  const Tube truth = test::grown_tube(priors_for(Material::bamboo), 5);
  const TubeFit fit = fit_survey(test::measured(truth, Care::calipers, 6));
  const std::vector<GuidePlan> plans = plan_guides(fit.tube(), six_holes(fit.tube()), Shop{});
  const ToleranceReport report = tolerance_report(fit, plans, nothing_amiss());
  REQUIRE(report.holes.size() == 6);
  for (std::size_t i = 0; i < report.holes.size(); ++i) {
    CHECK(report.from_survey[i] > 0.02);
    CHECK(report.holes[i].rms == Approx(report.from_survey[i]).epsilon(1e-6));
  }
  CHECK(report.next.hole_error_after <= report.next.hole_error_now);
  const ToleranceReport again = tolerance_report(fit, plans, nothing_amiss());
  for (std::size_t i = 0; i < report.holes.size(); ++i) {
    CHECK(report.holes[i].radial == again.holes[i].radial);
    CHECK(report.holes[i].tilt == again.holes[i].tilt);
  }
}

TEST_CASE("a bow read in the middle alone is what one is told to read again, beside it") {
  FitPriors priors = priors_for(Material::bamboo);
  priors.bow = 4.0;
  const Tube truth = test::grown_tube(priors, 8);
  Survey survey = test::measured(truth, Care::calipers, 9);
  survey.bow = {survey.bow[2], survey.bow[3]};  // both at half way
  const TubeFit fit = fit_survey(survey, priors);
  const std::vector<GuidePlan> plans = plan_guides(fit.tube(), six_holes(fit.tube()), Shop{});
  const ToleranceReport report = tolerance_report(fit, plans);
  INFO(report.next.text);
  // Survey plates tell the bow too; without them it is the straightedge.
  const std::string& without = report.next.without_plates;
  CHECK((without.empty() ? report.next.text : without).find("straightedge") != std::string::npos);
  REQUIRE(report.next.wish);
  CHECK(std::abs(report.next.wish->at - survey.bow.front().at) > 20.0);
  CHECK(report.next.hole_error_after < 0.95 * report.next.hole_error_now);
}
