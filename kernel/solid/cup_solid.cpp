#include "solid/cup_solid.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <TopoDS.hxx>
#include <gp_Ax1.hxx>
#include <gp_Ax2.hxx>

#include "plan/skin_ray.hpp"
#include "solid/boolean.hpp"
#include "solid/guarded.hpp"
#include "solid/outline_wire.hpp"
#include "solid/skin_block.hpp"

namespace culmwright {

namespace {

constexpr double room = 1.0;  ///< by which tools stand out of what they cut

/// The flange down to a flat foot under all of the seat, its chamfer drawn in.
TopoDS_Shape flange_body(const CupPlan& plan) {
  BRepOffsetAPI_ThruSections sections(true, true);
  const double foot = plan.seat_low - room;
  sections.AddWire(outline_wire(plan.flange, foot));
  sections.AddWire(outline_wire(plan.flange, plan.top - plan.chamfer));
  sections.AddWire(outline_wire(plan.flange.inset(plan.chamfer), plan.top));
  sections.Build();
  return sections.Shape();
}

/// Dish, pocket and way as one turned body. Precondition: there is one of them.
TopoDS_Shape hollow_body(const CupPlan& plan, double low) {
  const double high = plan.top + room;
  const double way = plan.way_radius.value_or(0.0);
  const double pocket = plan.pocket ? plan.pocket->radius : way;
  const auto at = [](double r, double z) { return gp_Pnt(r, 0.0, z); };
  BRepBuilderAPI_MakeWire wire;
  gp_Pnt last = at(0.0, high);
  const auto line_to = [&](double r, double z) {
    const gp_Pnt next = at(r, z);
    if (last.Distance(next) < 1e-9) return;
    wire.Add(BRepBuilderAPI_MakeEdge(last, next));
    last = next;
  };
  if (plan.dish) {
    const double radius = plan.dish->sphere();
    const double middle = plan.top - plan.dish->depth + radius;
    const auto on_sphere = [&](double z) { return std::sqrt(radius * radius - (z - middle) * (z - middle)); };
    const double lower = plan.top - plan.dish->depth_at(pocket);
    const double half_way = 0.5 * (lower + high);
    line_to(on_sphere(high), high);
    const gp_Pnt end = at(pocket, lower);
    wire.Add(
        BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(last, at(on_sphere(half_way), half_way), end).Value()));
    last = end;
  } else {
    line_to(pocket, high);
  }
  if (plan.pocket) line_to(pocket, plan.pocket->floor);
  if (plan.pocket) line_to(way, plan.pocket->floor);
  if (plan.way_radius) line_to(way, low);
  line_to(0.0, last.Z());
  line_to(0.0, high);
  const TopoDS_Face face = BRepBuilderAPI_MakeFace(wire.Wire());
  return BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(), gp_Dir(0, 0, 1))).Shape();
}

TopoDS_Shape upright_cylinder(Vec2 middle, double radius, double from, double to) {
  return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(middle.x, middle.y, from), gp_Dir(0, 0, 1)), radius,
                                  to - from)
      .Shape();
}

/// The spigot, its upper end buried in the flange.
TopoDS_Shape spigot_body(const CupPlan& plan, const Tube& tube, double low, double nudge) {
  const double r = plan.spigot_radius;
  double seat = -1e300;
  for (int i = 0; i < 24; ++i) {
    const Angle phi = Angle::from_degrees(15.0 * i);
    seat =
        std::max(seat, skin_hit(tube, plan.to_tube, Vec2{phi.cos(), phi.sin()} * r, plan.seat_offset).height);
  }
  seat = std::max(seat, skin_hit(tube, plan.to_tube, {}, plan.seat_offset).height);
  const double buried = seat + 0.5 * cup_sizes::floor + nudge;
  const SkinWindow window{2 * r, 2 * r, -plan.spigot_length, nudge};
  return cut(plan.part(), "spigot ended short of the bore", upright_cylinder({}, r, low, buried),
             {skin_block(tube, plan.to_tube, window, buried - low + room)});
}

Solid build(const CupPlan& plan, const Tube& tube, double nudge) {
  return guarded(plan.part(), "build", [&] {
    const std::string part = plan.part();
    const double low = plan.seat_low - plan.spigot_length - 2.0 * room;
    const SkinWindow window{plan.flange.length, plan.flange.width, plan.seat_offset, nudge};
    TopoDS_Shape cup = cut(part, "flange fitted to the skin", flange_body(plan),
                           {skin_block(tube, plan.to_tube, window, plan.top - low + room)});
    cup = fuse(part, "spigot onto the flange", cup, {spigot_body(plan, tube, low, nudge)});
    std::vector<TopoDS_Shape> tools{
        upright_cylinder(plan.notch, cup_sizes::notch_radius, low, plan.top + room)};
    if (plan.dish || plan.pocket || plan.way_radius) tools.push_back(hollow_body(plan, low));
    return Solid(part, cut(part, "hollows and notch out of the cup", cup, tools));
  });
}

}  // namespace

Solid cup_solid(const CupPlan& plan, const Tube& tube, GateLog& log) {
  return build_sound([&](double nudge) { return build(plan, tube, nudge); }, expectation_of(plan, tube), log,
                     cup_accuracy);
}

}  // namespace culmwright
