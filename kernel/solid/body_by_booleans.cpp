#include "solid/body_routes.hpp"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Pln.hxx>
#include <gp_Trsf.hxx>

#include "solid/boolean.hpp"
#include "solid/guarded.hpp"
#include "solid/outline_wire.hpp"
#include "solid/patch.hpp"
#include "solid/ridges.hpp"

namespace culmwright {

namespace {

using namespace body_sampling;

constexpr double past_end = 1.0;  ///< by which an open cavity stands out of the end

using Support = SurfaceJet (Section::*)(Angle) const;

SurfaceFunction surface_of(const Tube& tube, Support support_of) {
  return [&tube, support_of](double theta, double at) {
    const Angle t = Angle::from_radians(theta);
    const SurfaceJet h = (tube.section(at).*support_of)(t);
    const Vec2 p = direction(t) * h.f + tangent(t) * h.f_t;
    return Vec3{p.x, p.y, -at};
  };
}

/// A closed patch with a plane disc on either end.
TopoDS_Solid capped(const std::string& part, const std::string& step,
                    const Handle(Geom_BSplineSurface) & patch, double from_at, double to_at) {
  const TopoDS_Face mantle = BRepBuilderAPI_MakeFace(patch, 1e-7);
  BRepBuilderAPI_Sewing sewing(1e-6);
  sewing.Add(mantle);
  for (TopExp_Explorer at(mantle, TopAbs_EDGE); at.More(); at.Next()) {
    const TopoDS_Edge edge = TopoDS::Edge(at.Current());
    if (BRep_Tool::IsClosed(edge, mantle)) continue;  // the seam
    double first = 0.0;
    double last = 0.0;
    const double z = BRep_Tool::Curve(edge, first, last)->Value(first).Z();
    const double level = std::abs(z + from_at) < std::abs(z + to_at) ? -from_at : -to_at;
    sewing.Add(BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(0, 0, level), gp_Dir(0, 0, 1)),
                                       BRepBuilderAPI_MakeWire(edge).Wire()));
  }
  sewing.Perform();
  TopExp_Explorer shell(sewing.SewedShape(), TopAbs_SHELL);
  if (!shell.More()) throw GeometryError(part, step, "the patch and its ends did not join to a shell");
  TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(TopoDS::Shell(shell.Current()));
  if (!BRepLib::OrientClosedSolid(solid)) throw GeometryError(part, step, "the shell is not closed");
  return solid;
}

TopoDS_Solid skin_body(const BodyPlan& plan, const Tube& tube, double nudge) {
  const double seam = plan.seam.radians() + nudge;
  const auto at = graded_values(plan.from_at, plan.to_at, skin_step, ridge_step, ridge_ranges(tube));
  return capped(plan.part(), "skin",
                periodic_patch(surface_of(tube, &Section::support), seam, steps_around, at), plan.from_at,
                plan.to_at);
}

TopoDS_Solid cavity_body(const BodyPlan& plan, const Tube& tube, const Cavity& cavity, double nudge) {
  const double seam = plan.seam.radians() + 0.02 - nudge;
  const double from = cavity.from_at - (cavity.open_at_from ? past_end : 0.0);
  const double to = cavity.to_at + (cavity.open_at_to ? past_end : 0.0);
  const auto at = graded_values(from, to, bore_step, bore_step, {});
  return capped(plan.part(), "bore",
                periodic_patch(surface_of(tube, &Section::bore_support), seam, steps_around, at), from, to);
}

TopoDS_Shape pierced_body(const Diaphragm& diaphragm) {
  constexpr double room = 0.2;
  const gp_Ax2 down(gp_Pnt(diaphragm.middle.x, diaphragm.middle.y, -diaphragm.from_at + room),
                    gp_Dir(0, 0, -1));
  return BRepPrimAPI_MakeCylinder(down, *diaphragm.pierced_radius,
                                  diaphragm.to_at - diaphragm.from_at + 2.0 * room)
      .Shape();
}

gp_Trsf to_kernel(const RigidMotion& m) {
  gp_Trsf motion;
  motion.SetValues(m.x.x, m.y.x, m.z.x, m.origin.x, m.x.y, m.y.y, m.z.y, m.origin.y, m.x.z, m.y.z, m.z.z,
                   m.origin.z);
  return motion;
}

TopoDS_Shape cut_body(const BodyCut& cut, double nudge) {
  const double low = -cut.depth + nudge;
  TopoDS_Shape tool;
  if (cut.outline.round()) {
    tool = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, low), gp_Dir(0, 0, 1)), cut.outline.corner,
                                    cut.high - low)
               .Shape();
  } else {
    const TopoDS_Face face = BRepBuilderAPI_MakeFace(outline_wire(cut.outline, low));
    tool = BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, cut.high - low)).Shape();
  }
  return tool.Moved(to_kernel(cut.frame));
}

}  // namespace

Solid body_by_booleans(const BodyPlan& plan, const Tube& tube, double nudge) {
  return guarded(plan.part(), "build", [&] {
    TopoDS_Solid body = skin_body(plan, tube, nudge);
    std::vector<TopoDS_Shape> tools;
    for (const Cavity& cavity : plan.cavities) tools.push_back(cavity_body(plan, tube, cavity, nudge));
    if (!tools.empty()) body = cut(plan.part(), "bore out of the tube", body, tools);
    tools.clear();
    for (const Diaphragm& diaphragm : plan.diaphragms) {
      if (diaphragm.pierced_radius) tools.push_back(pierced_body(diaphragm));
    }
    for (const BodyCut& one : plan.cuts) tools.push_back(cut_body(one, nudge));
    if (!tools.empty()) body = cut(plan.part(), "holes and openings out of the tube", body, tools);
    return Solid(plan.part(), body);
  });
}

}  // namespace culmwright
