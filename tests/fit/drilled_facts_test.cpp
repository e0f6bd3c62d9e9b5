#include "fit/drilled_facts.hpp"

#include <catch2/catch.hpp>

#include "fit/compare.hpp"
#include "fit/shift.hpp"
#include "instruments.hpp"
#include "measure.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

constexpr double pilot = 3.0;

/// A drawn pipe of radius 15 and wall 4, measured exactly; the wall at one place and in one direction only.
Survey pipe_survey(const std::vector<double>& walls) {
  const Tube truth{round_tube(15, 15, 300, 4)};
  Survey survey = bare_survey(truth);
  survey.material = Material::pipe;
  for (const double at : {5.0, 150.0, 295.0}) {
    add_girth(survey, truth, at);
    add_widths(survey, truth, at, {0, 90});
  }
  for (const double thickness : walls) {
    WallReading wall;
    wall.at = 100.0;
    wall.direction.facing = Angle();
    wall.thickness = thickness;
    survey.walls.push_back(wall);
  }
  return survey;
}

DrilledHole hole(const std::string& id, double along, double around,
                 DrilledState state = DrilledState::finished) {
  DrilledHole made;
  made.id = id;
  made.state = state;
  made.across_along = along;
  made.across_around = around;
  return made;
}

DrilledHole hole_at(const std::string& id, double along, double around, SkinPlace place,
                    DrilledState state = DrilledState::finished) {
  DrilledHole made = hole(id, along, around, state);
  made.at = place.at;
  made.around = place.around;
  return made;
}

DrilledHole pilot_with_wall(const std::string& id, double wall) {
  DrilledHole made = hole(id, 0.0, 0.0, DrilledState::pilot);
  made.wall = wall;
  return made;
}

/// The pipe, or another survey, with holes to be drilled.
struct Job {
  TubeFit fit;
  Drilled wanted;
  AsDrilled as_drilled;

  explicit Job(const Survey& survey) : fit(fit_survey(survey)), wanted(fit.tube()) {
    as_drilled.tube_id = fit.tube().id();
    as_drilled.placement_id = wanted.placement.id;
    wanted.placement.revisions = {{1, "2026-02-01", "First placement"}};
  }
  DrilledJob facts() const {
    return with_drilled_facts(fit, wanted.layout, wanted.placement, as_drilled, pilot);
  }
  std::vector<Finding> findings() const {
    const DrilledJob job = facts();
    return culmwright::check(job.fit, wanted.layout, job.instrument);
  }
  Problems problems() const {
    try {
      facts();
    } catch (const InputError& error) {
      return error.problems();
    }
    return {};
  }
};

Job pipe_job() {
  return Job(pipe_survey({4.0, 4.0, 4.0}));
}

Finding tightest_of(const Job& job, const std::string& rule) {
  const std::optional<Finding> found = tightest(job.findings(), rule);
  REQUIRE(found.has_value());
  return *found;
}

bool says(const Finding& finding, const std::string& words) {
  return finding.sentence.find(words) != std::string::npos;
}

SignMark signed_mark() {
  SignMark mark;
  mark.state = SignState::signed_off;
  mark.by = "the bench";
  return mark;
}

}  // namespace

TEST_CASE("a hook-gauge reading and the survey's weigh as their errors say") {
  // Σ t/σ² / Σ 1/σ² = (25 (4.0 + 4.1 + 4.2) + 3.6 / 0.15²) / (75 + 1 / 0.15²).
  Job job(pipe_survey({4.0, 4.1, 4.2}));
  job.wanted.hole(9, 100, 0);
  job.as_drilled.holes = {pilot_with_wall("H1", 3.6)};
  const DrilledJob facts = job.facts();
  const double gauge = 1.0 / (0.15 * 0.15);
  const double mean = (25.0 * 12.3 + gauge * 3.6) / (75.0 + gauge);
  CHECK(mean == Approx(3.913953).epsilon(1e-6));
  CHECK(facts.fit.tube().section(100).wall(Angle()) == Approx(mean).margin(1e-4));
  CHECK(facts.instrument.keys[0].wall == Approx(mean).margin(1e-4));
  CHECK(job.fit.tube().section(100).wall(Angle()) == Approx(4.1).margin(1e-4));
  CHECK(*facts.holes[0].wall_before == Approx(4.1).margin(1e-4));
  CHECK(facts.fit.wall_sigma(100, Angle()) < job.fit.wall_sigma(100, Angle()));
  // A better gauge says more.
  job.as_drilled.hook_gauge_error = 0.05;
  CHECK(job.facts().fit.tube().section(100).wall(Angle()) ==
        Approx((25.0 * 12.3 + 400.0 * 3.6) / 475.0).margin(1e-4));
}

TEST_CASE("walls read through slanting holes give back the wall along the normal") {
  TubeShape shape = culm();
  shape.nodes.clear();
  const Tube truth(shape);
  Survey survey = bare_survey(truth);
  survey.material = Material::bamboo;
  survey.plates = SurveyPlates{16, 60.0};
  for (const double at : {3.0, 60.0, 120.0, 180.0, 240.0, 300.0, 360.0, 417.0})
    add_heights(survey, truth, at);
  add_walls(survey, truth, {3.0, 417.0}, 8);
  Job job(survey);
  job.as_drilled.hook_gauge_error = 0.01;
  const double around[] = {0.0, 12.0, -14.0, 25.0};
  for (std::size_t i = 0; i < 4; ++i) {
    job.wanted.hole(9, 90.0 + 70.0 * static_cast<double>(i), around[i]);
    job.wanted.layout.keys.back().square = HoleSquare::to_axis;
    const SkinPlace place = job.wanted.placement.keys.back().place();
    const Drilling axis = drilling_at(truth, place, HoleSquare::to_axis, 0.0);
    job.as_drilled.holes.push_back(
        pilot_with_wall("H" + std::to_string(i + 1), -bore_depth(truth, axis, Angle())));
  }
  const DrilledJob facts = job.facts();
  for (const PlacedKey& key : facts.instrument.keys) {
    INFO(key.key.id);
    const Drilling axis = drilling_at(truth, key.place, HoleSquare::to_axis, 0.0);
    CHECK(key.wall == Approx(-bore_depth(truth, axis, Angle())).margin(0.03));
    CHECK(facts.fit.wall_sigma(key.place.at, key.theta) < 0.3 * job.fit.wall_sigma(key.place.at, key.theta));
  }
}

TEST_CASE("what was drilled stands where it was measured, or where the drilled revision had it") {
  Job job = pipe_job();
  job.wanted.hole(9, 100, 0).hole(9, 130, 2).hole(9, 160, -2);
  // After drilling, H2 and H3 were moved on paper.
  const Shifted later = shift(job.fit.tube(), job.wanted.layout, job.wanted.placement,
                              parse_shift("H2 3 toward foot; H3 2 toward foot", job.wanted.layout), "");
  job.wanted.placement = later.placement;
  job.as_drilled.revision = 1;
  job.as_drilled.holes = {hole("H2", 9.2, 9.3), hole_at("H1", 9.0, 9.0, {101.5, 0.4})};
  const DrilledJob facts = job.facts();
  REQUIRE(facts.instrument.keys.size() == 3);
  CHECK(facts.instrument.keys[1].place.at == Approx(130.0));
  CHECK(facts.instrument.keys[1].locked);
  CHECK(facts.instrument.keys[1].origin == Origin::drilled);
  CHECK(facts.instrument.keys[1].drilled->across_around == 9.3);
  CHECK(2.0 * facts.instrument.keys[1].drilling.radius == Approx(9.3));
  CHECK(facts.instrument.keys[1].key.hole_diameter == 9.0);
  CHECK(facts.instrument.keys[0].place.at == Approx(101.5));
  CHECK(facts.instrument.keys[2].place.at == Approx(162.0));
  CHECK_FALSE(facts.instrument.keys[2].drilled.has_value());
  REQUIRE(facts.holes.size() == 2);
  CHECK(facts.holes[1].along == Approx(1.5));
  CHECK(facts.holes[1].around == Approx(0.4));
  CHECK(out_by_words(facts.holes[1]) == "1.5 mm toward foot, 0.4 mm to player's left");
  CHECK(out_by_words(facts.holes[0]) == "as wanted");
  CHECK(facts.holes[0].too_wide_by() == Approx(0.3));
}

TEST_CASE("writing the facts adds a revision once, and the drilled one can still be rebuilt") {
  Job job = pipe_job();
  job.wanted.hole(9, 100, 0).hole(9, 130, 2);
  job.as_drilled.holes = {hole_at("H1", 9.0, 9.0, {101.5, 0.4}), hole("H2", 0, 0, DrilledState::pilot)};
  const Placement& before = job.wanted.placement;
  const Placement after =
      with_facts_written(job.fit.tube(), job.wanted.layout, before, job.as_drilled, "2026-03-01");
  CHECK(after.revision() == 2);
  CHECK(after.revisions.back().what == "As drilled: H1 and H2");
  CHECK(after.keys[0].at.value == 101.5);
  CHECK(after.keys[0].at.locked);
  CHECK(*after.keys[0].at.error == 0.3);
  CHECK_FALSE(after.keys[1].at.error.has_value());
  const Placement rebuilt = as_of(after, 1);
  CHECK(rebuilt.keys[0].at.value == 100.0);
  CHECK_FALSE(rebuilt.keys[0].at.locked);
  const Placement again = with_facts_written(job.fit.tube(), job.wanted.layout, after, job.as_drilled, "");
  CHECK(again.revision() == 2);
  // The document still names revision 1, and says the same of the written placement.
  job.wanted.placement = after;
  CHECK(job.facts().holes[0].along == Approx(1.5));
  CHECK(job.facts().instrument.keys[1].place.at == Approx(130.0));
}

TEST_CASE("webs and girth are those of the holes as they came out, oval ones too") {
  Job job = pipe_job();
  job.wanted.hole(8, 100, 0).hole(8, 114, 0);
  CHECK(tightest_of(job, "web-along").value == Approx(6.0).margin(1e-4));
  // Along: 14 − 10 / 2 − 8 / 2. How wide they are around does not matter to that web.
  job.as_drilled.holes = {hole("H1", 10, 8)};
  CHECK(tightest_of(job, "web-along").value == Approx(5.0).margin(1e-4));
  job.as_drilled.holes = {hole("H1", 8, 10)};
  CHECK(tightest_of(job, "web-along").value == Approx(6.0).margin(1e-4));
  // 2 R asin(r / R) of 2πR with r = 5: the developed width 10.195107 on R = 15 (calculated).
  CHECK(tightest_of(job, "girth-lost").value == Approx(10.195107 / (2 * pi * 15)).epsilon(1e-5));
  // The limit is a third of the larger hole: of 16.5, 5.5.
  job.as_drilled.holes = {hole("H1", 8, 16.5)};
  CHECK(tightest_of(job, "web-along").limit == Approx(5.5));
}

TEST_CASE("a thin web says what can still be done about it") {
  Job job = pipe_job();
  job.wanted.hole(8, 100, 0).hole(8, 114, 0);
  job.as_drilled.holes = {hole_at("H1", 8, 8, {102, 0})};
  const Finding to_move = tightest_of(job, "web-along");
  CHECK(to_move.value == Approx(4.0).margin(1e-4));
  CHECK_FALSE(to_move.passes);
  CHECK(says(to_move, "H1 is drilled and stays: move H2"));
  job.as_drilled.holes.push_back(hole("H2", 8, 8));
  CHECK(says(tightest_of(job, "web-along"), "bind the tube there"));
  CHECK(says(tightest_of(job, "web-along"), "glued plug"));
}

TEST_CASE("everything keeps clear of a hole that no key wanted") {
  Job job = pipe_job();
  job.wanted.hole(8, 100, 0).hole(8, 140, 0);
  job.as_drilled.holes = {hole_at("SLIP", 3, 3, {109, 0}, DrilledState::extra)};
  const DrilledJob facts = job.facts();
  CHECK(facts.instrument.keys.size() == 2);
  REQUIRE(facts.instrument.extras.size() == 1);
  CHECK(facts.instrument.extras[0].along == Approx(109.0));
  const Finding web = tightest_of(job, "web-along");
  CHECK(web.value == Approx(109 - 100 - 4 - 1.5).margin(1e-4));
  CHECK(web.ids == std::vector<std::string>{"H1", "SLIP"});
  CHECK(says(web, "SLIP is drilled and stays: move H1"));
  CHECK(is_drilled(facts.instrument, "SLIP"));
  CHECK_FALSE(is_drilled(facts.instrument, "H1"));
}

TEST_CASE("a flange that no longer covers its hole says how wide it must be") {
  Job job = pipe_job();
  job.wanted.hole(9, 100, 0);
  job.wanted.layout.keys[0].touch = {16, 14, 7};
  job.as_drilled.holes = {hole("H1", 9.0, 9.4)};
  job.as_drilled.holes[0].chip_out = 0.8;
  // 14 / 2 − 9.4 / 2 − 0.8 = 1.5 of 2.0; 9.4 + 2 · 0.8 + 2 · 2.0 = 15.0.
  const Finding flange = tightest_of(job, "drilled-flange");
  CHECK(flange.value == Approx(1.5));
  CHECK_FALSE(flange.passes);
  CHECK(flange.severity == Severity::warning);
  CHECK(says(flange, "A flange of 15.0 mm covers it"));
  job.as_drilled.holes[0].chip_out = 0.2;
  CHECK(tightest_of(job, "drilled-flange").passes);
}

TEST_CASE("a hole that came out too wide is offered a sleeve, a wall that is too thin another cup") {
  Job job = pipe_job();
  job.wanted.hole(9, 100, 0);
  job.as_drilled.holes = {hole("H1", 10.2, 9.8)};
  const Finding size = tightest_of(job, "drilled-size");
  CHECK(size.value == Approx(1.2));
  CHECK_FALSE(size.passes);
  CHECK(says(size, "a sleeve of 10.2 mm outside and 9.0 mm inside"));
  job.as_drilled.holes = {hole("H1", 9.9, 9.8)};
  CHECK(tightest_of(job, "drilled-size").passes);

  job.as_drilled.holes = {pilot_with_wall("H1", 1.4)};
  const Finding wall = tightest_of(job, "drilled-wall");
  CHECK(wall.limit == Approx(1.5));
  CHECK_FALSE(wall.passes);
  job.wanted.layout.keys[0].cup = CupKind::padded_cup;
  CHECK_FALSE(tightest(job.findings(), "drilled-wall").has_value());
}

TEST_CASE("a signature holds while nothing that is still to come is broken by the facts") {
  Job job = pipe_job();
  job.wanted.hole(8, 100, 0).hole(8, 114, 0);
  job.as_drilled.holes = {hole_at("H1", 8, 8, {100.4, 0.2})};
  const auto judged = [&] {
    SignMark mark = signed_mark();
    const DrilledJob facts = job.facts();
    judge_drilled(facts.holes, facts.instrument, job.findings(), mark);
    return mark;
  };
  SignMark mark = judged();
  CHECK(mark.state == SignState::signed_off);
  REQUIRE(mark.drilled.size() == 3);
  CHECK(mark.drilled[0] == "Of 2 holes 1 is finished.");
  CHECK(mark.drilled[1] == "H1 lies farthest from its place: 0.4 mm toward foot, 0.2 mm to player's left.");
  CHECK(mark.drilled[2] == "The signature holds for what is still to be drilled.");

  job.as_drilled.holes = {hole_at("H1", 8, 8, {102, 0})};
  mark = judged();
  CHECK(mark.state == SignState::no_longer_signed);
  CHECK(sign_words(mark) == "DRAFT, no longer signed: what is drilled changed");
  REQUIRE(mark.what_changed.size() == 1);
  CHECK(mark.what_changed[0].find("The web between H1 and H2") != std::string::npos);

  // Both drilled: no signature could mend that web, and nothing is still to come.
  job.as_drilled.holes.push_back(hole("H2", 8, 8));
  mark = judged();
  CHECK(mark.state == SignState::signed_off);
}

TEST_CASE("facts that cannot be are refused at their place in the as-drilled document") {
  Job job = pipe_job();
  job.wanted.hole(9, 100, 0);
  job.as_drilled.holes = {hole("H9", 9, 9)};
  REQUIRE(job.problems().size() == 1);
  CHECK(job.problems()[0].code == "unknown-id");
  CHECK(job.problems()[0].where.file == as_drilled_document);
  job.as_drilled.holes = {hole("H1", 26, 26)};
  REQUIRE(job.problems().size() == 1);
  CHECK(job.problems()[0].code == "hole-too-wide");
  CHECK(job.problems()[0].where.file == as_drilled_document);
  CHECK(job.problems()[0].where.pointer == "/holes/0/across_along");
  job.as_drilled.holes = {pilot_with_wall("H1", 16.0)};
  REQUIRE(job.problems().size() == 1);
  CHECK(job.problems()[0].where.file == as_drilled_document);
  CHECK(job.problems()[0].where.pointer == "/holes/0/wall");
  job.as_drilled.holes = {hole_at("H1", 9, 9, {100, 120})};
  REQUIRE(job.problems().size() == 1);
  CHECK(job.problems()[0].where.pointer == "/holes/0/at");
}
