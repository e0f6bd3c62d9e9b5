#include "tube/reading_set.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "measure.hpp"
#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Tube bent_culm() {
  TubeShape shape = culm();
  shape.nodes.clear();
  return Tube(shape);
}

/// A quick survey: girths and one gap.
Survey quick_survey(const Tube& truth) {
  Survey survey = bare_survey(truth);
  survey.material = Material::bamboo;
  for (const double at : {5.0, 140.0, 280.0, 415.0}) add_girth(survey, truth, at);
  add_bow(survey, truth, 210.0, 0.0);
  add_bow(survey, truth, 210.0, 90.0);
  add_walls(survey, truth, {5.0, 415.0}, 4);
  return survey;
}

/// The error of a place of the skin along its normal and sideways.
PlaceError error_of(const TubeFit& fit, double at, double degrees) {
  const Angle theta = Angle::from_degrees(degrees);
  const double wander = std::pow(fit.skin_wander_sigma(at), 2);
  PlaceError error;
  error.mean_square = wander;
  error.wander = {{at, wander, 0.0}};
  const std::size_t n = fit.values().size();
  for (const auto& gradient : {fit.support_gradient(at, theta), fit.sideways_gradient(at, theta)}) {
    std::vector<double> with(n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) with[i] += fit.covariance()[i * n + j] * gradient[j];
    }
    error.mean_square += fit.variance(gradient);
    error.with_unknowns.push_back(std::move(with));
  }
  return error;
}

std::vector<HoleOutlook> outlooks(const TubeFit& fit) {
  std::vector<HoleOutlook> holes;
  for (const double at : {140.0, 280.0}) {
    for (const double degrees : {20.0, 110.0, 250.0}) {
      holes.push_back({error_of(fit, at, degrees), 0.0});
      holes.back().within_95 = std::sqrt(holes.back().error.mean_square);
    }
  }
  return holes;
}

double worst_of(const std::vector<HoleOutlook>& holes) {
  double worst = 0.0;
  for (const HoleOutlook& hole : holes) worst = std::max(worst, hole.within_95);
  return worst;
}

/// The survey with what the set asks for, read off the true tube.
Survey with_readings(Survey survey, const Tube& truth, const ReadingSet& set) {
  for (const ReadingWish& wish : set.wishes) {
    switch (wish.kind) {
      case ReadingWish::Kind::girth:
        add_girth(survey, truth, wish.at);
        break;
      case ReadingWish::Kind::widths:
        add_widths(survey, truth, wish.at, {0, 45, 90, 135});
        break;
      case ReadingWish::Kind::heights:
        survey.plates = SurveyPlates{16, 60.0};
        add_heights(survey, truth, wish.at);
        break;
      case ReadingWish::Kind::gap:
        add_bow(survey, truth, wish.at, wish.facing.degrees());
        break;
      case ReadingWish::Kind::station:
        add_girth(survey, truth, wish.at);
        add_widths(survey, truth, wish.at, {0, 90});
        break;
    }
  }
  std::sort(survey.stations.begin(), survey.stations.end(),
            [](const Station& a, const Station& b) { return a.at < b.at; });
  return survey;
}

}  // namespace

TEST_CASE("a set of one reading is the one that helps a single place most") {
  const TubeFit fit = fit_survey(quick_survey(bent_culm()));
  const std::vector<HoleOutlook> holes{{error_of(fit, 140.0, 20.0), 1.0}};
  const NextReading next = next_reading(fit, {holes[0].error});
  REQUIRE_FALSE(next.text.empty());
  const double after = next.hole_error_after / next.hole_error_now;
  const ReadingSet set = smallest_set(fit, holes, after + 1e-9, true);
  REQUIRE(set.readings.size() == 1);
  CHECK(set.readings[0] == next.text);
  CHECK(set.worst == Approx(after).epsilon(1e-6));
  CHECK(set.enough);
}

TEST_CASE("a set is as small as it can be, and says so when none is enough") {
  const TubeFit fit = fit_survey(quick_survey(bent_culm()));
  const std::vector<HoleOutlook> holes = outlooks(fit);
  const double now = worst_of(holes);
  CHECK(smallest_set(fit, holes, now + 0.01, true).readings.empty());
  std::size_t before = 0;
  for (const double share : {0.9, 0.7, 0.5, 0.35}) {
    const ReadingSet set = smallest_set(fit, holes, share * now, false);
    INFO(share << ": " << set.readings.size() << " readings to " << set.worst / now);
    CHECK(set.readings.size() >= before);
    CHECK(set.readings.size() <= most_in_set);
    CHECK(set.enough == (set.worst <= share * now));
    CHECK_FALSE(set.on_plates);
    before = set.readings.size();
  }
  const ReadingSet hopeless = smallest_set(fit, holes, 1e-4, true);
  CHECK_FALSE(hopeless.enough);
  CHECK(hopeless.worst < 0.5 * now);
}

TEST_CASE("what a set promises is what the fit says once it has been read") {
  const Tube truth = bent_culm();
  const Survey survey = quick_survey(truth);
  const TubeFit fit = fit_survey(survey);
  const std::vector<HoleOutlook> holes = outlooks(fit);
  for (const double share : {0.7, 0.5}) {
    const ReadingSet set = smallest_set(fit, holes, share * worst_of(holes), false);
    const TubeFit refit = fit_survey(with_readings(survey, truth, set));
    // More readings may tell orders apart that were one before: a sixth either way.
    CHECK(worst_of(outlooks(refit)) == Approx(set.worst).epsilon(0.17));
  }
}
