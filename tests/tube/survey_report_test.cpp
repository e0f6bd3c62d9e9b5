#include "tube/survey_report.hpp"

#include <catch2/catch.hpp>

#include "measure.hpp"
#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Survey girths_only(const Tube& truth) {
  Survey survey = bare_survey(truth);
  for (double at : {0.0, 60.0, 130.0, 180.0, 300.0, 340.0, 420.0}) add_girth(survey, truth, at);
  add_walls(survey, truth, {0.0, 420.0}, 4);
  return survey;
}

bool remarked(const SurveyReport& report, const std::string& code) {
  return std::any_of(report.remarks.begin(), report.remarks.end(),
                     [&](const SurveyRemark& remark) { return remark.code == code; });
}

}  // namespace

TEST_CASE("ovality and taper follow ISO 19624") {
  // ISO 19624 (from memory): ovality 2(Dmax − Dmin)/(Dmax + Dmin), 31.2/29.4 → 0.059406; external taper
  // (D₁ − D₂)/L, 32 → 28 over 400 → 0.0100.
  TubeShape oval = round_tube(15.15, 15.15, 100, 4);
  oval.skin = FourierAlong({{0, constant(15.15), {}}, {2, constant(0.45), constant(0.0)}});
  Survey survey = bare_survey(Tube(oval));
  survey.errors.caliper = survey.errors.tape = 1e-3;
  survey.errors.protractor = Angle::from_degrees(0.01);
  for (double at : {0.0, 50.0, 100.0}) {
    add_girth(survey, Tube(oval), at);
    add_widths(survey, Tube(oval), at, {0, 45, 90, 135});
  }
  add_walls(survey, Tube(oval), {0.0, 100.0}, 4);
  const StationFigures figures = report_on(fit_survey(survey)).stations[1];
  CHECK(figures.greatest == Approx(31.2).margin(1e-4));
  CHECK(figures.least == Approx(29.4).margin(1e-4));
  CHECK(figures.ovality() == Approx(0.059406).margin(1e-5));

  const Tube tapered{round_tube(16, 14, 400, 4)};
  Survey taper = bare_survey(tapered);
  for (double at : {0.0, 200.0, 400.0}) add_girth(taper, tapered, at);
  add_walls(taper, tapered, {0.0, 400.0}, 4);
  CHECK(report_on(fit_survey(taper)).taper.value == Approx(0.0100).margin(1e-6));
}

TEST_CASE("a width that disagrees with the girth is named") {
  const Tube truth{round_tube(15.5, 18, 420, 4)};
  Survey survey = girths_only(truth);
  for (Station& station : survey.stations) {
    add_widths(survey, truth, station.at, {0, 45, 90, 135});
  }
  survey.stations[2].widths[1].across += 2.0;
  const SurveyReport report = report_on(fit_survey(survey));
  REQUIRE(remarked(report, "reading-off"));
  bool named = false;
  for (const SurveyRemark& remark : report.remarks)
    named = named || remark.pointer.rfind("/stations/2/", 0) == 0;
  CHECK(named);
}

TEST_CASE("two widths taken for each other at one station are remarked, though the girth agrees") {
  TubeShape shape = round_tube(16, 15, 420, 4);
  shape.skin = FourierAlong({{0, constant(15.5), {}}, {2, constant(0.3), constant(0.0)}});
  const Tube truth{shape};
  Survey survey = girths_only(truth);
  for (Station& station : survey.stations) add_widths(survey, truth, station.at, {0, 90});
  CHECK(!remarked(report_on(fit_survey(survey)), "ovality-turns"));
  std::swap(survey.stations[3].widths[0].across, survey.stations[3].widths[1].across);
  const SurveyReport report = report_on(fit_survey(survey));
  REQUIRE(remarked(report, "ovality-turns"));
  CHECK(!remarked(report, "reading-off"));
  for (const SurveyRemark& remark : report.remarks) {
    if (remark.code == "ovality-turns") CHECK(remark.pointer == "/stations/3/widths");
  }
}

TEST_CASE("what survey plates would tell comes with the best reading that needs none") {
  const Tube truth{round_tube(15.5, 18, 420, 4)};
  const NextReading next = next_reading(fit_survey(girths_only(truth)));
  REQUIRE(next.text.find("survey plates") != std::string::npos);
  CHECK(!next.without_plates.empty());
  CHECK(next.without_plates.find("survey plates") == std::string::npos);
  CHECK(next.hole_error_without_plates < next.hole_error_now);
  CHECK(next.hole_error_without_plates >= next.hole_error_after);
}

TEST_CASE("a density that no such material has is remarked, a plausible one is not") {
  const Tube truth{round_tube(15.5, 18, 420, 4)};
  Survey survey = girths_only(truth);
  survey.material = Material::bamboo;
  const double volume = report_on(fit_survey(survey)).volume.value;
  survey.mass_g = volume * 0.68e-3;
  SurveyReport report = report_on(fit_survey(survey));
  CHECK(!remarked(report, "density"));
  REQUIRE(report.density);
  CHECK(report.density->value == Approx(0.68).epsilon(1e-9));
  survey.mass_g = volume * 1.9e-3;
  CHECK(remarked(report_on(fit_survey(survey)), "density"));
}

TEST_CASE("a station on a ridge is left out of the skin and said so") {
  const Tube truth{culm()};
  Survey survey = girths_only(truth);
  add_girth(survey, truth, 92.0);
  std::sort(survey.stations.begin(), survey.stations.end(),
            [](const Station& a, const Station& b) { return a.at < b.at; });
  station_at(survey, 92.0).girth = 130.0;  // the ridge
  const SurveyReport report = report_on(fit_survey(survey));
  CHECK(remarked(report, "station-on-node"));
  for (const StationFigures& station : report.stations) CHECK(station.girth.value < 120.0);
}

TEST_CASE("the next reading promised lowers the error as promised") {
  const Tube truth{round_tube(15.5, 18, 420, 4)};
  const Survey survey = girths_only(truth);
  const TubeFit fit = fit_survey(survey);
  const NextReading next = next_reading(fit);
  CHECK(next.hole_error_after < next.hole_error_now);
  CHECK(!next.text.empty());
  CHECK(next.hole_error_now == Approx(hole_error(fit)));
  // Reading the bow on one side does at least what a like candidate would.
  Survey more = survey;
  add_bow(more, truth, 210.0, 0);
  add_bow(more, truth, 210.0, 90);
  CHECK(hole_error(fit_survey(more)) < next.hole_error_now);
}

TEST_CASE("volume and its uncertainty: a wall error of 0.2 all over is girth times length times 0.2") {
  const Tube truth{round_tube(18, 18, 400, 4)};
  Survey survey = bare_survey(truth);
  for (double at : {0.0, 200.0, 400.0}) add_girth(survey, truth, at);
  add_walls(survey, truth, {200.0}, 1);
  survey.errors.tape = 1e-3;
  FitPriors priors;
  priors.wall_wander = priors.wall_lobe = priors.lobe = 1e-5;
  priors.ovality = 1e-6;
  const SurveyReport report = report_on(fit_survey(survey, priors));
  CHECK(report.volume.value == Approx(pi * (18.0 * 18 - 14 * 14) * 400).epsilon(1e-6));
  CHECK(report.volume.sigma == Approx(2 * pi * 14.0 * 400 * 0.2).epsilon(0.01));
}

TEST_CASE("internodes run from end to node to end") {
  const Tube truth{culm()};
  const SurveyReport report = report_on(fit_survey(girths_only(truth)));
  REQUIRE(report.internodes.size() == 4);
  CHECK(report.internodes[1].length() == Approx(0.34 * 420));
}
