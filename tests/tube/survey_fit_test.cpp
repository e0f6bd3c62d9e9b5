#include "tube/survey_fit.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <set>

#include "measure.hpp"
#include "shapes.hpp"
#include "tube/mass.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

double worst_support_error(const Tube& found, const Tube& truth, int highest_order = 1000) {
  double worst = 0.0;
  for (int i = 0; i <= 40; ++i) {
    const double at = truth.end_a_at() + truth.length() * i / 40;
    for (int k = 0; k < 24; ++k) {
      const Angle theta = Angle::from_degrees(15 * k);
      const double difference = found.shape().skin.section(at)(theta, highest_order).f -
                                truth.shape().skin.section(at)(theta, highest_order).f;
      worst = std::max(worst, std::abs(difference));
    }
  }
  return worst;
}

/// The culm of the tests with its bow through the stations' own knots, so that a fit can find it exactly.
Tube plain_culm(const std::vector<double>& stations, bool odd, bool bowed) {
  TubeShape shape = culm(420.0);
  std::vector<FourierAlong::Term> terms;
  const std::vector<double> knots = stations;
  std::vector<double> even(knots.size()), bow_x(knots.size()), bow_y(knots.size());
  for (std::size_t i = 0; i < knots.size(); ++i) {
    const double u = knots[i] / 420.0;
    even[i] = 0.35 - 0.1 * u;
    bow_x[i] = bowed ? 5.0 * u * (1 - u) : 0.0;
    bow_y[i] = bowed ? -6.0 * u * (1 - u) : 0.0;
  }
  const std::vector<bool> smooth(knots.size(), false);
  terms.push_back({0, straight(0, 15.5, 420, 18.0), {}});
  terms.push_back(
      {1, PiecewiseCubic::spline(knots, bow_x, smooth), PiecewiseCubic::spline(knots, bow_y, smooth)});
  terms.push_back({2, PiecewiseCubic::monotone(knots, even, Beyond::held), constant(0.2)});
  if (odd) terms.push_back({3, constant(0.06), constant(-0.04)});
  shape.skin = FourierAlong(terms);
  return Tube(shape);
}

const std::vector<double> stations{0, 60, 130, 180, 300, 340, 420};

InstrumentErrors exact() {
  InstrumentErrors errors;
  errors.caliper = errors.tape = errors.height = errors.straightedge = errors.wall = 1e-4;
  errors.around = 1e-4;
  errors.protractor = Angle::from_degrees(1e-3);
  return errors;
}

Survey bare(const Tube& truth) {
  Survey survey = bare_survey(truth);
  survey.errors = exact();
  add_walls(survey, truth, {0.0, 420.0}, 4);
  return survey;
}

}  // namespace

TEST_CASE("girths alone find the taper of a round tube") {
  const Tube truth{round_tube(18, 15.5, 420, 4)};
  Survey survey = bare(truth);
  for (double at : stations) add_girth(survey, truth, at);
  CHECK(worst_support_error(fit_survey(survey).tube(), truth) < 1e-5);
}

TEST_CASE("two widths and a girth find taper and ovality along the first width") {
  TubeShape shape = round_tube(18, 15.5, 420, 4);
  shape.skin = FourierAlong({{0, straight(0, 18, 420, 15.5), {}}, {2, constant(0.4), constant(0.0)}});
  const Tube truth{shape};
  Survey survey = bare(truth);
  for (double at : stations) {
    add_girth(survey, truth, at);
    add_widths(survey, truth, at, {0, 90});
  }
  CHECK(worst_support_error(fit_survey(survey).tube(), truth) < 1e-5);
}

TEST_CASE("four widths and a straightedge find an oval bowed culm") {
  const Tube truth = plain_culm(stations, false, true);
  Survey survey = bare(truth);
  for (double at : stations) {
    add_girth(survey, truth, at);
    add_widths(survey, truth, at, {0, 45, 90, 135});
    if (at <= 0.0 || at >= 420.0) continue;
    add_bow(survey, truth, at, 180);
    add_bow(survey, truth, at, 90);
  }
  CHECK(worst_support_error(fit_survey(survey).tube(), truth) < 2e-5);
}

TEST_CASE("widths placed by where the jaw touches find the same culm") {
  const Tube truth = plain_culm(stations, false, true);
  Survey survey = bare(truth);
  for (double at : stations) {
    add_girth(survey, truth, at);
    add_widths_around(survey, truth, at, {0, 12, 25, 37});
    if (at <= 0.0 || at >= 420.0) continue;
    add_bow(survey, truth, at, 180);
    add_bow(survey, truth, at, 90);
  }
  CHECK(worst_support_error(fit_survey(survey).tube(), truth) < 1e-4);
}

TEST_CASE("heights on survey plates alone find bow, ovality and odd lobes") {
  const Tube truth = plain_culm(stations, true, true);
  Survey survey = bare(truth);
  survey.plates = SurveyPlates{16, 70.0};
  for (double at : stations) add_heights(survey, truth, at);
  const TubeFit fit = fit_survey(survey);
  CHECK(worst_support_error(fit.tube(), truth) < 2e-5);
  // Widths cannot see the lobes: heights are needed for them.
  Survey blind = bare(truth);
  for (double at : stations) {
    add_girth(blind, truth, at);
    add_widths(blind, truth, at, {0, 45, 90, 135});
    if (at > 0.0 && at < 420.0) {
      add_bow(blind, truth, at, 180);
      add_bow(blind, truth, at, 90);
    }
  }
  CHECK(worst_support_error(fit_survey(blind).tube(), truth) > 0.05);
}

TEST_CASE("an eccentric wall is found from four readings at each end, true along the normal") {
  TubeShape shape = round_tube(18, 15.5, 420, 4);
  shape.wall = FourierAlong({{0, straight(0, 5, 420, 4), {}}, {1, constant(0.5), constant(-0.3)}});
  const Tube truth{shape};
  Survey survey = bare(truth);
  for (double at : stations) add_girth(survey, truth, at);
  const Tube found = fit_survey(survey).tube();
  for (double at : {0.0, 210.0, 420.0}) {
    for (int k = 0; k < 12; ++k) {
      const Angle theta = Angle::from_degrees(30 * k);
      CHECK(found.section(at).wall(theta) == Approx(truth.section(at).wall(theta)).margin(3e-4));
    }
  }
}

TEST_CASE("turning the tube turns everything that is found") {
  const Tube truth = plain_culm(stations, true, true);
  const auto measure = [&](double turn) {
    Survey survey = bare(truth);
    survey.plates = SurveyPlates{16, 70.0};
    for (double at : stations) add_heights(survey, truth, at, turn);
    return fit_survey(survey).tube();
  };
  const Tube plain = measure(0.0);
  const Tube turned = measure(90.0);  // four flats on
  for (double at : {20.0, 210.0}) {
    for (int k = 0; k < 8; ++k) {
      const Angle theta = Angle::from_degrees(45 * k);
      CHECK(turned.section(at).base_support(theta).f ==
            Approx(plain.section(at).base_support(theta + Angle::from_degrees(90)).f).margin(1e-6));
    }
  }
}

TEST_CASE("the covariance predicts the scatter of repeated surveys") {
  const Tube truth = plain_culm(stations, false, true);
  const auto measure = [&](unsigned seed) {
    std::mt19937 generator(seed);
    std::normal_distribution<double> normal;
    Survey survey = bare(truth);
    survey.errors = InstrumentErrors{};
    for (double at : stations) {
      add_girth(survey, truth, at);
      for (double degrees : {0.0, 45.0, 90.0, 135.0}) {
        const double missed = survey.errors.protractor.degrees() * normal(generator);
        add_widths(survey, truth, at, {degrees + missed});
        station_at(survey, at).widths.back().direction.facing = Angle::from_degrees(degrees);
      }
      if (at <= 0.0 || at >= 420.0) continue;
      add_bow(survey, truth, at, 180);
      add_bow(survey, truth, at, 90);
    }
    return with_noise(survey, seed);
  };
  // The tube has no lobes beyond order 2, so the prior says so too, and it leaves the bow to the readings:
  // what is left is their noise.
  FitPriors priors;
  priors.lobe = 1e-4;
  priors.bow = 100.0;
  const std::vector<std::pair<double, double>> probes{{60, 0}, {180, 45}, {180, 90}, {340, 200}};
  std::vector<double> sum(probes.size()), squares(probes.size()), stated(probes.size());
  const int seeds = 1000;
  for (int seed = 0; seed < seeds; ++seed) {
    const TubeFit fit = fit_survey(measure(seed), priors);
    for (std::size_t i = 0; i < probes.size(); ++i) {
      const Angle theta = Angle::from_degrees(probes[i].second);
      const double error = fit.tube().section(probes[i].first).base_support(theta).f -
                           truth.section(probes[i].first).base_support(theta).f;
      sum[i] += error;
      squares[i] += error * error;
      stated[i] += fit.variance(fit.support_gradient(probes[i].first, theta)) / seeds;
    }
  }
  for (std::size_t i = 0; i < probes.size(); ++i) {
    const double scatter = std::sqrt(squares[i] / seeds);
    INFO("at " << probes[i].first << ", " << probes[i].second << " degrees: scatter " << scatter
               << ", stated " << std::sqrt(stated[i]) << ", bias " << sum[i] / seeds);
    // 1000 seeds know a scatter to 2.2 %; four standard errors.
    CHECK(scatter == Approx(std::sqrt(stated[i])).epsilon(0.09));
  }
}

TEST_CASE("draws from the covariance have that covariance") {
  const Tube truth = plain_culm(stations, false, false);
  Survey survey = bare(truth);
  survey.errors = InstrumentErrors{};
  for (double at : stations) add_girth(survey, truth, at);
  const TubeFit fit = fit_survey(survey);
  const std::size_t n = fit.values().size();
  double sum = 0.0;
  const std::vector<double> gradient = fit.support_gradient(180.0, Angle::from_degrees(30));
  const int seeds = 4000;
  for (int seed = 0; seed < seeds; ++seed) {
    const std::vector<double> drawn = fit.draw(seed);
    double change = 0.0;
    for (std::size_t i = 0; i < n; ++i) change += gradient[i] * (drawn[i] - fit.values()[i]);
    sum += change * change;
  }
  CHECK(sum / seeds == Approx(fit.variance(gradient)).epsilon(0.08));
}

TEST_CASE("a survey that does not suffice says what is missing, all at once") {
  Survey survey;
  survey.id = "thin";
  survey.length = 420.0;
  try {
    fit_survey(survey);
    FAIL("accepted");
  } catch (const InputError& error) {
    std::set<std::string> codes;
    for (const Problem& problem : error.problems()) codes.insert(problem.code);
    CHECK(codes.count("no-station") == 1);
    CHECK(codes.count("no-wall") == 1);
  }
}

TEST_CASE("a sideways bow beyond half the radius is refused by name") {
  TubeShape shape = round_tube(15, 15, 420, 4);
  const std::vector<double> at{0, 210, 420};
  shape.skin =
      FourierAlong({{0, constant(15.0), {}},
                    {1, constant(0.0), PiecewiseCubic::spline(at, {0, 8, 0}, {false, false, false})}});
  const Tube truth{shape};
  Survey survey = bare(truth);
  for (double station : stations) add_girth(survey, truth, station);
  add_bow(survey, truth, 210.0, 90);
  REQUIRE_THROWS_AS(fit_survey(survey), InputError);
  try {
    fit_survey(survey);
  } catch (const InputError& error) {
    CHECK(error.problems().front().code == "sideways-bow");
  }
}

TEST_CASE("mass, centre and density slope come back from the weighed mass and the balance point") {
  // Tapered tube outer r 15 → 13, inner 11 → 10, L 400: V 108070.787, centre 186.434109, 75.6496 g at
  // 700 kg/m³ (closed form, calculated).
  TubeShape shape = round_tube(15, 13, 400, 4);
  shape.wall = FourierAlong({{0, straight(0, 4, 400, 3), {}}});
  const WallMoments moments = wall_moments(Tube(shape));
  CHECK(moments.volume == Approx(108070.787).epsilon(1e-8));
  CHECK(moments.at / moments.volume == Approx(186.434109).epsilon(1e-8));
  Survey survey;
  survey.mass_g = 75.6496;
  set_density(shape, survey);
  CHECK(shape.density == Approx(700e-6).epsilon(1e-6));
  survey.balance_at = 190.0;
  set_density(shape, survey);
  const auto mass = mass_of(Tube(shape), 0, 400);
  REQUIRE(mass);
  CHECK(mass->mass_g == Approx(75.6496).epsilon(1e-9));
  CHECK(-mass->centre.z == Approx(190.0).epsilon(1e-9));
}
