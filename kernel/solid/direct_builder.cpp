#include "solid/direct_builder.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cstdio>
#include <utility>

#include "base/problem.hpp"

namespace culmwright {

namespace {

/// Of edges before anything is measured, and of faces: what double precision and exact curves leave.
constexpr double exact = 1e-7;
/// The deviation between samples may be a little more than at them.
constexpr double between_samples = 1.2;

gp_Pnt point_of(Vec3 p) {
  return {p.x, p.y, p.z};
}

}  // namespace

DirectBuilder::DirectBuilder(std::string part) : part_(std::move(part)) {
  BRep_Builder().MakeShell(shell_);
}

TopoDS_Vertex DirectBuilder::vertex(Vec3 p) {
  TopoDS_Vertex made;
  BRep_Builder().MakeVertex(made, point_of(p), exact);
  return made;
}

TopoDS_Edge DirectBuilder::edge(const Handle(Geom_Curve) & curve, double from, double to,
                                const TopoDS_Vertex& first, const TopoDS_Vertex& last) {
  const BRep_Builder builder;
  TopoDS_Edge made;
  builder.MakeEdge(made, curve, exact);
  builder.Add(made, first.Oriented(TopAbs_FORWARD));
  builder.Add(made, last.Oriented(TopAbs_REVERSED));
  builder.Range(made, from, to);
  const double beside = std::max(curve->Value(from).Distance(BRep_Tool::Pnt(first)),
                                 curve->Value(to).Distance(BRep_Tool::Pnt(last)));
  widen(made, beside);
  return made;
}

double DirectBuilder::deviation(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface,
                                const Handle(Geom2d_Curve) & on_surface, int samples) const {
  double from = 0.0;
  double to = 0.0;
  const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, from, to);
  double greatest = 0.0;
  for (int i = 0; i <= samples; ++i) {
    const double t = from + (to - from) * i / samples;
    const gp_Pnt2d uv = on_surface->Value(t);
    greatest = std::max(greatest, curve->Value(t).Distance(surface->Value(uv.X(), uv.Y())));
  }
  return greatest;
}

void DirectBuilder::widen(const TopoDS_Edge& edge, double deviation) {
  const BRep_Builder builder;
  if (deviation > greatest_deviation) {
    char text[96];
    std::snprintf(text, sizeof text, "an edge departs from its face by %.4g mm, more than %.4g", deviation,
                  greatest_deviation);
    throw GeometryError(part_, stage_, text);
  }
  const double tolerance = std::max(exact, between_samples * deviation);
  builder.UpdateEdge(edge, tolerance);
  builder.UpdateVertex(TopExp::FirstVertex(edge), tolerance);
  builder.UpdateVertex(TopExp::LastVertex(edge), tolerance);
}

void DirectBuilder::lay(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface,
                        const Handle(Geom2d_Curve) & on_surface, int samples) {
  BRep_Builder().UpdateEdge(edge, on_surface, surface, TopLoc_Location(), exact);
  widen(edge, deviation(edge, surface, on_surface, samples));
}

void DirectBuilder::lay_seam(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface,
                             const Handle(Geom2d_Curve) & at_end, const Handle(Geom2d_Curve) & at_begin,
                             int samples) {
  const BRep_Builder builder;
  builder.UpdateEdge(edge, at_end, at_begin, surface, TopLoc_Location(), exact);
  builder.Continuity(edge, surface, surface, TopLoc_Location(), TopLoc_Location(), GeomAbs_CN);
  widen(edge, deviation(edge, surface, at_end, samples));
  widen(edge, deviation(edge, surface, at_begin, samples));
}

void DirectBuilder::face(const Handle(Geom_Surface) & surface, FaceSide side,
                         const std::vector<WirePath>& wires) {
  const BRep_Builder builder;
  TopoDS_Face made;
  builder.MakeFace(made, surface, exact);
  for (const WirePath& path : wires) {
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const EdgeUse& use : path) {
      builder.Add(wire, use.edge.Oriented(use.forward ? TopAbs_FORWARD : TopAbs_REVERSED));
    }
    wire.Closed(true);
    builder.Add(made, wire);
  }
  builder.Add(shell_, made.Oriented(side == FaceSide::along ? TopAbs_FORWARD : TopAbs_REVERSED));
}

Solid DirectBuilder::finish() {
  const BRep_Builder builder;
  shell_.Closed(true);
  TopoDS_Solid solid;
  builder.MakeSolid(solid);
  builder.Add(solid, shell_);
  return Solid(part_, solid);
}

}  // namespace culmwright
