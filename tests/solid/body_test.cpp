#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <catch2/catch.hpp>
#include <cmath>

#include "plan/skin_ray.hpp"
#include "solid/body_routes.hpp"
#include "solid/body_solid.hpp"
#include "solid/sample_bodies.hpp"

using namespace culmwright;

namespace {

/// By the kernel's own quadrature with a stated accuracy; its default is no measure.
double weighed(const Solid& solid) {
  GProp_GProps weight;
  BRepGProp::VolumeProperties(solid.occt_shape(), weight, 1e-6);
  return weight.Mass();
}

struct Body {
  Expectation expected;
  double solid_volume;
  MeshFaults faults;
};

Body build(const Tube& tube, const Instrument& instrument) {
  const BodyPlan plan = plan_body(tube, instrument);
  GateLog log;
  const Solid solid = body_solid(plan, tube, log);
  CHECK(log.size() == 1);
  return {expectation_of(plan, tube), weighed(solid), inspect(solid.mesh(body_accuracy))};
}

std::string refusal(const Tube& tube, const Instrument& instrument) {
  try {
    plan_body(tube, instrument);
  } catch (const GeometryError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("a straight piece of pipe has the handbook's volume of a hollow cylinder, planned and built") {
  // Machinery's Handbook, 31st ed., pp. 89–93: h 28, D 36, t 4: V 11259.5.
  const Tube tube(test::round_tube(18, 18, 60, 4));
  const Body body = build(tube, samples::piece(10, 38));
  CHECK(body.expected.volume == Approx(11259.5).epsilon(5e-6));
  CHECK(body.solid_volume == Approx(11259.5).epsilon(2e-5));
  CHECK(body.faults.genus == 1);
}

TEST_CASE("leaving a hole out adds its plug's volume and takes one from the genus") {
  // REFERENCES, "Plug cut from one wall (outer, inner, drill radius)"; calculated.
  const double table[3][4] = {{15, 12, 4, 152.531627}, {20, 15, 6, 574.389424}, {13, 9.5, 5, 282.461720}};
  for (const auto& [outer, inner, drill, plug] : table) {
    const Tube tube(test::round_tube(outer, outer, 60, outer - inner));
    Instrument drilled = samples::piece(10, 50);
    const Body whole = build(tube, drilled);
    samples::drill(drilled, tube, "L1", {30, 5}, 2 * drill);
    const Body holed = build(tube, drilled);
    CHECK(whole.expected.volume - holed.expected.volume == Approx(plug).epsilon(1e-6));
    CHECK(whole.solid_volume - holed.solid_volume == Approx(plug).epsilon(1e-4));
    CHECK(holed.faults.genus == whole.faults.genus + 1);
    CHECK(holed.expected.genus == whole.expected.genus + 1);
  }
}

TEST_CASE("half of two crossed cylinders lies above the axis of the one the drill is square to") {
  // (8/3) a [(a² + b²) E − (a² − b²) K], modulus b/a (CRC; REFERENCES), calculated; half of it is above.
  const double table[5][3] = {{10, 5, 1520.039988},
                              {15, 4, 1494.438464},
                              {15, 5, 2322.998457},
                              {20, 6, 4472.410296},
                              {12, 3, 673.240326}};
  for (const auto& [radius, drill, both] : table) {
    const Tube tube(test::round_tube(radius, radius, 100, 2));
    const RigidMotion frame = rim_frame(drilling_at(tube, {50, 3}, HoleSquare::to_axis, drill));
    const double r = radius;
    CHECK(over_disc(drill, [&](Vec2 p) { return skin_hit(tube, frame, p, 0.0).height + r; }) ==
          Approx(0.5 * both).epsilon(1e-6));
  }
}

TEST_CASE("a culm with nodes pierced and whole, holes and an opening passes the gate at the first build") {
  TubeShape shape = test::culm(200);
  shape.nodes[0].pierced_diameter = 12.0;
  shape.nodes[1].pierced_diameter = 60.0;  // wider than the bore: no plate
  const Tube tube(shape);                  // the third stays whole
  Instrument instrument = samples::piece(12, 190);
  samples::drill(instrument, tube, "L1", {25, -10}, 8);
  samples::drill(instrument, tube, "L2", {70, 12}, 11);
  samples::drill(instrument, tube, "R1", {130, 4}, 14);
  samples::open(instrument, tube, {95, 40}, 20, 10);
  const Body body = build(tube, instrument);
  // Outside and three cavities; ways: A, pierced plate, three holes, one opening, B: 7 − 4 + 1.
  CHECK(body.faults.genus == 4);
  CHECK(body.faults.shells == 1);
  CHECK(body.solid_volume == Approx(body.expected.volume).epsilon(1e-4));
}

TEST_CASE("both routes to a tube body, face by face and by booleans, make the same sound solid") {
  TubeShape shape = test::culm(200);
  shape.nodes[0].pierced_diameter = 12.0;
  const Tube tube(shape);
  Instrument instrument = samples::piece(12, 100);
  samples::drill(instrument, tube, "L1", {70, 12}, 11);
  samples::open(instrument, tube, {22, -20}, 14, 9);
  const BodyPlan plan = plan_body(tube, instrument);
  const Solid direct = body_directly(plan, tube, 0.0);
  const Solid cut = body_by_booleans(plan, tube, 0.0);
  for (const Solid* solid : {&direct, &cut}) {
    const GateReport report = hold(*solid, expectation_of(plan, tube), body_accuracy);
    INFO(report.failures());
    CHECK(report.sound());
  }
  // Sampled at different places, their patches differ by well under a micrometre on average: over the 15,000
  // mm² of skin and bore, 0.6 mm³.
  CHECK(std::abs(weighed(direct) - weighed(cut)) < 0.6);
}

TEST_CASE("a cut that crosses the seam is refused by the direct route, and the seam keeps clear of cuts") {
  const Tube tube(test::round_tube(16, 16, 100, 4));
  Instrument instrument = samples::piece(10, 90);
  for (int i = 0; i < 5; ++i) {
    samples::drill(instrument, tube, "L" + std::to_string(i), {20.0 + 12.0 * i, -48.0 + 20.0 * i}, 8);
  }
  BodyPlan plan = plan_body(tube, instrument);
  CHECK_NOTHROW(body_directly(plan, tube, 0.0));
  plan.seam = Angle::from_radians(-8.0 / 16.0);  // through the third hole
  CHECK_THROWS_AS(body_directly(plan, tube, 0.0), GeometryError);
}

TEST_CASE("an internode closed by two whole diaphragms is a void of its own") {
  TubeShape shape = test::culm(200);
  const Tube tube(shape);
  const Body body = build(tube, samples::piece(12, 190));
  CHECK(body.faults.shells == 3);
  CHECK(body.expected.shells == 3);
  CHECK(body.faults.genus == 0);
}

TEST_CASE("turning the tube turns its body and changes nothing of it") {
  const auto turned = [](double degrees) {
    std::vector<FourierAlong::Term> terms;
    const double t = degrees * pi / 180.0;
    terms.push_back({0, test::straight(0, 15, 100, 16), {}});
    terms.push_back({2, test::constant(0.5 * std::cos(2 * t)), test::constant(0.5 * std::sin(2 * t))});
    TubeShape shape = test::round_tube(15, 16, 100, 3);
    shape.skin = FourierAlong(terms);
    return Tube(shape);
  };
  double volumes[2];
  for (const int i : {0, 1}) {
    const Tube tube = turned(35.0 * i);
    Instrument instrument = samples::piece(20, 80);
    const double around = tube.section(50).around(Angle::from_degrees(20.0 + 35.0 * i));
    samples::drill(instrument, tube, "L1", {50, around}, 9);
    const Body body = build(tube, instrument);
    volumes[i] = body.solid_volume;
    CHECK(body.faults.genus == 2);
  }
  CHECK(volumes[0] == Approx(volumes[1]).epsilon(1e-6));
}

TEST_CASE("a hole through a diaphragm, over an end or as wide as the bore is refused by name") {
  const Tube tube(test::culm(200));
  Instrument instrument = samples::piece(12, 190);
  samples::drill(instrument, tube, "L1", {45, 0}, 8);
  CHECK(refusal(tube, instrument).find("hole L1 at 45.0 mm runs into the diaphragm") != std::string::npos);
  instrument.keys.clear();
  samples::drill(instrument, tube, "L2", {14, 0}, 8);
  CHECK(refusal(tube, instrument).find("runs over an end") != std::string::npos);
  instrument.keys.clear();
  samples::drill(instrument, tube, "L3", {80, 0}, 25);
  CHECK(refusal(tube, instrument).find("too wide for the bore") != std::string::npos);
}
