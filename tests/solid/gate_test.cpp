#include "solid/gate.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeShell.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <ShapeFix_ShapeTolerance.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <catch2/catch.hpp>
#include <gp_Ax2.hxx>

#include "base/problem.hpp"
#include "plan/sample_meshes.hpp"

using namespace culmwright;

namespace {

constexpr MeshAccuracy fine{0.01, 0.1};

TopoDS_Shape cylinder(double radius, double from = 0.0, double to = 28.0) {
  return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, from), gp_Dir(0, 0, 1)), radius, to - from).Shape();
}

TopoDS_Shape ring(double inner = 14.0) {
  return BRepAlgoAPI_Cut(cylinder(18.0), cylinder(inner, -1.0, 29.0)).Shape();
}

Solid as_solid(const TopoDS_Shape& shape) {
  return {"hollow cylinder", shape};
}

/// The ring's faces as one shell in a solid, one of them left out or turned over.
TopoDS_Shape ring_with_faces(int left_out, int turned_over) {
  BRep_Builder builder;
  TopoDS_Shell shell;
  TopoDS_Solid solid;
  builder.MakeShell(shell);
  builder.MakeSolid(solid);
  int number = 0;
  for (TopExp_Explorer at(ring(), TopAbs_FACE); at.More(); at.Next(), ++number) {
    if (number == left_out) continue;
    builder.Add(shell, number == turned_over ? at.Current().Reversed() : at.Current());
  }
  builder.Add(solid, shell);
  return solid;
}

GateReport held(const TopoDS_Shape& shape) {
  return hold(as_solid(shape), samples::hollow_cylinder_expectation(), fine);
}

bool fails(const GateReport& report, const std::string& check) {
  for (const GateCheck& c : report.checks) {
    if (c.name == check) return !c.passed();
  }
  FAIL("no check is called " << check);
  return false;
}

}  // namespace

TEST_CASE("the gate passes a hollow cylinder with the handbook's volume") {
  // Machinery's Handbook, 31st ed., pp. 89–93: h 28, D 36, t 4: V 11259.5.
  const GateReport report = held(ring());
  INFO(report.failures());
  CHECK(report.sound());
  CHECK_NOTHROW(require_sound(report, "gate"));
}

TEST_CASE("the gate refuses a solid without its hole") {
  const GateReport report = held(cylinder(18.0));
  CHECK(fails(report, "genus"));
  CHECK(fails(report, "inside is there"));
  CHECK(fails(report, "probes blocked in the bore"));
  CHECK(fails(report, "share of volume off"));
}

TEST_CASE("the gate refuses a solid with a face displaced by a tenth of a millimetre") {
  CHECK(fails(held(ring(14.1)), "distance from inside"));
  CHECK(fails(held(ring(13.9)), "distance from inside"));
}

TEST_CASE("the gate refuses an open shell that the kernel takes for a solid") {
  const GateReport report = held(ring_with_faces(0, -1));
  CHECK(fails(report, "open edges"));
}

TEST_CASE("the gate refuses a solid with one face turned over") {
  const GateReport report = held(ring_with_faces(-1, 1));
  CHECK(fails(report, "non-manifold edges"));
}

TEST_CASE("the gate refuses a second solid, and a second shell inside") {
  BRep_Builder builder;
  TopoDS_Compound two;
  builder.MakeCompound(two);
  builder.Add(two, ring());
  builder.Add(two, BRepPrimAPI_MakeBox(gp_Pnt(40, 0, 0), 1.0, 1.0, 1.0).Shape());
  CHECK(fails(held(two), "solids"));
  CHECK(fails(held(two), "shells"));
  const TopoDS_Shape hollow =
      BRepAlgoAPI_Cut(ring(), BRepPrimAPI_MakeBox(gp_Pnt(15, 0, 10), 1.0, 1.0, 1.0).Shape()).Shape();
  CHECK(fails(held(hollow), "shells"));
}

TEST_CASE("the gate refuses a wrong genus: a hole in the wall that was not planned") {
  const TopoDS_Shape drill =
      BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 14), gp_Dir(1, 0, 0)), 1.0, 40.0).Shape();
  CHECK(fails(held(BRepAlgoAPI_Cut(ring(), drill).Shape()), "genus"));
}

TEST_CASE("the gate refuses tolerances of more than a hundredth, loose faces and an empty shape") {
  TopoDS_Shape loose = ring();
  ShapeFix_ShapeTolerance().SetTolerance(loose, 0.02);
  CHECK(fails(held(loose), "greatest tolerance"));
  TopoDS_Compound compound;
  BRep_Builder builder;
  builder.MakeCompound(compound);
  CHECK_FALSE(held(compound).sound());
}

TEST_CASE("a refusal names the part, the stage and the sizes") {
  try {
    require_sound(held(ring(14.1)), "boring");
    FAIL("nothing was thrown");
  } catch (const GeometryError& error) {
    CHECK(error.part() == "hollow cylinder");
    CHECK(error.stage() == "boring");
    CHECK(std::string(error.what()).find("distance from inside: 0.1") != std::string::npos);
    CHECK(std::string(error.what()).find("at most 0.02") != std::string::npos);
  }
}

TEST_CASE("a build that fails is moved by a hundredth and tried again, and every try is on record") {
  GateLog log;
  const auto second_time = [](double nudge) { return as_solid(ring(nudge == 0.01 ? 14.0 : 14.2)); };
  const Solid solid = build_sound(second_time, samples::hollow_cylinder_expectation(), log, fine);
  CHECK(hold(solid, samples::hollow_cylinder_expectation(), fine).sound());
  REQUIRE(log.size() == 2);
  CHECK(log[0].failure.find("distance from inside") != std::string::npos);
  CHECK(log[1].nudge == 0.01);
  CHECK(log[1].failure.empty());
}

TEST_CASE("a build that always fails is refused by name, never let through") {
  GateLog log;
  const auto never = [](double) { return as_solid(ring(14.2)); };
  CHECK_THROWS_AS(build_sound(never, samples::hollow_cylinder_expectation(), log, fine), GeometryError);
  CHECK(log.size() == 4);
  const auto throwing = [](double) -> Solid { throw GeometryError("ring", "boring", "no solid"); };
  CHECK_THROWS_AS(build_sound(throwing, samples::hollow_cylinder_expectation(), log, fine), GeometryError);
  CHECK(log.size() == 8);
}
