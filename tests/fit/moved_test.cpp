#include <catch2/catch.hpp>

#include "fit/assemble.hpp"
#include "fit/rules.hpp"
#include "measure.hpp"
#include "shapes.hpp"
#include "tube/check_girth.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// A straight pipe of radius 15 with exact readings; the tape's thickness is part of them.
Survey measured_pipe() {
  const Tube truth(round_tube(15.0, 15.0, 300.0, 4.0));
  Survey survey = bare_survey(truth);
  survey.tape_thickness = 0.2;
  for (double at : {10.0, 150.0, 290.0}) add_girth(survey, truth, at);
  add_walls(survey, truth, {0.0, 300.0}, 4);
  return survey;
}

/// As a tape 0.2 thick reads the girth of radius 15, and that share more or less.
CheckGirth check_at(double at, double share) {
  return {at, (2.0 * pi * 15.0 + pi * 0.2) * (1.0 + share), "2026-03-01"};
}

std::vector<Finding> moved(const Survey& survey) {
  const TubeFit fit = fit_survey(survey);
  KeyLayout layout;
  layout.id = "none";
  Placement placement;
  placement.id = "none";
  placement.layout_id = layout.id;
  placement.tube_id = survey.id;
  placement.foot_cut_at.value = 300.0;
  std::vector<Finding> found;
  for (const Finding& finding : check(fit, layout, assemble(fit.tube(), layout, placement))) {
    if (finding.rule == "tube-moved") found.push_back(finding);
  }
  return found;
}

}  // namespace

TEST_CASE("a check girth that moved by less than half a percent passes, by more it fails") {
  Survey survey = measured_pipe();
  survey.check_girths = {check_at(30, 0.0045), check_at(270, -0.0049)};
  REQUIRE(moved(survey).size() == 1);
  CHECK(moved(survey)[0].passes);
  CHECK(moved(survey)[0].value == Approx(0.0049).margin(1e-9));
  CHECK(moved(survey)[0].limit == 0.005);
  CHECK(moved(survey)[0].place.at == 270.0);
  for (double share : {0.0051, -0.0051}) {
    survey.check_girths = {check_at(30, 0.0), check_at(270, share)};
    const std::vector<Finding> found = moved(survey);
    REQUIRE(found.size() == 1);
    CHECK_FALSE(found[0].passes);
    CHECK_FALSE(acceptable(found));
    CHECK(found[0].sentence.find("Measure again") != std::string::npos);
    CHECK(found[0].sentence.find(share > 0 ? "more than" : "less than") != std::string::npos);
  }
}

TEST_CASE("without a survey, or without check girths, nothing is said of movement") {
  Survey survey = measured_pipe();
  CHECK(moved(survey).empty());
  CHECK(check_girth_reminder(girth_movements(fit_survey(survey))).find("two girths") != std::string::npos);
  survey.check_girths = {check_at(30, 0.0)};
  CHECK(check_girth_reminder(girth_movements(fit_survey(survey))).find("one more") != std::string::npos);
  survey.check_girths.push_back(check_at(200, 0.0));
  CHECK(check_girth_reminder(girth_movements(fit_survey(survey))).empty());
}

TEST_CASE("a check girth over a ridge tells nothing, and is not counted") {
  Survey survey = measured_pipe();
  Node node;
  node.at_line = node.at_far = 100.0;
  node.ridge_height = 1.0;
  survey.nodes.push_back(node);
  survey.check_girths = {check_at(100, 0.06), check_at(200, 0.0)};
  const std::vector<GirthMovement> movements = girth_movements(fit_survey(survey));
  CHECK(movements[0].on_node);
  CHECK_FALSE(movements[0].moved());
  CHECK(movement_sentence(movements[0]).find("clear of the ridge") != std::string::npos);
  CHECK(moved(survey)[0].passes);
  CHECK(check_girth_reminder(movements).find("one more") != std::string::npos);
}

TEST_CASE("the error of a movement holds the tape's and the survey's") {
  Survey survey = measured_pipe();
  survey.check_girths = {check_at(150, 0.0)};
  const TubeFit fit = fit_survey(survey);
  const GirthMovement movement = girth_movements(fit)[0];
  CHECK(movement.expected == Approx(2.0 * pi * 15.0 + pi * 0.2).epsilon(1e-9));
  CHECK(movement.sigma == Approx(std::hypot(survey.errors.tape, fit.girth_sigma(150))));
}
