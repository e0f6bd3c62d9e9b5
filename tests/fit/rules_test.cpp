#include "fit/rules.hpp"

#include <catch2/catch.hpp>

#include "instruments.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Tube pipe() {
  return Tube{round_tube(15, 15, 300, 4)};
}

Tube pipe_with_node(double at_line, double at_far) {
  TubeShape shape = round_tube(15, 15, 300, 4);
  Node node;
  node.at_line = at_line;
  node.at_far = at_far;
  node.band = 8.0;
  shape.nodes = {node};
  return Tube(shape);
}

bool concerns(const Finding& finding, const std::vector<std::string>& ids) {
  return finding.ids == ids;
}

}  // namespace

TEST_CASE("the web along the grain is held against a third of the larger hole") {
  // Limits are common practice: max(5, d / 3) along, 6 around.
  const Tube tube = pipe();
  const Finding tight = finding(tube, Drilled(tube).hole(16, 100, 0).hole(8, 117.2, 0), "web-along");
  CHECK(tight.limit == Approx(16.0 / 3.0));
  CHECK(tight.value == Approx(117.2 - 100 - 12).margin(1e-4));
  CHECK_FALSE(tight.passes);
  CHECK(tight.margin == Approx(tight.value - tight.limit));
  CHECK(concerns(tight, {"H1", "H2"}));
  CHECK(tight.sentence.find("5.20 mm, along the grain") != std::string::npos);
  CHECK(finding(tube, Drilled(tube).hole(8, 100, 0).hole(8, 113.5, 0), "web-along").passes);
}

TEST_CASE("a web that meets its limit exactly passes") {
  const Tube tube = pipe();
  const Finding exact = finding(tube, Drilled(tube).hole(8, 100, 0).hole(8, 113, 0), "web-along");
  CHECK(exact.margin == Approx(0.0).margin(1e-6));
  CHECK(exact.passes);
}

TEST_CASE("the web around uses the developed rims") {
  // Developed widths 10.195107 (r 5) and 8.097984 (r 4) on R = 15 (calculated).
  const Tube tube = pipe();
  const Finding web = finding(tube, Drilled(tube).hole(10, 100, 0).hole(8, 100, 15), "web-around");
  CHECK(web.limit == 6.0);
  CHECK(web.value == Approx(15 - (10.195107 + 8.097984) / 2).margin(1e-4));
  CHECK_FALSE(web.passes);
}

TEST_CASE("girth lost adds front and back at the worst section") {
  // Two holes at one height: 2 R asin(r / R) each; share of 2πR.
  const Tube tube = pipe();
  const Finding loss =
      finding(tube, Drilled(tube).hole(10, 100, 0).hole(8, 100, pi * 15).hole(8, 150, 0), "girth-lost");
  CHECK(loss.value == Approx((10.195107 + 8.097984) / (2 * pi * 15)).epsilon(1e-6));
  CHECK(loss.limit == 0.35);
  CHECK(loss.passes);
  CHECK(concerns(loss, {"H1", "H2"}));
  CHECK(loss.place.at == Approx(100).margin(1e-3));
}

TEST_CASE("girth lost between two holes at different heights is greatest between their middles") {
  // Width of a hole at offset v from its middle: 2 R asin(√(r² − v²) / R); equal holes 4 apart lose most
  // halfway.
  const Tube tube = pipe();
  const Finding loss = finding(tube, Drilled(tube).hole(10, 100, 0).hole(10, 104, 40), "girth-lost");
  const double width = 2 * 15 * std::asin(std::sqrt(25.0 - 4.0) / 15);
  CHECK(loss.place.at == Approx(102).margin(1e-3));
  CHECK(loss.value == Approx(2 * width / (2 * pi * 15)).epsilon(1e-6));
}

TEST_CASE("the worst section is found between the sections that were looked at") {
  // The middle of a hole of 9.3 lies at no quarter of a millimetre from its rim.
  const Tube tube = pipe();
  const Finding loss = finding(tube, Drilled(tube).hole(9.3, 100, 0), "girth-lost");
  CHECK(loss.value == Approx(2 * 15 * std::asin(4.65 / 15) / (2 * pi * 15)).epsilon(1e-7));
}

TEST_CASE("every stretch that loses too much girth is reported by its worst section") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  for (double at : {80.0, 200.0}) drilled.hole(16, at, 0).hole(16, at, 45).hole(7, at + 40, 0);
  int failing = 0;
  for (const Finding& one : check(tube, drilled)) {
    if (one.rule != "girth-lost") continue;
    CHECK_FALSE(one.passes);
    CHECK(one.value == Approx(2 * 2 * 15 * std::asin(8.0 / 15) / (2 * pi * 15)).epsilon(1e-6));
    ++failing;
  }
  CHECK(failing == 2);
}

TEST_CASE("a hole keeps half its diameter from a ridge, where the ridge is on its side") {
  const Tube tube = pipe_with_node(104, 96);
  const Finding front = finding(tube, Drilled(tube).hole(12, 120, 0), "node-distance");
  CHECK(front.limit == Approx(6.0));
  CHECK(front.value == Approx(120 - 6 - 104 - 4).margin(1e-4));
  CHECK(front.passes);
  CHECK(front.nodes == std::vector<int>{0});
  const Finding back = finding(tube, Drilled(tube).hole(12, 84, pi * 15), "node-distance");
  CHECK(back.value == Approx(96 - 4 - 84 - 6).margin(1e-4));
  CHECK_FALSE(back.passes);
}

TEST_CASE("a hole on a ridge is said to cut into it") {
  const Tube tube = pipe_with_node(100, 100);
  const Finding on = finding(tube, Drilled(tube).hole(10, 102, 0), "node-distance");
  CHECK(on.value == Approx(-4.0).margin(1e-4));
  CHECK(on.sentence.find("cuts into the ridge of node 1") != std::string::npos);
}

TEST_CASE("holes keep from the cuts, not from the ends of the piece") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  drilled.hole(20, 60, 0);
  drilled.placement.mouth_cut_at.value = 20.0;
  const Finding end = finding(tube, drilled, "end-distance");
  CHECK(end.limit == Approx(30.0));
  CHECK(end.value == Approx(60 - 10 - 20).margin(1e-4));
  CHECK(end.passes);
}

TEST_CASE("an end sawn out of square comes nearer on its short side") {
  // At the direction of the lean the end lies R tan(tilt) farther out, opposite as much farther in.
  TubeShape shape = round_tube(15, 15, 300, 4);
  shape.tilt_a = EndTilt{Angle::from_degrees(4.0), Angle()};
  const Tube tube(shape);
  const double lean = 15 * std::tan(4.0 * pi / 180);
  CHECK(finding(tube, Drilled(tube).hole(8, 40, 0), "end-distance").value == Approx(36).margin(1e-3));
  // The edge falls off to both sides of the hole's middle, so the nearest rim point is the middle one.
  CHECK(finding(tube, Drilled(tube).hole(8, 40, pi * 15), "end-distance").value ==
        Approx(36 - lean).margin(1e-2));
}

TEST_CASE("a hole is held against the tube's width across it") {
  // Oval: width across the x axis is 2 (15 + 1), along it 2 (15 − 1) for a₂ = 1 seen from the front.
  TubeShape shape = round_tube(15, 15, 300, 4);
  shape.skin = FourierAlong({{0, constant(15.0), {}}, {2, constant(1.0), constant(0.0)}});
  const Tube tube(shape);
  CHECK(finding(tube, Drilled(tube).hole(14, 100, 0), "hole-to-width").value == Approx(14.0 / 28.0));
  const double quarter = 0.25 * tube.girth(100);
  CHECK(finding(tube, Drilled(tube).hole(14, 100, quarter), "hole-to-width").value ==
        Approx(14.0 / 32.0).epsilon(1e-6));
  CHECK_FALSE(finding(tube, Drilled(tube).hole(16, 100, 0), "hole-to-width").passes);
}

TEST_CASE("the drill keeps clear of the far wall") {
  // Bore radius B = 11, hole radius r: the lips leave the near wall at √(B² − r²); the point of a 118° twist
  // drill stands r / tan 59° before them; the far wall is at −B on the axis and −√(B² − r²) at the lips.
  const Tube tube = pipe();
  for (double d : {6.0, 10.0, 16.0}) {
    const double r = d / 2;
    const double lips = std::sqrt(121 - r * r);
    const double tip = lips - r / std::tan(59 * pi / 180) + 11;
    CHECK(finding(tube, Drilled(tube).hole(d, 100, 20), "break-through").value ==
          Approx(std::min(tip, 2 * lips)).epsilon(1e-6));
  }
  // Bore radius 4, hole radius 3.5: the lips have 2 √(16 − 12.25) = 3.87, the point 3.83; a limit of 4
  // refuses it.
  const Tube thick{round_tube(15, 15, 300, 11)};
  Drilled narrow(thick);
  narrow.hole(7, 100, 0).layout.limits.break_through = 4.0;
  const Finding close = finding(thick, narrow, "break-through");
  CHECK(close.value ==
        Approx(std::min(2 * std::sqrt(3.75), std::sqrt(3.75) - 3.5 / std::tan(59 * pi / 180) + 4)));
  CHECK_FALSE(close.passes);
}

TEST_CASE("a cone leans its holes and the lean is limited") {
  const Tube tube{round_tube(15, 18, 300, 4)};
  Drilled drilled(tube);
  drilled.hole(8, 100, 0);
  drilled.layout.limits.tilt = Angle::from_degrees(0.5);
  const Finding tilt = finding(tube, drilled, "hole-tilt");
  CHECK(tilt.value == Approx(std::atan(0.01) * 180 / pi).epsilon(1e-6));
  CHECK_FALSE(tilt.passes);
}

TEST_CASE("four holes on one fibre line are a warning, not a refusal") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  for (int i = 0; i < 4; ++i) drilled.hole(7, 60 + 25 * i, 0.2 * i);
  drilled.hole(7, 180, 12);
  const Finding line = finding(tube, drilled, "fibre-line");
  CHECK(line.value == 4);
  CHECK(line.severity == Severity::warning);
  CHECK_FALSE(line.passes);
  CHECK(concerns(line, {"H1", "H2", "H3", "H4"}));
  CHECK(acceptable({line}));
}

TEST_CASE("holes on one fibre line are counted across the back as well") {
  const Tube tube = pipe();
  const double back = pi * 15;
  Drilled drilled(tube);
  drilled.hole(7, 60, back - 0.3).hole(7, 85, -back + 0.3).hole(7, 110, back).hole(7, 135, 0);
  CHECK(finding(tube, drilled, "fibre-line").value == 3);
}

TEST_CASE("a hole on a blemish to avoid is refused, on one to note it is not") {
  TubeShape shape = round_tube(15, 15, 300, 4);
  Blemish blemish;
  blemish.place = {100, 0};
  blemish.length = 20;
  blemish.width = 4;
  blemish.use = BlemishUse::avoid;
  shape.blemishes = {blemish};
  const Tube avoid(shape);
  CHECK_FALSE(finding(avoid, Drilled(avoid).hole(8, 105, 3), "blemish").passes);
  CHECK(finding(avoid, Drilled(avoid).hole(8, 120, 0), "blemish").value ==
        Approx(120 - 4 - 110).margin(1e-3));
  shape.blemishes[0].use = BlemishUse::note;
  const Tube note(shape);
  CHECK_FALSE(tightest(check(note, Drilled(note).hole(8, 105, 3)), "blemish").has_value());
}

TEST_CASE("a branch groove under a hole is a warning") {
  TubeShape shape = round_tube(15, 15, 300, 4);
  Groove groove;
  groove.place = {100, 0};
  groove.length = 40;
  groove.width = 6;
  groove.depth = 1;
  shape.grooves = {groove};
  const Tube tube(shape);
  const Finding under = finding(tube, Drilled(tube).hole(8, 105, 0), "groove");
  CHECK_FALSE(under.passes);
  CHECK(under.severity == Severity::warning);
  // Beside it: 20 of arc less 3 of groove less half a developed width of 8.097984.
  CHECK(finding(tube, Drilled(tube).hole(8, 100, 20), "groove").value ==
        Approx(20 - 3 - 8.097984 / 2).margin(1e-3));
}

TEST_CASE("an opening keeps a web from the holes") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  drilled.hole(8, 100, 0).part("access", PartKind::opening, 30, 18, 123, 0);
  const Finding web = finding(tube, drilled, "opening-web");
  CHECK(web.value == Approx(123 - 15 - 100 - 4).margin(1e-3));
  CHECK(web.limit == Approx(6.0));  // a third of the fibres' width that is cut
  CHECK_FALSE(web.passes);
}

TEST_CASE("touches and parts must be clear of each other") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  drilled.hole(6, 100, 0).hole(6, 114, 0).part("slide", PartKind::slider, 20, 8, 107, 14);
  drilled.layout.keys[0].touch = {12, 12, 6};
  const Finding clear = finding(tube, drilled, "touches-apart");
  CHECK(clear.passes);
  CHECK(clear.value == Approx(14 - 6 - 5).margin(1e-3));
}

TEST_CASE("a sliding control needs its whole travel") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  drilled.hole(6, 130, 0).part("slide", PartKind::slider, 20, 8, 107, 0);
  CHECK(finding(tube, drilled, "touches-apart").value == Approx(130 - 5 - 117).margin(1e-3));
  drilled.layout.parts[0].travel = 12;
  CHECK(finding(tube, drilled, "touches-apart").value == Approx(130 - 5 - 123).margin(1e-3));
  drilled.layout.parts[0].travel = 30;
  CHECK_FALSE(finding(tube, drilled, "touches-apart").passes);
}

TEST_CASE("nothing lies under the mouthpiece") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  drilled.hole(6, 40, 0).part("reed", PartKind::mouthpiece, 60, 30, 0, 0);
  const Finding clear = finding(tube, drilled, "touches-apart");
  CHECK(clear.value == Approx(40 - 5 - 30).margin(1e-3));
  CHECK(concerns(clear, {"H1", "reed"}));
  drilled.placement.keys[0].at.value = 33;
  CHECK_FALSE(finding(tube, drilled, "touches-apart").passes);
}

TEST_CASE("the thumb rest stands on sound wall only") {
  TubeShape shape = round_tube(15, 15, 300, 4);
  Node node;
  node.at_line = node.at_far = 150;
  node.band = 8;
  Groove groove;
  groove.place = {200, 47};
  groove.length = 30;
  groove.width = 5;
  shape.nodes = {node};
  shape.grooves = {groove};
  const Tube tube(shape);
  const auto rest_at = [&](double at) {
    Drilled drilled(tube);
    drilled.hole(10, 90, pi * 15).part("rest", PartKind::thumb_rest, 24, 14, at, pi * 15);
    return finding(tube, drilled, "rest-on-sound-wall");
  };
  CHECK(rest_at(120).passes);
  CHECK(rest_at(120).value == Approx(120 - 12 - 95).margin(1e-3));
  CHECK_FALSE(rest_at(105).passes);  // on the hole
  CHECK_FALSE(rest_at(140).passes);  // on the ridge
  CHECK(rest_at(140).nodes == std::vector<int>{0});
  CHECK_FALSE(rest_at(180).passes);  // on the groove
}

TEST_CASE("the thumb rest keeps off a blemish to avoid") {
  TubeShape shape = round_tube(15, 15, 300, 4);
  Blemish blemish;
  blemish.place = {150, 40};
  blemish.length = 10;
  blemish.width = 6;
  blemish.use = BlemishUse::avoid;
  shape.blemishes = {blemish};
  const Tube tube(shape);
  Drilled drilled(tube);
  drilled.part("rest", PartKind::thumb_rest, 24, 14, 150 + 12 + 5 + 2.5, 40);
  CHECK(finding(tube, drilled, "rest-on-sound-wall").value == Approx(2.5).margin(1e-3));
  CHECK(finding(tube, drilled, "blemish").value == Approx(2.5).margin(1e-3));
}

TEST_CASE("the hands keep their order and their distance") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  drilled.hole(6, 100, 0).hole(6, 140, 0, Hand::right);
  drilled.layout.left.along = 90;
  drilled.layout.right.along = 150;
  const Finding apart = finding(tube, drilled, "hands-apart");
  CHECK(apart.value == Approx(40 - 10).margin(1e-3));
  CHECK(apart.passes);
  CHECK(finding(tube, drilled, "hands-order").value == Approx(40));
  drilled.placement.keys[1].at.value = 80;
  const Finding order = finding(tube, drilled, "hands-order");
  CHECK_FALSE(order.passes);
  CHECK(order.value == Approx(-20));
}

TEST_CASE("the key layout's lengths limit the cuts") {
  const Tube tube = pipe();
  Drilled drilled(tube);
  drilled.layout.least_length = 310;
  drilled.layout.greatest_length = 320;
  CHECK_FALSE(finding(tube, drilled, "least-length").passes);
  CHECK(finding(tube, drilled, "greatest-length").margin == Approx(20));
}

TEST_CASE("every failing place is reported, in the order of the rules and of the keys") {
  const Tube tube = pipe_with_node(200, 200);
  Drilled drilled(tube);
  drilled.hole(10, 100, 0).hole(10, 112, 0).hole(10, 124, 0).hole(10, 198, 0).hole(10, 20, 0);
  std::vector<std::string> failing;
  for (const Finding& one : check(tube, drilled)) {
    if (!one.passes) failing.push_back(one.rule + " " + one.ids.front());
  }
  // Touches of 10 on centres 12 apart are clear; three on one fibre line are allowed, five are not.
  CHECK(failing == std::vector<std::string>{"node-distance H4", "web-along H1", "web-along H2",
                                            "end-distance H5", "fibre-line H1"});
}

TEST_CASE("rules have distinct ids and every finding names one of them") {
  const Tube tube{culm()};
  Drilled drilled(tube);
  drilled.hole(8, 130, 0).hole(8, 160, 4, Hand::right).part("rest", PartKind::thumb_rest, 20, 12, 150, 50);
  std::vector<std::string> ids;
  for (const Rule& rule : rules()) {
    CHECK(std::find(ids.begin(), ids.end(), rule.id) == ids.end());
    ids.push_back(rule.id);
  }
  for (const Finding& one : check(tube, drilled)) {
    CHECK(std::find(ids.begin(), ids.end(), one.rule) != ids.end());
    CHECK_FALSE(one.sentence.empty());
  }
}
