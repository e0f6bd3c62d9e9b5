#include "solid/solid.hpp"

#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <Standard_ConstructionError.hxx>
#include <catch2/catch.hpp>

#include "base/angle.hpp"
#include "solid/guarded.hpp"

using namespace culmwright;

TEST_CASE("a failure inside the solid kernel names the part and the stage") {
  try {
    guarded("guide 1", "making a box", []() -> int { throw Standard_ConstructionError("no size"); });
    FAIL("nothing was thrown");
  } catch (const GeometryError& error) {
    CHECK(error.part() == "guide 1");
    CHECK(error.stage() == "making a box");
    CHECK(std::string(error.what()).find("Standard_ConstructionError: no size") != std::string::npos);
  }
  CHECK(guarded("guide 1", "adding", [] { return 1 + 1; }) == 2);
}

TEST_CASE("meshes of plain solids are closed, of the right genus, and hold the handbook's volume") {
  const auto check = [](const TopoDS_Shape& shape, int genus, double expected) {
    const Mesh mesh = Solid("plain", shape).mesh({0.005, 0.1});
    const MeshFaults faults = inspect(mesh);
    CHECK(faults.closed());
    CHECK(faults.shells == 1);
    CHECK(faults.genus == genus);
    CHECK(volume(mesh) == Approx(expected).epsilon(0.01));
    CHECK(mesh.face_of.size() == mesh.triangles.size());
  };
  check(BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape(), 0, 6000.0);
  // Machinery's Handbook, 31st ed., pp. 89–93: cylinder 2.5 × 20, V 98.17; cone 6 × 4 (diameter × height), V
  // 37.7.
  check(BRepPrimAPI_MakeCylinder(1.25, 20.0).Shape(), 0, 98.17);
  check(BRepPrimAPI_MakeCone(3.0, 0.0, 4.0).Shape(), 0, 37.7);
  check(BRepPrimAPI_MakeSphere(5.0).Shape(), 0, 4.0 / 3.0 * pi * 125.0);
  check(BRepPrimAPI_MakeTorus(10.0, 2.0).Shape(), 1, 2.0 * pi * pi * 10.0 * 4.0);
}

TEST_CASE("meshing a solid twice gives the same mesh and leaves the solid as it was") {
  const Solid solid("plain", BRepPrimAPI_MakeCylinder(4.0, 9.0).Shape());
  const Mesh fine = solid.mesh({0.01, 0.2});
  const Mesh coarse = solid.mesh({0.2, 0.6, 0.2, 0.6});
  const Mesh again = solid.mesh({0.01, 0.2});
  CHECK(coarse.triangles.size() < fine.triangles.size());
  CHECK(fine.triangles == again.triangles);
}
