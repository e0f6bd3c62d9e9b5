#include "step.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "plan/skin_ray.hpp"
#include "programs.hpp"
#include "solid/body_solid.hpp"
#include "solid/cup_solid.hpp"
#include "solid/part21.hpp"
#include "solid/sample_bodies.hpp"

using namespace culmwright;

namespace {

/// A piece of culm with a node in it and one hole, as STEP.
struct Sample {
  Tube tube{test::culm()};
  Instrument instrument = samples::piece(70.0, 125.0);
  std::string text;
  Sample() {
    samples::drill(instrument, tube, "L1", {110.0, 6.0}, 9.0);
    GateLog log;
    text = step_text(body_solid(plan_body(tube, instrument), tube, log), "tube culm");
  }
};

const Sample& sample() {
  static const Sample made;
  return made;
}

Solid sample_cup() {
  const Tube tube(test::culm());
  GateLog log;
  return cup_solid(plan_cup(tube, samples::placed_key(tube, {150, 20}, 10, CupKind::plug), Shop{}, End::a),
                   tube, log);
}

}  // namespace

TEST_CASE(
    "a STEP file has its header in the order of Part 21, a fixed time, millimetres and the part's name") {
  // ISO 10303-21: FILE_DESCRIPTION, FILE_NAME, FILE_SCHEMA in that order (REFERENCES, "Paper and files").
  const std::string text = step_text(sample_cup(), "key cup L1");
  CHECK(text.substr(0, 13) == "ISO-10303-21;");
  const std::size_t description = text.find("FILE_DESCRIPTION");
  const std::size_t name = text.find("FILE_NAME");
  const std::size_t schema = text.find("FILE_SCHEMA");
  CHECK(description < name);
  CHECK(name < schema);
  CHECK(schema != std::string::npos);
  CHECK(text.find("'2000-01-01T00:00:00'") != std::string::npos);
  CHECK(text.find("SI_UNIT(.MILLI.,.METRE.)") != std::string::npos);
  CHECK(text.find("END-ISO-10303-21;") != std::string::npos);
  const part21::File file(text);
  REQUIRE(file.of_type("PRODUCT").size() == 1);
  CHECK(file.record(file.of_type("PRODUCT")[0]).parameters.at(0).text == "key cup L1");
  CHECK(file.of_type("MANIFOLD_SOLID_BREP").size() == 1);
  CHECK(text.find("PCURVE") == std::string::npos);
}

TEST_CASE(
    "the same solid gives the same STEP text, also later in the same process, and odd names are kept out") {
  const std::string once = step_text(sample_cup(), "key cup L1");
  step_text(sample_cup(), "another");
  CHECK(step_text(sample_cup(), "key cup L1") == once);
  CHECK(step_text(sample_cup(), "it's Ü\n").find("'it-s ---'") != std::string::npos);
}

TEST_CASE(
    "the skin and bore written to STEP, evaluated by our own de Boor, lie on the tube's support function") {
  const part21::File file(sample().text);
  const std::vector<int> ids = file.of_type("B_SPLINE_SURFACE_WITH_KNOTS");
  REQUIRE(ids.size() >= 2);
  bool skin_seen = false;
  bool bore_seen = false;
  for (const int id : ids) {
    const part21::Surface surface = part21::surface(file, id);
    double from_skin = 0.0;
    double from_bore = 0.0;
    for (int i = 0; i <= 60; ++i) {
      for (int k = 0; k <= 60; ++k) {
        const double u = surface.from_u() + (surface.to_u() - surface.from_u()) * i / 60.0;
        const double v = surface.from_v() + (surface.to_v() - surface.from_v()) * k / 60.0;
        const Vec3 p = surface(u, v);
        from_skin = std::max(from_skin, skin_distance(sample().tube, {}, p, 0.0));
        from_bore = std::max(from_bore, bore_distance(sample().tube, {}, p));
      }
    }
    INFO("surface #" << id << ": " << from_skin << " from the skin, " << from_bore << " from the bore");
    CHECK(std::min(from_skin, from_bore) < 0.005);
    skin_seen = skin_seen || from_skin < 0.005;
    bore_seen = bore_seen || from_bore < 0.005;
  }
  CHECK(skin_seen);
  CHECK(bore_seen);
}

TEST_CASE("the rims of a hole written to STEP lie where rays parallel to its axis meet skin and bore") {
  const part21::File file(sample().text);
  const Drilling drilling = sample().instrument.keys[0].drilling;
  const RigidMotion to_hole = rim_frame(drilling).inverse();
  int on_skin = 0;
  int on_bore = 0;
  for (const int id : file.of_type("B_SPLINE_CURVE_WITH_KNOTS")) {
    const part21::Curve curve = part21::curve(file, id);
    std::vector<Vec3> points;
    bool on_drill = true;
    for (int i = 0; i <= 200; ++i) {
      points.push_back(to_hole.apply(curve(curve.from() + (curve.to() - curve.from()) * i / 200.0)));
      on_drill = on_drill && std::abs(std::hypot(points.back().x, points.back().y) - 4.5) < 0.01;
    }
    if (!on_drill) continue;
    double off_skin = 0.0;
    double off_bore = 0.0;
    for (const Vec3& p : points) {
      const Angle phi = Angle::from_radians(std::atan2(p.y, p.x));
      off_skin = std::max(off_skin, std::abs(rim_point(sample().tube, drilling, phi).depth - p.z));
      off_bore = std::max(off_bore, std::abs(bore_depth(sample().tube, drilling, phi) - p.z));
      CHECK(std::abs(std::hypot(p.x, p.y) - 4.5) < 0.001);
    }
    INFO("curve #" << id << ": " << off_skin << " off the skin's rim, " << off_bore << " off the bore's");
    CHECK(std::min(off_skin, off_bore) < 0.005);
    on_skin += off_skin < 0.005;
    on_bore += off_bore < 0.005;
  }
  CHECK(on_skin >= 1);
  CHECK(on_bore >= 1);
}

TEST_CASE("gmsh reads the STEP file and finds its volume (a reader built on the same kernel)") {
  if (test::run("command -v gmsh").code != 0) {
    WARN("gmsh is not installed: the STEP file was not read by a second program");
    return;
  }
  const test::TemporaryFolder folder;
  test::write_file(folder.file("tube.step"), sample().text);
  test::write_file(folder.file("weigh.geo"),
                   "SetFactory(\"OpenCASCADE\");\nGeometry.OCCTargetUnit = \"MM\";\nMerge \"tube.step\";\n"
                   "Printf(\"volume %.9g\", Mass Volume{1});\n");
  const test::Ran ran = test::run("gmsh " + folder.file("weigh.geo") + " -parse_and_exit");
  INFO(ran.output);
  const std::size_t at = ran.output.find("volume ");
  REQUIRE(at != std::string::npos);
  const double planned = expectation_of(plan_body(sample().tube, sample().instrument), sample().tube).volume;
  CHECK(std::atof(ran.output.c_str() + at + 7) == Approx(planned).epsilon(1e-3));
}
