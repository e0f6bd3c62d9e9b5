#include "plan/mesh_gate.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "plan/sample_meshes.hpp"

using namespace culmwright;
using samples::hollow_cylinder;

namespace {

constexpr double chord = 0.01;  // of 180 sides at radius 18: 18 (1 − cos 1°) = 0.0027

GateReport held(const Mesh& mesh, const Expectation& expected = samples::hollow_cylinder_expectation()) {
  GateReport report;
  hold_mesh(mesh, expected, chord, report);
  return report;
}

bool fails(const GateReport& report, const std::string& check) {
  for (const GateCheck& c : report.checks) {
    if (c.name == check) return !c.passed();
  }
  FAIL("no check is called " << check);
  return false;
}

}  // namespace

TEST_CASE("the gate passes a hollow cylinder that is as planned, and says every figure") {
  const GateReport report = held(hollow_cylinder());
  INFO(report.failures());
  CHECK(report.sound());
  CHECK(report.checks.size() > 15);
}

TEST_CASE("the gate refuses a hollow cylinder without its hole") {
  const GateReport report = held(samples::solid_cylinder());
  CHECK(fails(report, "probes blocked in the bore"));
  CHECK(fails(report, "genus"));
  CHECK(fails(report, "inside is there"));
  CHECK(fails(report, "share of volume off"));
}

TEST_CASE("the gate refuses a face displaced by a tenth of a millimetre") {
  const GateReport report = held(hollow_cylinder(14.1));
  CHECK(fails(report, "distance from inside"));
  CHECK_FALSE(fails(report, "genus"));
}

TEST_CASE("the gate refuses an open shell") {
  Mesh mesh = hollow_cylinder();
  mesh.triangles.pop_back();
  mesh.face_of.pop_back();
  CHECK(fails(held(mesh), "open edges"));
}

TEST_CASE("the gate refuses a second shell") {
  Mesh mesh = hollow_cylinder();
  const Mesh crumb =
      moved(samples::box(0.5, 0.5, 0.5), RigidMotion{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {40, 0, 0}});
  const int shift = static_cast<int>(mesh.vertices.size());
  mesh.vertices.insert(mesh.vertices.end(), crumb.vertices.begin(), crumb.vertices.end());
  for (const auto& t : crumb.triangles) mesh.triangles.push_back({t[0] + shift, t[1] + shift, t[2] + shift});
  mesh.face_of.insert(mesh.face_of.end(), crumb.triangles.size(), 4);
  CHECK(fails(held(mesh), "shells"));
}

TEST_CASE("the gate refuses a wrong genus") {
  Expectation expected = samples::hollow_cylinder_expectation();
  expected.genus = 2;
  CHECK(fails(held(hollow_cylinder(), expected), "genus"));
}

TEST_CASE("the gate refuses a face turned over, and a part inside out") {
  Mesh mesh = hollow_cylinder();
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.face_of[t] == 2) std::swap(mesh.triangles[t][0], mesh.triangles[t][1]);
  }
  CHECK(fails(held(mesh), "non-manifold edges"));
  Mesh inside_out = hollow_cylinder();
  for (auto& t : inside_out.triangles) std::swap(t[0], t[1]);
  CHECK(fails(held(inside_out), "share of volume off"));
}

TEST_CASE("the gate refuses a part that lacks a planned face, and a bore wider than planned by its ring") {
  Expectation expected = samples::hollow_cylinder_expectation();
  expected.faces.push_back(samples::level_face("shoulder", 20.0, std::nullopt));
  CHECK(fails(held(hollow_cylinder(), expected), "shoulder is there"));
  Expectation narrow = samples::hollow_cylinder_expectation();
  narrow.bores[0].ring_radius = 13.9;
  CHECK(fails(held(hollow_cylinder(), narrow), "ring probes without material around the bore"));
}

TEST_CASE("faces on one surface are weighed together by the gate") {
  Expectation expected = samples::hollow_cylinder_expectation();
  const double whole = *expected.faces[0].area;
  expected.faces[0].area = 0.25 * whole;
  expected.faces.push_back(samples::cylinder_face("outside again", 18.0, 0.75 * whole));
  const GateReport report = held(hollow_cylinder(), expected);
  INFO(report.failures());
  CHECK(report.sound());
  expected.faces.back().area = 0.70 * whole;
  CHECK(fails(held(hollow_cylinder(), expected), "share of area off on outside"));
}

TEST_CASE("two planned faces nearer than the chord are weighed together, not mistaken for each other") {
  // Found on a cup whose pocket was as wide as its spigot, to five micrometres.
  Expectation expected = samples::hollow_cylinder_expectation();
  const double whole = *expected.faces[0].area;
  expected.faces[0].area = 0.5 * whole;
  expected.faces.push_back(samples::cylinder_face("nearly outside", 17.995, 0.5 * whole));
  const GateReport report = held(hollow_cylinder(), expected);
  INFO(report.failures());
  CHECK(report.sound());
}

TEST_CASE("a wall whose corners all lie on its neighbours too is still known for what it is") {
  Expectation expected = samples::hollow_cylinder_expectation();
  std::rotate(expected.faces.begin(), expected.faces.begin() + 2, expected.faces.end());
  for (const int steps : {24 * 7, 24 * 8, 180, 361}) {
    const GateReport report = held(hollow_cylinder(14.0, steps), expected);
    INFO(report.failures());
    CHECK(report.sound());
  }
}

TEST_CASE("nothing checked is not sound") {
  CHECK_FALSE(GateReport{}.sound());
}
