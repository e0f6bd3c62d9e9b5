#include <catch2/catch.hpp>
#include <random>

#include "fit/shift.hpp"
#include "mock_up_cases.hpp"
#include "propose_cases.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

constexpr Toward foot = Toward::foot;
constexpr Toward mouth = Toward::mouth;
constexpr Toward left = Toward::players_left;
constexpr Toward right = Toward::players_right;

/// The place that one or more readings give H2, at 125 along and 2 to the player's left before.
SkinPlace place_by(const std::vector<MockUpReading>& readings, const RemeasureOptions& options = {}) {
  const Tube tube = pipe();
  const Remeasured result = remeasured(tube, four_keys(tube), readings, options);
  CHECK(result.contradictions.empty());
  return placed(result.placement, "H2").place();
}

MockUpReading edge_reading(Way way, double distance, Toward direction, ReadingPoint point,
                           ReadingPoint from_point) {
  MockUpReading made = reading("H2", way, distance, "H1", direction);
  made.point = point;
  made.from_point = from_point;
  return made;
}

}  // namespace

TEST_CASE(
    "a distance along is counted from either end, a cut, the datum or a neighbour, toward what it says") {
  const Tube tube(round_tube(15.0, 15.0, 400.0, 3.0));
  Drilled drilled = four_keys(tube);
  drilled.placement.mouth_cut_at.value = 10.0;
  drilled.placement.foot_cut_at.value = 380.0;
  const auto at = [&](double distance, const char* from, std::optional<Toward> direction = std::nullopt) {
    return placed(remeasured(tube, drilled, {reading("H2", Way::along, distance, from, direction)}).placement,
                  "H2")
        .at.value;
  };
  CHECK(at(127.0, "end A") == Approx(127.0).margin(kept));
  CHECK(at(273.0, "end B") == Approx(127.0).margin(kept));
  CHECK(at(117.0, "mouth cut") == Approx(127.0).margin(kept));
  CHECK(at(253.0, "foot cut") == Approx(127.0).margin(kept));
  CHECK(at(127.0, "datum") == Approx(127.0).margin(kept));
  CHECK(at(27.0, "H1", foot) == Approx(127.0).margin(kept));
  CHECK(at(27.0, "H1", Toward::end_b) == Approx(127.0).margin(kept));
  CHECK(at(23.0, "H3", mouth) == Approx(127.0).margin(kept));
  CHECK(at(3.0, "rest", Toward::end_a) == Approx(127.0).margin(kept));
  CHECK(at(0.0, "rest") == Approx(130.0).margin(kept));
}

TEST_CASE("a distance around is counted from a line or sideways from a neighbour, as the player sees it") {
  const auto around = [](double distance, const char* from, Toward direction) {
    return place_by({reading("H2", Way::around, distance, from, direction)}).around;
  };
  CHECK(around(3.5, "reference line", left) == Approx(3.5).margin(kept));
  CHECK(around(3.5, "key line", right) == Approx(-3.5).margin(kept));
  CHECK(around(3.5, "H3", left) == Approx(1.5).margin(kept));
  CHECK(around(3.5, "H3", right) == Approx(-5.5).margin(kept));
  // Across the back: 2π · 15 − 60.
  CHECK(around(60.0, "key line", left) == Approx(60.0 - 94.24777960769379).margin(kept));
}

TEST_CASE("with mouth end B the words are the player's and the numbers the tube's") {
  const Tube tube = pipe();
  Drilled drilled = four_keys(tube);
  drilled.placement.mouth_end = End::b;
  std::swap(drilled.placement.mouth_cut_at, drilled.placement.foot_cut_at);
  const Remeasured result = remeasured(
      tube, drilled,
      {reading("H2", Way::along, 20.0, "H1", mouth), reading("H2", Way::around, 3.0, "key line", left)});
  CHECK(placed(result.placement, "H2").at.value == Approx(120.0).margin(kept));
  CHECK(placed(result.placement, "H2").around.value == Approx(-3.0).margin(kept));
  REQUIRE(result.places.size() == 1);
  CHECK(result.places[0].moved == "5 mm toward foot, 5 mm to player's left");
  CHECK(*result.places[0].along == Approx(280.0).margin(kept));
  CHECK(*result.places[0].around == Approx(3.0).margin(kept));
}

// Touches are 10 × 10; a hole of 8 on a radius of 15 has its rim 15 · asin(4/15) = 4.048936 around from its
// middle, measured on the skin, and 4 along.
TEST_CASE("edges of touches and holes may be measured from, and between") {
  using P = ReadingPoint;
  const auto along = [](double distance, Toward direction, P point, P from) {
    return place_by({edge_reading(Way::along, distance, direction, point, from)}).at;
  };
  CHECK(along(16.0, foot, P::near_edge, P::near_edge) == Approx(126.0).margin(kept));
  CHECK(along(36.0, foot, P::far_edge, P::far_edge) == Approx(126.0).margin(kept));
  CHECK(along(26.0, foot, P::near_edge, P::far_edge) == Approx(126.0).margin(kept));
  CHECK(along(21.0, foot, P::centre, P::near_edge) == Approx(126.0).margin(kept));
  CHECK(along(16.0, mouth, P::near_edge, P::near_edge) == Approx(74.0).margin(kept));
  CHECK(along(18.0, foot, P::near_hole_edge, P::near_hole_edge) == Approx(126.0).margin(2e-3));
  CHECK(along(17.0, foot, P::near_edge, P::near_hole_edge) == Approx(126.0).margin(2e-3));
  const auto around = [](double distance, Toward direction, P point, P from) {
    return place_by({edge_reading(Way::around, distance, direction, point, from)}).around;
  };
  CHECK(around(20.0, left, P::near_edge, P::near_edge) == Approx(30.0).margin(kept));
  CHECK(around(20.0, right, P::near_edge, P::centre) == Approx(-25.0).margin(kept));
  CHECK(around(20.0, left, P::near_hole_edge, P::near_hole_edge) == Approx(20.0 + 2 * 4.048936).margin(3e-3));
  CHECK(around(20.0, right, P::far_hole_edge, P::centre) == Approx(-20.0 + 4.048936).margin(3e-3));
}

TEST_CASE("exact readings of every kind give a culm's places back, whichever end is the mouth") {
  const Tube tube(culm());
  const unsigned seed = 411;
  INFO("seed " << seed);
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> away(-6.0, 6.0);
  for (const End mouth_end : {End::a, End::b}) {
    Drilled drilled(tube);
    for (const double at : {70.0, 130.0, 155.0, 180.0, 270.0, 300.0})
      drilled.hole(8.0, at, 5.0 + away(random));
    drilled.part("rest", PartKind::thumb_rest, 24.0, 14.0, 200.0, -40.0);
    Placement& placement = drilled.placement;
    placement.mouth_end = mouth_end;
    placement.mouth_cut_at.value = mouth_end == End::a ? 12.0 : 405.0;
    placement.foot_cut_at.value = mouth_end == End::a ? 405.0 : 12.0;
    placement.facing.value = Angle::from_degrees(25.0);
    std::vector<SkinPlace> truth;
    for (const PlacedId& key : placement.keys) {
      truth.push_back({key.at.value + away(random), key.around.value + away(random)});
    }
    const SkinPlace rest{204.0, -43.0};
    const PlayedFrame frame(tube, mouth_end, placement.mouth_cut_at.value, placement.foot_cut_at.value,
                            placement.facing.value);
    const auto toward = [](double signed_distance, Toward more, Toward less) {
      return signed_distance > 0.0 ? more : less;
    };
    std::vector<MockUpReading> readings;
    const auto measure = [&](const std::string& id, SkinPlace place, const std::string& from,
                             SkinPlace base) {
      const double along = frame.along(place.at) - frame.along(base.at);
      const double around = frame.played(place).around - frame.played(base).around;
      readings.push_back(reading(id, Way::along, std::abs(along), from, toward(along, foot, mouth)));
      readings.push_back(reading(id, Way::around, std::abs(around), from, toward(around, left, right)));
    };
    // A chain from H1, which is measured from an end and from the reference line.
    readings.push_back(reading("H1", Way::along, truth[0].at - tube.end_a_at(), "end A"));
    const double from_line = mouth_end == End::a ? truth[0].around : -truth[0].around;
    readings.push_back(
        reading("H1", Way::around, std::abs(from_line), "reference line", toward(from_line, left, right)));
    for (std::size_t i = 1; i < truth.size(); ++i) {
      measure("H" + std::to_string(i + 1), truth[i], "H" + std::to_string(i), truth[i - 1]);
    }
    measure("rest", rest, "H4", truth[3]);
    // And more than needed, through the air.
    const auto point = [&](std::size_t i) { return tube.skin_point(truth[i]).point; };
    readings.push_back(reading("H5", Way::straight, length(point(4) - point(2)), "H3"));
    readings.push_back(reading("H6", Way::straight, length(point(5) - point(0)), "H1"));

    const Remeasured result = remeasured(tube, drilled, readings);
    CHECK(result.contradictions.empty());
    CHECK(result.more_than_needed == 2);
    for (std::size_t i = 0; i < truth.size(); ++i) {
      const PlacedId& now = placed(result.placement, "H" + std::to_string(i + 1));
      CHECK(now.at.value == Approx(truth[i].at).margin(kept));
      CHECK(now.around.value == Approx(truth[i].around).margin(kept));
      CHECK(now.at.origin == Origin::measured);
      CHECK(now.around.revision == 2);
    }
    CHECK(placed(result.placement, "rest").at.value == Approx(rest.at).margin(kept));
    CHECK(placed(result.placement, "rest").around.value == Approx(rest.around).margin(kept));
    for (const SettledReading& one : result.readings) CHECK(one.settled == Approx(one.distance).margin(1e-3));
  }
}

// The net of a cone is a sector: radius 15 → 18 over 300 along, slant R = s·r with s = hypot(300, 3) / 3; two
// places β apart around lie β/s apart in the sector.
TEST_CASE("a paper strip measures the straight line of the unrolled cone") {
  const Tube tube(round_tube(15.0, 18.0, 300.0, 3.0));
  const Drilled drilled = four_keys(tube);
  const auto slant = [](double at) { return std::hypot(300.0, 3.0) / 3.0 * (15.0 + 0.01 * at); };
  const auto radius = [](double at) { return 15.0 + 0.01 * at; };
  const auto strip = [&](SkinPlace a, SkinPlace b) {
    const double turn = a.around / radius(a.at) - b.around / radius(b.at);
    const double gamma = turn * 3.0 / std::hypot(300.0, 3.0);
    const double ra = slant(a.at);
    const double rb = slant(b.at);
    return std::sqrt(ra * ra + rb * rb - 2.0 * ra * rb * std::cos(gamma));
  };
  const SkinPlace to{128.0, 24.0};
  const Remeasured result = remeasured(tube, drilled,
                                       {reading("H2", Way::skin, strip(to, {100.0, 0.0}), "H1"),
                                        reading("H2", Way::skin, strip(to, {180.0, 0.0}), "H4")});
  // Of the two crossing points the one on the side where it stood before.
  CHECK(placed(result.placement, "H2").at.value == Approx(to.at).margin(2e-3));
  CHECK(placed(result.placement, "H2").around.value == Approx(to.around).margin(2e-3));
}

namespace {

/// The shortest way on the skin as a chain of 80 chords along a path that bends by two sine waves: each chord
/// is shorter than its arc by less than 1e-5 of it, and further waves change less than that.
double shortest_way(const Tube& tube, SkinPlace a, SkinPlace b) {
  const auto way = [&](double first, double second) {
    double sum = 0.0;
    Vec3 before = tube.skin_point(a).point;
    constexpr int chords = 80;
    for (int i = 1; i <= chords; ++i) {
      const double t = double(i) / chords;
      const double bend = first * std::sin(pi * t) + second * std::sin(2.0 * pi * t);
      const Vec3 now =
          tube.skin_point(SkinPlace{a.at + t * (b.at - a.at), a.around + t * (b.around - a.around) + bend})
              .point;
      sum += length(now - before);
      before = now;
    }
    return sum;
  };
  double waves[2] = {0.0, 0.0};
  for (double step = 1.0; step > 1e-3; step *= 0.5) {
    for (int round = 0; round < 4; ++round) {
      for (double& wave : waves) {
        const double was = wave;
        double least = way(waves[0], waves[1]);
        for (const double sign : {-1.0, 1.0}) {
          wave = was + sign * step;
          const double longer = way(waves[0], waves[1]);
          if (longer < least) {
            least = longer;
            break;
          }
          wave = was;
        }
      }
    }
  }
  return way(waves[0], waves[1]);
}

}  // namespace

TEST_CASE(
    "between neighbours on a bowed, lobed culm a paper strip is the shortest way on the skin, to 0.02 mm") {
  const Tube tube(culm());
  const unsigned seed = 412;
  INFO("seed " << seed);
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> at(110.0, 220.0);
  std::uniform_real_distribution<double> around(-25.0, 25.0);
  double worst = 0.0;
  for (int i = 0; i < 8; ++i) {
    const SkinPlace a{at(random), around(random)};
    const SkinPlace b{a.at + (a.at < 165.0 ? 25.0 : -25.0), a.around + around(random)};
    Drilled drilled(tube);
    drilled.hole(6.0, a.at, a.around).hole(6.0, b.at, b.around).hole(6.0, 300.0, 0.0);
    RemeasureOptions options;
    options.without = {1};
    const double strip =
        remeasured(tube, drilled,
                   {reading("H1", Way::skin, 20.0, "H2"), reading("H3", Way::along, 300.0, "datum")}, options)
            .readings[0]
            .settled;
    worst = std::max(worst, std::abs(strip - shortest_way(tube, a, b)));
  }
  INFO("worst " << worst);
  CHECK(worst < 0.02);
}

TEST_CASE("a paper strip goes the shorter way around, and calipers go through the air") {
  const Tube tube = pipe();
  Drilled drilled = four_keys(tube);
  drilled.placement.keys[1].around.value = 46.0;
  drilled.placement.keys[2].around.value = -44.0;
  // 46 and −44 lie 94.247780 − 90 apart across the back.
  const double across = 4.24777960769379;
  MockUpReading check = reading("H2", Way::skin, std::hypot(25.0, across), "H3");
  const Remeasured result = remeasured(
      tube, drilled,
      {check, reading("H2", Way::along, 125.0, "end A"), reading("H2", Way::around, 46.0, "key line", left)});
  CHECK(result.contradictions.empty());
  CHECK(result.readings[0].settled == Approx(check.distance).margin(1e-3));
  // The chord of 2.0 and 4.0 around: 2 · 15 · sin(6 / 30).
  const double chord = 30.0 * std::sin(0.2);
  const Remeasured by_caliper = remeasured(
      tube, four_keys(tube),
      {reading("H2", Way::around, 4.0, "key line", left), reading("H2", Way::along, 120.0, "end A"),
       reading("H2", Way::straight, std::hypot(30.0, chord), "H3")});
  CHECK(by_caliper.contradictions.empty());
  CHECK(by_caliper.readings[2].settled == Approx(std::hypot(30.0, chord)).margin(1e-3));
}

TEST_CASE("what was not measured stays bit for bit, and a key measured along stays on its line") {
  const Tube tube(culm());
  const KeyLayout layout = tenor_of_17();
  Drilled drilled = four_keys(tube);
  drilled.placement.facing.value = Angle::from_degrees(140.0);
  for (PlacedId& key : drilled.placement.keys) key.around.value += 40.0;
  drilled.placement.keys[1].at.error = 0.3;
  drilled.placement.keys[1].at.origin = Origin::transferred;
  const Remeasured result = remeasured(tube, drilled, {reading("H3", Way::along, 30.0, "H2", foot)});
  for (const char* id : {"H1", "H2", "H4", "rest"}) {
    CHECK(same(placed(result.placement, id).at, placed(drilled.placement, id).at));
    CHECK(same(placed(result.placement, id).around, placed(drilled.placement, id).around));
  }
  const Instrument before = assemble(tube, drilled.layout, drilled.placement);
  const Instrument after = assemble(tube, drilled.layout, result.placement);
  CHECK(after.keys[2].along == Approx(before.keys[2].along + 5.0).margin(kept));
  CHECK(after.keys[2].around == Approx(before.keys[2].around).margin(2 * kept));
  const PlacedId& h3 = placed(result.placement, "H3");
  CHECK(h3.at.origin == Origin::measured);
  CHECK(h3.around.origin == Origin::given);
  CHECK_FALSE(h3.around.error.has_value());
  CHECK(std::abs(h3.around.value - drilled.placement.keys[2].around.value) > 0.01);
  // A number that is locked is held itself.
  drilled.placement.keys[2].around.locked = true;
  const Remeasured held = remeasured(tube, drilled, {reading("H3", Way::along, 30.0, "H2", foot)});
  CHECK(same(placed(held.placement, "H3").around, drilled.placement.keys[2].around));
}

TEST_CASE("measured only around, a key keeps its place along; one not listed before is listed as it stood") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  Placement placement;
  placement.id = "bare";
  placement.tube_id = tube.id();
  placement.layout_id = layout.id;
  placement.foot_cut_at.value = 500.0;
  const Instrument before = assemble(tube, layout, placement);
  const Remeasured result =
      remeasure(tube, layout, placement, mock_up_of({reading("R2", Way::around, 3.0, "key line", right)}));
  REQUIRE(result.placement.keys.size() == 1);
  CHECK(result.placement.parts.empty());
  CHECK(result.placement.keys[0].at.value == 257.0);
  CHECK(result.placement.keys[0].at.origin == Origin::given);
  const Instrument after = assemble(tube, layout, result.placement);
  for (std::size_t i = 0; i < before.keys.size(); ++i) {
    const bool moved = before.keys[i].key.id == "R2";
    CHECK(after.keys[i].along == before.keys[i].along);
    if (moved) CHECK(after.keys[i].around == Approx(-3.0).margin(kept));
    if (!moved) CHECK(after.keys[i].around == before.keys[i].around);
  }
  CHECK(result.placement.revision() == 2);
  CHECK(result.placement.signature() == nullptr);
}

TEST_CASE("what is drilled or locked never moves; a reading of it is held against it") {
  const Tube tube = pipe();
  Drilled drilled = four_keys(tube);
  drilled.placement.keys[1].at.origin = Origin::drilled;
  drilled.placement.keys[2].at.locked = true;
  const Remeasured agrees =
      remeasured(tube, drilled,
                 {reading("H2", Way::along, 125.4, "end A"), reading("H3", Way::along, 24.7, "H2", foot),
                  reading("H2", Way::around, 2.2, "key line", left),
                  reading("H3", Way::around, 5.0, "key line", right)});
  CHECK(agrees.contradictions.empty());
  for (const char* id : {"H1", "H2", "H4"}) {
    CHECK(same(placed(agrees.placement, id).at, placed(drilled.placement, id).at));
    CHECK(same(placed(agrees.placement, id).around, placed(drilled.placement, id).around));
  }
  CHECK(same(placed(agrees.placement, "H3").at, placed(drilled.placement, "H3").at));
  CHECK(placed(agrees.placement, "H3").around.value == Approx(-5.0).margin(kept));
  CHECK(agrees.remarks.size() == 2);
  const Remeasured not_so = remeasured(tube, drilled, {reading("H2", Way::along, 127.0, "end A")});
  REQUIRE(not_so.contradictions.size() == 1);
  CHECK(not_so.contradictions[0].others_say == Approx(125.0).margin(1e-6));
  CHECK(not_so.contradictions[0].times == Approx(4.0).margin(1e-6));
  CHECK(not_so.contradictions[0].sentence.find("H2, which is drilled") != std::string::npos);
}

TEST_CASE("a straight distance beside one along is a check where it says little of the place around") {
  const Tube tube = pipe();
  Drilled drilled = four_keys(tube);
  for (PlacedId& key : drilled.placement.keys) key.around.value = 0.0;
  const Remeasured result = remeasured(
      tube, drilled, {reading("H2", Way::along, 24.0, "H1", foot), reading("H2", Way::skin, 24.4, "H1")});
  CHECK(result.contradictions.empty());
  CHECK(placed(result.placement, "H2").at.value == Approx(124.2).margin(kept));
  CHECK(same(placed(result.placement, "H2").around, drilled.placement.keys[1].around));
  CHECK(*placed(result.placement, "H2").at.error == Approx(0.5 / std::sqrt(2.0)).margin(kept));
  REQUIRE(result.remarks.size() == 1);
  CHECK(result.remarks[0] == "H2 around stays as it was: the straight distances say too little of it.");
  CHECK(troubles([&] { remeasured(tube, drilled, {reading("H2", Way::skin, 26.0, "H1")}); }) ==
        std::vector<std::string>{"unplaced /readings/0"});
}

TEST_CASE("what is wrong with the readings is told all at once, each at its own") {
  const Tube tube = pipe();
  const Drilled drilled = four_keys(tube);
  using Found = std::vector<std::string>;
  CHECK(troubles([&] {
          remeasured(
              tube, drilled,
              {reading("H9", Way::along, 20.0, "H1", foot), reading("H2", Way::along, 20.0, "H8", foot),
               reading("h3", Way::around, 20.0, "key lin", left), reading("H1", Way::along, 90.0, "end A"),
               reading("H1", Way::around, 95.0, "key line", left)});
        }) == Found{"unknown-id /readings/0/what", "unknown-id /readings/1/from",
                    "unknown-id /readings/2/what", "unknown-id /readings/2/from",
                    "range /readings/4/distance"});
  CHECK(troubles([&] {
          remeasured(
              tube, drilled,
              {reading("H2", Way::along, 20.0, "H3", mouth), reading("H3", Way::along, 30.0, "H4", mouth),
               reading("H4", Way::along, 50.0, "H2", foot), reading("H1", Way::along, 399.0, "H1x", foot)});
        }) == Found{"unknown-id /readings/3/from"});
  CHECK(troubles([&] {
          remeasured(
              tube, drilled,
              {reading("H1", Way::along, 99.0, "end A"), reading("H2", Way::along, 20.0, "H3", mouth),
               reading("H3", Way::along, 30.0, "H4", mouth), reading("H4", Way::along, 50.0, "H2", foot)});
        }) == Found{"no-base /readings/1"});
  CHECK(troubles([&] { remeasured(tube, drilled, {reading("H2", Way::along, 301.0, "H1", foot)}); }) ==
        Found{"place-outside /readings/0"});
  CHECK(troubles([&] { remeasured(tube, drilled, {}); }) == Found{"nothing-measured "});
  RemeasureOptions options;
  options.without = {2};
  CHECK(troubles([&] { remeasured(tube, drilled, {reading("H1", Way::along, 99.0, "end A")}, options); }) ==
        Found{"unknown-reading "});
}

TEST_CASE("the edge of a part whose size nobody knows is refused") {
  const Tube tube = pipe();
  Drilled drilled = four_keys(tube);
  drilled.part("ring", PartKind::strap_ring, 0.0, 0.0, 60.0, 40.0);
  MockUpReading made = reading("H1", Way::along, 30.0, "ring", foot);
  made.from_point = ReadingPoint::near_edge;
  CHECK(troubles([&] { remeasured(tube, drilled, {made}); }) ==
        std::vector<std::string>{"no-size /readings/0/from_point"});
}

TEST_CASE("a revision by measuring is taken back number by number") {
  const Tube tube = pipe();
  const Drilled drilled = four_keys(tube);
  const Remeasured result = remeasured(
      tube, drilled,
      {reading("H2", Way::along, 27.0, "H1", foot), reading("H2", Way::around, 1.0, "key line", left),
       reading("rest", Way::along, 5.0, "H2", foot), reading("mouth cut", Way::along, 4.0, "end A")});
  CHECK(result.placement.revisions.back().what == "Measured on the mock-up: H2, rest and mouth cut");
  const Placement back = undone(result.placement, "2026-03-01");
  CHECK(back.revision() == 3);
  CHECK(back.mouth_cut_at.value == drilled.placement.mouth_cut_at.value);
  for (const char* id : {"H1", "H2", "H3", "H4", "rest"}) {
    CHECK(same(placed(back, id).at, placed(drilled.placement, id).at));
    CHECK(same(placed(back, id).around, placed(drilled.placement, id).around));
  }
  CHECK_FALSE(back.left_mark.has_value());
}

TEST_CASE(
    "when a cut or the key line is measured anew, keys, parts and marks keep their places on the tube") {
  const Tube tube = long_culm(560.0, 3);
  const KeyLayout layout = tenor_of_17();
  Placement placement;
  placement.id = "bare";
  placement.tube_id = tube.id();
  placement.layout_id = layout.id;
  placement.foot_cut_at.value = 500.0;
  placement.facing.value = Angle::from_degrees(30.0);
  const Instrument before = assemble(tube, layout, placement);
  MockUpReading line = reading("key line", Way::around, 5.0, "reference line", left);
  line.level = 200.0;
  const Remeasured result = remeasure(tube, layout, placement,
                                      mock_up_of({reading("mouth cut", Way::along, 7.5, "end A"),
                                                  reading("foot cut", Way::along, 490.0, "mouth cut"), line,
                                                  reading("R2", Way::around, 2.0, "key line", left)}));
  CHECK(result.contradictions.empty());
  const Placement& now = result.placement;
  CHECK(now.mouth_cut_at.value == 7.5);
  CHECK(now.mouth_cut_at.origin == Origin::measured);
  CHECK(now.foot_cut_at.value == 497.5);
  CHECK(*now.foot_cut_at.error == Approx(std::sqrt(0.5)).margin(1e-3));
  const PlayedFrame frame(tube, End::a, 7.5, 497.5, now.facing.value);
  CHECK(frame.key_line_around(207.5) == Approx(5.0).margin(1e-3));
  const Instrument after = assemble(tube, layout, now);
  for (std::size_t i = 0; i < before.keys.size(); ++i) {
    CHECK(after.keys[i].place.at == Approx(before.keys[i].place.at).margin(1e-12));
    const bool measured = before.keys[i].key.id == "R2";
    if (measured) CHECK(after.keys[i].around == Approx(2.0).margin(1e-3));
    if (!measured) CHECK(after.keys[i].place.around == Approx(before.keys[i].place.around).margin(1e-12));
  }
  for (std::size_t i = 0; i < before.parts.size(); ++i) {
    // The mouthpiece goes with the end that it sits on.
    const double with_cut = before.parts[i].part.kind == PartKind::mouthpiece ? 7.5 : 0.0;
    CHECK(after.parts[i].place.at == Approx(before.parts[i].place.at + with_cut).margin(1e-12));
  }
  CHECK(now.left_mark->along == Approx(105.0 - 7.5).margin(1e-3));
}

// Half the paper's thickness outside the skin an arc is longer by 0.05 mm for each radian: π · 15 / 2 of skin
// reads π (15 + 0.05) / 2 on paper of 0.1 mm.
TEST_CASE("marks on a wrap are read off the paper's middle") {
  const Tube tube = pipe();
  const Drilled drilled = four_keys(tube);
  MeasuredMockUp mock_up;
  mock_up.paper_thickness = 0.1;
  WrapMark mark;
  mark.key = "H2";
  mark.along = 128.0;
  mark.around = 15.05 * pi / 2.0;
  mark.direction = right;
  mock_up.marks.push_back(mark);
  const Remeasured result = remeasure(tube, drilled.layout, drilled.placement, mock_up);
  CHECK(placed(result.placement, "H2").at.value == Approx(128.0).margin(kept));
  CHECK(placed(result.placement, "H2").around.value == Approx(-7.5 * pi).margin(kept));
  CHECK(result.readings[1].pointer == "/marks/0/around");
}

// An end that leans by 2° toward the reference line reaches 15 tan 2° = 0.523812 mm farther out there, and as
// much less on the far side.
TEST_CASE("from an end sawn out of square the distance counts from its edge on the side of the key") {
  RemeasureOptions options;
  options.tilt_a = EndTilt{Angle::from_degrees(2.0), Angle()};
  CHECK(place_by({reading("H2", Way::along, 120.0, "end A"), reading("H2", Way::around, 0.0, "key line")},
                 options)
            .at == Approx(120.0 - 0.523812).margin(kept));
  CHECK(place_by({reading("H2", Way::along, 120.0, "end A"),
                  reading("H2", Way::around, 15.0 * pi, "key line", left)},
                 options)
            .at == Approx(120.0 + 0.523812).margin(kept));
}
