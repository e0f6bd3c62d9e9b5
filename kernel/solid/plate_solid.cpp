#include "solid/plate_solid.hpp"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <gp_Ax2.hxx>

#include "solid/boolean.hpp"
#include "solid/guarded.hpp"

namespace culmwright {

namespace {

using namespace plate_sizes;

TopoDS_Shape upright_cylinder(double radius, double from, double to) {
  return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, from), gp_Dir(0, 0, 1)), radius, to - from).Shape();
}

TopoDS_Shape prism(const std::vector<Vec2>& points, double height) {
  BRepBuilderAPI_MakePolygon polygon;
  for (const Vec2& p : points) polygon.Add(gp_Pnt(p.x, p.y, 0.0));
  polygon.Close();
  return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(polygon.Wire()), gp_Vec(0, 0, height)).Shape();
}

Solid build(const PlatePlan& plan, double nudge) {
  const std::string part = plan.part();
  return guarded(part, "build", [&] {
    const double top = thickness + collar_height;
    const double floor = thickness - recess_depth;
    // The collar's foot is buried in the plate; the nudge moves only that.
    const TopoDS_Shape collar = upright_cylinder(plan.collar_radius(), 0.5 * thickness + nudge, top);
    const TopoDS_Shape whole = fuse(part, "collar onto the plate", prism(outline(plan), thickness), {collar});
    const TopoDS_Shape hollow =
        cut(part, "recess out of the plate", whole, {upright_cylinder(plan.recess_radius, floor, top + 1.0)});
    return Solid(part, cut(part, "middle hole out of the plate", hollow,
                           {upright_cylinder(hole_radius, -1.0, thickness)}));
  });
}

}  // namespace

Solid plate_solid(const PlatePlan& plan, GateLog& log) {
  return build_sound([&](double nudge) { return build(plan, nudge); }, expectation_of(plan), log,
                     plate_accuracy);
}

}  // namespace culmwright
