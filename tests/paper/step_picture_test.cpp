#include "paper/step_picture.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "guide_samples.hpp"
#include "measure.hpp"
#include "page_checks.hpp"

using namespace culmwright;

namespace {

/// A straight pipe of radius 15 and wall 3 with three holes of 10.
DrillBench bench_with(bool cradles) {
  TubeShape shape = test::round_tube(15.0, 15.0, 260.0, 3.0);
  const Tube tube(shape);
  Survey survey = test::bare_survey(tube);
  for (const double at : {10.0, 130.0, 250.0}) {
    test::add_girth(survey, tube, at);
    test::add_widths(survey, tube, at, {0.0, 90.0});
  }
  test::add_walls(survey, tube, {10.0, 250.0}, 4);
  Instrument instrument = test::three_in_a_row(tube);
  Shop shop;
  shop.cradles = cradles;
  shop.drills = {Drill{}};
  shop.drills.front().diameter = 8.0;
  const TubeFit fit = fit_survey(survey);
  return drill_bench(fit, instrument, shop, plan_guides(fit.tube(), instrument, shop));
}

const DrillingStep& step_of(const DrillingSchedule& schedule, Stage stage) {
  for (const DrillingStep& step : schedule.steps) {
    if (step.stage == stage) return step;
  }
  throw std::runtime_error("no such step");
}

std::vector<Vec2> corners_of(const Page& page, const std::string& id) {
  const Group* group = test::group_of(page, id);
  REQUIRE(group != nullptr);
  const Path& path = std::get<Path>(std::get<Shape>(group->items.front()).geometry);
  std::vector<Vec2> corners{path.contours.front().start};
  for (const PathStep& step : path.contours.front().steps) corners.push_back(step.to);
  return corners;
}

double lowest(const std::vector<Vec2>& corners) {
  double y = corners.front().y;
  for (const Vec2 p : corners) y = std::max(y, p.y);
  return y;
}
double uppermost(const std::vector<Vec2>& corners) {
  double y = corners.front().y;
  for (const Vec2 p : corners) y = std::min(y, p.y);
  return y;
}

}  // namespace

TEST_CASE("pictures of drilling steps keep their words clear of lines, in V-blocks and in cradles") {
  for (const bool cradles : {false, true}) {
    const DrillBench bench = bench_with(cradles);
    const DrillingSchedule schedule = drilling_schedule(bench);
    int drawn = 0;
    for (const DrillingStep& step : schedule.steps) {
      const auto picture = step_picture(bench, step);
      if (!picture) continue;
      ++drawn;
      CHECK(picture->width == step_picture_width);
      test::check_page(*picture, 0.0);
    }
    CHECK(drawn >= 2);
  }
}

TEST_CASE("the stop of a pilot bears on its bush, the tip as far under it as the schedule says, to scale") {
  const DrillBench bench = bench_with(false);
  const DrillingSchedule schedule = drilling_schedule(bench);
  const DrillingStep& step = step_of(schedule, Stage::pilot);
  const auto page = step_picture(bench, step);
  REQUIRE(page);
  const auto tube = corners_of(*page, "tube");
  const double scale = (lowest(tube) - uppermost(tube)) / 30.0;
  const auto stop = corners_of(*page, "stop");
  CHECK(lowest(stop) == Approx(uppermost(corners_of(*page, "bush"))));
  CHECK(lowest(corners_of(*page, "bit")) - lowest(stop) ==
        Approx(step.lines.front().stop->length * scale).epsilon(0.005));
  // The tip is through the wall of 3 and short of the far wall.
  const double under_skin = (lowest(corners_of(*page, "bit")) - uppermost(tube)) / scale;
  CHECK(under_skin > 3.0);
  CHECK(under_skin < 27.0);
}

TEST_CASE("a step in which nothing turns has no picture") {
  const DrillBench bench = bench_with(false);
  const DrillingSchedule schedule = drilling_schedule(bench);
  CHECK(!step_picture(bench, step_of(schedule, Stage::deburr)));
}
