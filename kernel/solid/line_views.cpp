#include "solid/line_views.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepLib.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_PolyAlgo.hxx>
#include <HLRBRep_PolyHLRToShape.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>

#include "plan/line_chains.hpp"
#include "solid/guarded.hpp"

namespace culmwright {

namespace {

constexpr double mesh_angle = 0.2;
constexpr double smooth_edge = 0.1;  ///< radians between two faces that go over smoothly

gp_Trsf trsf_of(const RigidMotion& m) {
  gp_Trsf t;
  t.SetValues(m.x.x, m.y.x, m.z.x, m.origin.x, m.x.y, m.y.y, m.z.y, m.origin.y, m.x.z, m.y.z, m.z.z,
              m.origin.z);
  return t;
}

/// A shape of its own, so that meshing and marking it touches no other.
TopoDS_Shape meshed_copy(const PlacedSolid& placed) {
  return guarded(placed.name, "mesh for its picture", [&] {
    TopoDS_Shape shape = BRepBuilderAPI_Copy(placed.solid.occt_shape(), false, false).Shape();
    BRepLib::EncodeRegularity(shape, smooth_edge);
    BRepMesh_IncrementalMesh(shape, line_accuracy, false, mesh_angle, false);
    shape.Move(TopLoc_Location(trsf_of(placed.to_tube)));
    return shape;
  });
}

gp_Ax2 view_axes(const ViewFrame& frame) {
  return gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(frame.toward.x, frame.toward.y, frame.toward.z),
                gp_Dir(frame.right.x, frame.right.y, frame.right.z));
}

void add_pieces(const TopoDS_Shape& lines, std::vector<LinePiece>& pieces) {
  if (lines.IsNull()) return;
  for (TopExp_Explorer it(lines, TopAbs_EDGE); it.More(); it.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(it.Current());
    const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
    const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
    pieces.push_back({Vec2{a.X(), -a.Y()}, Vec2{b.X(), -b.Y()}});
  }
}

SeenThing thing_of(const std::string& name, const TopoDS_Shape& shape, HLRBRep_PolyHLRToShape& lines) {
  std::vector<LinePiece> visible, hidden;
  add_pieces(lines.VCompound(shape), visible);
  add_pieces(lines.OutLineVCompound(shape), visible);
  add_pieces(lines.HCompound(shape), hidden);
  add_pieces(lines.OutLineHCompound(shape), hidden);
  visible = once_only(visible, {});
  hidden = once_only(hidden, visible);
  return {name, chained(visible), chained(hidden)};
}

}  // namespace

LineView line_view(const std::vector<PlacedSolid>& solids, const ViewFrame& frame) {
  LineView view;
  view.frame = frame;
  if (solids.empty()) return view;
  std::vector<TopoDS_Shape> shapes;
  for (const PlacedSolid& placed : solids) shapes.push_back(meshed_copy(placed));
  guarded(solids.front().name, "hidden lines", [&] {
    const Handle(HLRBRep_PolyAlgo) algorithm = new HLRBRep_PolyAlgo();
    for (const TopoDS_Shape& shape : shapes) algorithm->Load(shape);
    algorithm->Projector(HLRAlgo_Projector(view_axes(frame)));
    algorithm->Update();
    HLRBRep_PolyHLRToShape lines;
    lines.Update(algorithm);
    for (std::size_t i = 0; i < solids.size(); ++i) {
      view.things.push_back(thing_of(solids[i].name, shapes[i], lines));
    }
  });
  return view;
}

}  // namespace culmwright
