/// The net by an independent route: the B-rep body is cut by planes, and the curves are measured by the
/// kernel that made them.
#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Section.hxx>
#include <GCPnts_AbscissaPoint.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <gp_Pln.hxx>

#include "paper/development.hpp"
#include "shapes.hpp"
#include "solid/body_solid.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// A section's outer curve: as points with the arc between them, counted around.
struct CutCurve {
  std::vector<Vec2> points;
  std::vector<double> arc;  ///< from the first point to each
  double girth = 0.0;
};

struct Piece {
  double start = 0.0;  ///< direction of its first point, 0 to 2π
  std::vector<Vec2> points;
  std::vector<double> arc;
};

double direction_of(Vec2 p) {
  return std::fmod(std::atan2(p.y, p.x) + 2.0 * pi, 2.0 * pi);
}

/// One edge, walked the way around.
Piece walked(const BRepAdaptor_Curve& curve) {
  constexpr int steps = 200;
  const double first = curve.FirstParameter();
  const double last = curve.LastParameter();
  const auto at = [&](double t) {
    const gp_Pnt p = curve.Value(t);
    return Vec2{p.X(), p.Y()};
  };
  const bool forward = cross(at(first), at(first + (last - first) / steps)) > 0.0;
  const double from = forward ? first : last;
  Piece piece;
  piece.start = direction_of(at(from));
  double before = from;
  double arc = 0.0;
  for (int i = 0; i <= steps; ++i) {
    const double t = from + (forward ? 1.0 : -1.0) * (last - first) * i / steps;
    if (i > 0) arc += GCPnts_AbscissaPoint::Length(curve, std::min(before, t), std::max(before, t), 1e-9);
    piece.points.push_back(at(t));
    piece.arc.push_back(arc);
    before = t;
  }
  return piece;
}

CutCurve outer_curve(const TopoDS_Shape& body, const Tube& tube, double at) {
  BRepAlgoAPI_Section section(body, gp_Pln(gp_Pnt(0, 0, -at), gp_Dir(0, 0, 1)), Standard_False);
  section.Approximation(Standard_False);
  section.Build();
  REQUIRE(section.IsDone());
  std::vector<Piece> pieces;
  for (TopExp_Explorer edges(section.Shape(), TopAbs_EDGE); edges.More(); edges.Next()) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(edges.Current()));
    const gp_Pnt middle = curve.Value(0.5 * (curve.FirstParameter() + curve.LastParameter()));
    if (tube.section(at).outside({middle.X(), middle.Y()}) < -1.0) continue;  // the bore's
    pieces.push_back(walked(curve));
  }
  REQUIRE(!pieces.empty());
  std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) { return a.start < b.start; });
  CutCurve whole;
  for (const Piece& piece : pieces) {
    for (std::size_t i = 0; i < piece.points.size(); ++i) {
      whole.points.push_back(piece.points[i]);
      whole.arc.push_back(whole.girth + piece.arc[i]);
    }
    whole.girth += piece.arc.back();
  }
  return whole;
}

/// Arc from the curve's first point to the point nearest to p; between samples by projection.
double arc_at(const CutCurve& curve, Vec2 p) {
  double best = 1e300;
  double arc = 0.0;
  for (std::size_t i = 0; i + 1 < curve.points.size(); ++i) {
    const Vec2 step = curve.points[i + 1] - curve.points[i];
    if (dot(step, step) < 1e-18) continue;
    const double share = std::clamp(dot(p - curve.points[i], step) / dot(step, step), 0.0, 1.0);
    const double away = length(p - curve.points[i] - step * share);
    if (away >= best) continue;
    best = away;
    arc = curve.arc[i] + share * (curve.arc[i + 1] - curve.arc[i]);
  }
  CHECK(best < 0.02);
  return arc;
}

/// Length of the net's curve of one section between two directions.
double arc_on_net(const Development& net, double at, double from, double to) {
  constexpr int steps = 2000;
  double sum = 0.0;
  Vec2 last = net.unroll(Development::Ray{Angle::from_radians(from), at});
  for (int i = 1; i <= steps; ++i) {
    const Vec2 next = net.unroll(Development::Ray{Angle::from_radians(from + (to - from) * i / steps), at});
    sum += length(next - last);
    last = next;
  }
  return sum;
}

Tube oval_taper() {
  TubeShape shape = round_tube(17.0, 13.5, 240.0, 4.0);
  shape.skin = FourierAlong(
      {{0, straight(0, 17.0, 240, 13.5), {}}, {2, straight(0, 0.9, 240, 0.3), straight(0, -0.2, 240, 0.4)}});
  return Tube(shape);
}

}  // namespace

TEST_CASE("sections of the B-rep body have the girths and arcs of the net: oval, tapered, turning") {
  const Tube tube = oval_taper();
  GateLog log;
  const Solid body = body_solid(plan_body(tube), tube, log);
  const Development net = Development::fit(tube, 10.0, 230.0, 0.0);
  CHECK(net.stated_error() < 1e-9);
  // The body's patches lie within 0.001 mm of the skin: its girths within 2π times that.
  constexpr double patch = 0.0065;
  for (const double at : {10.0, 71.3, 120.0, 230.0}) {
    INFO("at " << at);
    const CutCurve curve = outer_curve(body.occt_shape(), tube, at);
    CHECK(curve.girth == Approx(net.girth(at)).margin(patch));
    const double line = net.line(at).radians();
    const double start = arc_at(curve, tube.section(at).point(Angle::from_radians(line)));
    for (const double degrees : {25.0, 90.0, 144.0, 180.0}) {
      const double theta = line + degrees * pi / 180.0;
      const double reached = arc_at(curve, tube.section(at).point(Angle::from_radians(theta)));
      const double brep = std::fmod(reached - start + 2.0 * curve.girth, curve.girth);
      CHECK(brep == Approx(arc_on_net(net, at, line, theta)).margin(patch));
    }
  }
}

TEST_CASE("sections of a bowed, lobed culm's body keep the arcs of the net within the error that it states") {
  TubeShape shape = culm(280.0);
  shape.nodes.clear();
  const Tube tube{shape};
  GateLog log;
  const Solid body = body_solid(plan_body(tube), tube, log);
  const Development net = Development::fit(tube, 100.0, 230.0, 0.0);
  const double stated = net.error().around;
  CHECK(stated > 0.0);
  for (const double at : {100.0, 165.0, 230.0}) {
    INFO("at " << at);
    const CutCurve curve = outer_curve(body.occt_shape(), tube, at);
    CHECK(curve.girth == Approx(tube.section(at).girth()).margin(0.0065));
    const double line = net.line(at).radians();
    const double start = arc_at(curve, tube.section(at).point(Angle::from_radians(line)));
    for (const double degrees : {45.0, 110.0, 175.0}) {
      const double theta = line + degrees * pi / 180.0;
      const double reached = arc_at(curve, tube.section(at).point(Angle::from_radians(theta)));
      const double brep = std::fmod(reached - start + 2.0 * curve.girth, curve.girth);
      CHECK(std::abs(brep - arc_on_net(net, at, line, theta)) < stated + 0.0065);
    }
  }
}
