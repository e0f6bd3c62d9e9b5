#include "solid/proven_borders.hpp"

#include <BRep_Tool.hxx>
#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include "base/angle.hpp"

namespace culmwright {

namespace {

constexpr int places = 23;        ///< where the kernel's own analysis compares an edge with its image
constexpr double clear = 0.3;     // mm
constexpr int least_pieces = 64;  ///< of a curve, each looked at as its rectangle
constexpr int pieces_per_knot = 2;

Handle(Geom2d_Curve) image_of(const TopoDS_Edge& edge, const TopoDS_Face& face, double& from, double& to) {
  return BRep_Tool::CurveOnSurface(edge, face, from, to);
}

bool straight_image(const Handle(Geom2d_Curve) & image) {
  if (image.IsNull()) return false;
  if (image->IsKind(STANDARD_TYPE(Geom2d_Line))) return true;
  const Handle(Geom2d_BSplineCurve) spline = Handle(Geom2d_BSplineCurve)::DownCast(image);
  return !spline.IsNull() && spline->NbPoles() == 2 && !spline->IsRational();
}

/// One edge with its curve and its image on a face.
struct EdgeOnFace {
  TopoDS_Edge edge;
  Handle(Geom_Curve) curve;
  Handle(Geom2d_Curve) image;
  double from = 0.0;
  double to = 0.0;
};

double pole_distance(const Handle(Geom_BSplineCurve) & curve, const Handle(Geom_BSplineSurface) & surface,
                     int row) {
  double greatest = 0.0;
  for (int i = 1; i <= curve->NbPoles(); ++i) {
    greatest = std::max(greatest, curve->Pole(i).Distance(surface->Pole(i, row)));
  }
  return greatest;
}

bool same_knots(const Handle(Geom_BSplineCurve) & curve, const Handle(Geom_BSplineSurface) & surface) {
  if (curve->Degree() != surface->UDegree() || curve->NbKnots() != surface->NbUKnots()) return false;
  for (int i = 1; i <= curve->NbKnots(); ++i) {
    if (curve->Knot(i) != surface->UKnot(i) || curve->Multiplicity(i) != surface->UMultiplicity(i))
      return false;
  }
  return true;
}

/// Greatest distance of an edge from its image on a ruled surface: along a directrix no more than between
/// poles, along a ruling no more than at its ends. Nothing where it is neither.
std::optional<double> off_ruled(const EdgeOnFace& on, const Handle(Geom_BSplineSurface) & surface) {
  const Handle(Geom2d_Line) line = Handle(Geom2d_Line)::DownCast(on.image);
  const Handle(Geom_BSplineCurve) curve = Handle(Geom_BSplineCurve)::DownCast(on.curve);
  const bool ruled = surface->VDegree() == 1 && surface->NbVPoles() == 2 && !surface->IsURational() &&
                     !surface->IsVRational() && !surface->IsUPeriodic();
  if (!ruled || line.IsNull() || curve.IsNull() || curve->IsRational()) return {};
  const gp_Pnt2d start = line->Location();
  const gp_Dir2d along = line->Direction();
  if (along.X() == 0.0 && curve->NbPoles() == 2) {
    const auto off = [&](double t) {
      const gp_Pnt2d uv = line->Value(t);
      return curve->Value(t).Distance(surface->Value(uv.X(), uv.Y()));
    };
    return std::max(off(on.from), off(on.to));
  }
  const bool directrix = along.X() == 1.0 && start.X() == 0.0 && same_knots(curve, surface);
  if (!directrix) return {};
  for (const int row : {1, 2}) {
    if (start.Y() == surface->VKnot(row)) return pole_distance(curve, surface, row);
  }
  return {};
}

double off_sampled(const EdgeOnFace& on, const GeomAdaptor_Surface& face) {
  const GeomAdaptor_Curve curve(on.curve);
  double greatest = 0.0;
  for (int i = 0; i < places; ++i) {
    const double t = on.from + (on.to - on.from) * i / (places - 1);
    const gp_Pnt2d uv = on.image->Value(t);
    greatest = std::max(greatest, curve.Value(t).Distance(face.Value(uv.X(), uv.Y())));
  }
  return greatest;
}

bool ends_at_vertices(const EdgeOnFace& on, const GeomAdaptor_Surface& surface) {
  const TopoDS_Vertex ends[2] = {TopExp::FirstVertex(on.edge), TopExp::LastVertex(on.edge)};
  for (int i = 0; i < 2; ++i) {
    if (ends[i].IsNull()) return false;
    const double t = i == 0 ? on.from : on.to;
    const gp_Pnt vertex = BRep_Tool::Pnt(ends[i]);
    const double tolerance = BRep_Tool::Tolerance(ends[i]);
    const gp_Pnt2d uv = on.image->Value(t);
    if (!(on.curve->Value(t).Distance(vertex) <= tolerance)) return false;
    if (!(surface.Value(uv.X(), uv.Y()).Distance(vertex) <= tolerance)) return false;
  }
  return true;
}

bool lies_on_face(const TopoDS_Edge& edge, const TopoDS_Face& face, const GeomAdaptor_Surface& surface) {
  if (!BRep_Tool::SameParameter(edge) || !BRep_Tool::SameRange(edge)) return false;
  EdgeOnFace on;
  on.edge = TopoDS::Edge(edge.Oriented(TopAbs_FORWARD));
  double from = 0.0;
  double to = 0.0;
  on.curve = BRep_Tool::Curve(on.edge, on.from, on.to);
  on.image = image_of(on.edge, face, from, to);
  if (on.curve.IsNull() || on.image.IsNull() || from != on.from || to != on.to || !(from < to)) return false;
  if (!ends_at_vertices(on, surface)) return false;
  const Handle(Geom_BSplineSurface) spline = Handle(Geom_BSplineSurface)::DownCast(surface.Surface());
  std::optional<double> off;
  if (!spline.IsNull()) off = off_ruled(on, spline);
  if (!off) off = off_sampled(on, surface);
  return *off <= BRep_Tool::Tolerance(edge);
}

/// Every edge of the wire has a straight image on the face, and the face stands where its surface does.
bool is_straight(const TopoDS_Wire& wire, const TopoDS_Face& face) {
  if (!face.Location().IsIdentity() || !wire.Location().IsIdentity()) return false;
  for (TopoDS_Iterator at(wire); at.More(); at.Next()) {
    const TopoDS_Edge edge = TopoDS::Edge(at.Value());
    double from = 0.0;
    double to = 0.0;
    if (!edge.Location().IsIdentity() || BRep_Tool::Degenerated(edge) || BRep_Tool::IsClosed(edge, face))
      return false;
    if (!straight_image(image_of(edge, face, from, to))) return false;
  }
  return true;
}

/// Whether the poles of a closed curve go once round their middle, always the same way.
bool turns_once(const Handle(Geom2d_BSplineCurve) & image) {
  const int count = image->NbPoles();
  gp_XY middle(0.0, 0.0);
  for (int i = 1; i < count; ++i) middle += image->Pole(i).XY();
  middle /= count - 1;
  double turned = 0.0;
  double sense = 0.0;
  for (int i = 1; i < count; ++i) {
    const gp_Vec2d a(image->Pole(i).XY() - middle);
    const gp_Vec2d b(image->Pole(i + 1).XY() - middle);
    if (a.Magnitude() <= 0.0 || b.Magnitude() <= 0.0) return false;
    const double turn = a.Angle(b);
    if (turn == 0.0 || turn * sense < 0.0) return false;
    sense = turn;
    turned += turn;
  }
  return std::abs(std::abs(turned) - 2.0 * pi) < 1e-6;
}

/// Whether a wire is one closed edge that cannot cross itself: seen from the middle of its image's poles they
/// follow each other once round without turning back. By the variation diminishing property of B-splines a
/// line through the middle then meets the curve no oftener than the poles' polygon: twice.
bool is_round(const TopoDS_Wire& wire, const TopoDS_Face& face) {
  if (!face.Location().IsIdentity() || !wire.Location().IsIdentity()) return false;
  TopoDS_Iterator at(wire);
  if (!at.More()) return false;
  const TopoDS_Edge edge = TopoDS::Edge(at.Value());
  at.Next();
  if (at.More() || !edge.Location().IsIdentity() || BRep_Tool::IsClosed(edge, face)) return false;
  double from = 0.0;
  double to = 0.0;
  const Handle(Geom2d_BSplineCurve) image =
      Handle(Geom2d_BSplineCurve)::DownCast(image_of(edge, face, from, to));
  if (image.IsNull() || image->IsRational() || image->IsPeriodic()) return false;
  if (from != image->FirstParameter() || to != image->LastParameter()) return false;
  if (image->StartPoint().Distance(image->EndPoint()) > 1e-9) return false;
  return turns_once(image);
}

/// A rectangle of the parameters.
struct Box {
  double low[2] = {1e300, 1e300};
  double high[2] = {-1e300, -1e300};
  void add(const gp_Pnt2d& p) {
    const double at[2] = {p.X(), p.Y()};
    for (int k = 0; k < 2; ++k) {
      low[k] = std::min(low[k], at[k]);
      high[k] = std::max(high[k], at[k]);
    }
  }
  Box grown(double u, double v) const {
    Box more = *this;
    more.low[0] -= u;
    more.high[0] += u;
    more.low[1] -= v;
    more.high[1] += v;
    return more;
  }
  bool holds(const Box& other) const {
    return low[0] < other.low[0] && other.high[0] < high[0] && low[1] < other.low[1] &&
           other.high[1] < high[1];
  }
  bool meets(const Box& other) const {
    return low[0] <= other.high[0] && other.low[0] <= high[0] && low[1] <= other.high[1] &&
           other.low[1] <= high[1];
  }
};

/// A wire's pieces in the parameters, each as its rectangle, and the rectangle of all.
struct WirePieces {
  TopoDS_Wire wire;
  bool straight = false;
  bool round = false;
  std::vector<Box> pieces;
  Box whole;
  double area = 0.0;  ///< twice that inside it; negative when clockwise

  void add(const gp_Pnt2d& from, const gp_Pnt2d& to) {
    pieces.emplace_back();
    for (const gp_Pnt2d& p : {from, to}) {
      pieces.back().add(p);
      whole.add(p);
    }
    area += from.X() * to.Y() - from.Y() * to.X();
  }
};

void add_edge(const TopoDS_Edge& edge, const TopoDS_Face& face, WirePieces& pieces) {
  double from = 0.0;
  double to = 0.0;
  const Handle(Geom2d_Curve) image = image_of(edge, face, from, to);
  if (edge.Orientation() == TopAbs_REVERSED) std::swap(from, to);
  const Handle(Geom2d_BSplineCurve) spline = Handle(Geom2d_BSplineCurve)::DownCast(image);
  int count = spline.IsNull() ? least_pieces : std::max(least_pieces, pieces_per_knot * spline->NbKnots());
  if (straight_image(image)) count = 1;
  gp_Pnt2d last = image->Value(from);
  for (int i = 1; i <= count; ++i) {
    const gp_Pnt2d next = image->Value(from + (to - from) * i / count);
    pieces.add(last, next);
    last = next;
  }
}

WirePieces pieces_of(const TopoDS_Wire& wire, const TopoDS_Face& face) {
  WirePieces pieces;
  pieces.wire = wire;
  pieces.straight = is_straight(wire, face);
  pieces.round = !pieces.straight && is_round(wire, face);
  for (TopoDS_Iterator at(wire); at.More(); at.Next()) add_edge(TopoDS::Edge(at.Value()), face, pieces);
  return pieces;
}

/// What 0.3 mm are in the parameters, at the middle of a wire.
struct Clearance {
  double u = 0.0;
  double v = 0.0;
};
Clearance clearance_at(const Box& box, const Handle(Geom_Surface) & surface) {
  gp_Pnt p;
  gp_Vec u;
  gp_Vec v;
  surface->D1(0.5 * (box.low[0] + box.high[0]), 0.5 * (box.low[1] + box.high[1]), p, u, v);
  return {clear / std::max(u.Magnitude(), 1e-9), clear / std::max(v.Magnitude(), 1e-9)};
}

bool keep_clear(const WirePieces& one, const WirePieces& other, const Clearance& room) {
  if (!one.whole.grown(room.u, room.v).meets(other.whole)) return true;
  for (const Box& piece : one.pieces) {
    const Box wide = piece.grown(room.u, room.v);
    if (!wide.meets(other.whole)) continue;
    for (const Box& met : other.pieces) {
      if (wide.meets(met)) return false;
    }
  }
  return true;
}

/// The outer wire, where it is not among them: holes without it are no face.
void add_outer(const std::vector<WirePieces>& wires, std::vector<TopoDS_Wire>& among) {
  for (const WirePieces& wire : wires) {
    if (wire.area <= 0.0) continue;
    const auto same = [&](const TopoDS_Wire& other) { return other.IsSame(wire.wire); };
    if (std::none_of(among.begin(), among.end(), same)) among.push_back(wire.wire);
  }
}

}  // namespace

bool lie_on_face(const std::vector<TopoDS_Wire>& wires, const TopoDS_Face& face) {
  if (wires.empty()) return true;
  const GeomAdaptor_Surface surface(BRep_Tool::Surface(face));
  for (const TopoDS_Wire& wire : wires) {
    for (TopoDS_Iterator at(wire); at.More(); at.Next()) {
      if (!lies_on_face(TopoDS::Edge(at.Value()), face, surface)) return false;
    }
  }
  return true;
}

SortedWires sorted_wires(const TopoDS_Face& face) {
  const Handle(Geom_Surface) surface = BRep_Tool::Surface(face);
  const bool closes = surface->IsUPeriodic() || surface->IsVPeriodic();
  std::vector<WirePieces> wires;
  for (TopoDS_Iterator at(face); at.More(); at.Next()) {
    if (at.Value().ShapeType() == TopAbs_WIRE) wires.push_back(pieces_of(TopoDS::Wire(at.Value()), face));
  }
  SortedWires sorted;
  for (std::size_t i = 0; i < wires.size(); ++i) {
    const WirePieces& wire = wires[i];
    const Clearance room = clearance_at(wire.whole, surface);
    bool is_clear = true;
    for (std::size_t k = 0; is_clear && k < wires.size(); ++k) {
      const bool both_straight = wire.straight && wires[k].straight;
      is_clear = k == i || both_straight || keep_clear(wire, wires[k], room);
      // On a surface that closes, rectangles of two rounds say nothing of each other.
      if (closes && k != i)
        is_clear = is_clear && (wire.whole.holds(wires[k].whole) || wires[k].whole.holds(wire.whole));
    }
    if (!is_clear) {
      sorted.together.push_back(wire.wire);
    } else if (wire.straight || wire.round) {
      sorted.proven.push_back(wire.wire);
    } else {
      sorted.alone.push_back(wire.area > 0.0 ? wire.wire : TopoDS::Wire(wire.wire.Reversed()));
    }
  }
  if (!sorted.together.empty()) add_outer(wires, sorted.together);
  return sorted;
}

}  // namespace culmwright
