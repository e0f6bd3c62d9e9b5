/// The lightened analysis against the kernel's own, on sound solids and on ones with one fault each.
#include "solid/kernel_analysis.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Curve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Vertex.hxx>
#include <catch2/catch.hpp>
#include <functional>

#include "guide_samples.hpp"
#include "solid/guide_solid.hpp"

using namespace culmwright;

namespace {

GuidePlan lettered_plan() {
  const Tube tube{test::culm(240.0)};
  return plan_guides(tube, test::three_in_a_row(tube), Shop{}).at(0);
}

TopoDS_Shape lettered_guide() {
  return build_guide(lettered_plan(), 0.0).occt_shape();
}

bool for_kernel(const TopoDS_Shape& shape) {
  return BRepCheck_Analyzer(shape).IsValid();
}

/// The first edge with an image of the kind on a B-spline face.
template <class Image>
TopoDS_Edge edge_with(const TopoDS_Shape& shape, TopoDS_Face& face) {
  for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next()) {
    face = TopoDS::Face(at.Current());
    if (!BRep_Tool::Surface(face)->IsKind(STANDARD_TYPE(Geom_BSplineSurface))) continue;
    for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More(); edge.Next()) {
      double from = 0.0;
      double to = 0.0;
      const TopoDS_Edge found = TopoDS::Edge(edge.Current());
      const bool loop = TopExp::FirstVertex(found).IsSame(TopExp::LastVertex(found));
      const Handle(Geom2d_Curve) image = BRep_Tool::CurveOnSurface(found, face, from, to);
      const bool wanted = std::is_same_v<Image, Geom2d_Line> != loop;
      if (wanted && image->IsKind(STANDARD_TYPE(Image))) return found;
    }
  }
  FAIL("no such edge");
  return {};
}

void check_refused(const std::function<void(TopoDS_Shape&)>& damage) {
  TopoDS_Shape shape = lettered_guide();
  REQUIRE(valid_for_kernel(shape, true));
  damage(shape);
  CHECK_FALSE(for_kernel(shape));
  CHECK_FALSE(valid_for_kernel(shape, true));
  CHECK_FALSE(valid_for_kernel(shape, false));
}

/// The solid of one shell with these faces.
TopoDS_Shape solid_of(const TopoDS_Shape& shape,
                      const std::function<void(int, TopoDS_Face&, bool&)>& change) {
  const BRep_Builder builder;
  TopoDS_Shell shell;
  builder.MakeShell(shell);
  int number = 0;
  for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next()) {
    TopoDS_Face face = TopoDS::Face(at.Current());
    bool kept = true;
    change(number++, face, kept);
    if (kept) builder.Add(shell, face);
  }
  shell.Closed(true);
  TopoDS_Solid solid;
  builder.MakeSolid(solid);
  builder.Add(solid, shell);
  return solid;
}

gp_Trsf aside(double by) {
  gp_Trsf move;
  move.SetTranslation(gp_Vec(by, by, by));
  return move;
}

}  // namespace

TEST_CASE("guides with letters are valid for the kernel by either analysis") {
  const Tube tube{test::culm(460.0)};
  for (const GuidePlan& plan : plan_guides(tube, test::twenty_holes(tube), Shop{})) {
    INFO(plan.name);
    const TopoDS_Shape shape = build_guide(plan, 0.0).occt_shape();
    CHECK(for_kernel(shape));
    CHECK(valid_for_kernel(shape, true));
  }
}

TEST_CASE("a letter's edge beside its face is refused by both analyses") {
  check_refused([](TopoDS_Shape& shape) {
    TopoDS_Face face;
    const TopoDS_Edge edge = edge_with<Geom2d_Line>(shape, face);
    double from = 0.0;
    double to = 0.0;
    const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, from, to);
    BRep_Builder().UpdateEdge(edge, Handle(Geom_Curve)::DownCast(curve->Transformed(aside(0.01))), 1e-7);
  });
}

TEST_CASE("a rim whose image lies beside it is refused by both analyses") {
  check_refused([](TopoDS_Shape& shape) {
    TopoDS_Face face;
    const TopoDS_Edge edge = edge_with<Geom2d_BSplineCurve>(shape, face);
    double from = 0.0;
    double to = 0.0;
    const Handle(Geom2d_Curve) image = BRep_Tool::CurveOnSurface(edge, face, from, to);
    image->Translate(gp_Vec2d(0.002, 0.0));
  });
}

TEST_CASE("a vertex beside the ends of its edges is refused by both analyses") {
  check_refused([](TopoDS_Shape& shape) {
    TopoDS_Face face;
    const TopoDS_Vertex vertex = TopExp::FirstVertex(edge_with<Geom2d_Line>(shape, face));
    BRep_Builder().UpdateVertex(vertex, BRep_Tool::Pnt(vertex).Transformed(aside(0.05)), 1e-7);
  });
}

TEST_CASE("a shell with a face missing, or one turned over, is refused by both analyses") {
  for (const int which : {0, 7, 40}) {
    check_refused([&](TopoDS_Shape& shape) {
      shape = solid_of(shape, [&](int number, TopoDS_Face&, bool& kept) { kept = number != which; });
    });
    check_refused([&](TopoDS_Shape& shape) {
      shape = solid_of(shape, [&](int number, TopoDS_Face& face, bool&) {
        if (number == which) face.Reverse();
      });
    });
  }
}

TEST_CASE("letters that cross each other do not pass the gate") {
  GuidePlan plan = lettered_plan();
  REQUIRE(plan.texts.at(0).strokes.size() > 1);
  EngravedStroke crossing = plan.texts[0].strokes[0];
  for (Vec2& corner : crossing.corners) corner = corner + Vec2{0.01, 0.13};
  plan.texts[0].strokes.push_back(crossing);
  const GateReport report = hold(build_guide(plan, 0.0), expectation_of(plan), guide_mesh_accuracy());
  CHECK_FALSE(report.sound());
}

TEST_CASE("a stroke that reaches into a boss does not pass the gate") {
  GuidePlan plan = lettered_plan();
  const GuideHole& hole = plan.holes[0];
  const GuideFace::Where foot = plan.outer.where(hole.drilling.point);
  const double edge = foot.at + hole.boss_radius;
  plan.texts.push_back({"X",
                        {{{{foot.theta, edge - 0.5},
                           {foot.theta + 0.03, edge - 0.5},
                           {foot.theta + 0.03, edge + 2.0},
                           {foot.theta, edge + 2.0}}}}});
  const GateReport report = hold(build_guide(plan, 0.0), expectation_of(plan), guide_mesh_accuracy());
  CHECK_FALSE(report.sound());
}
