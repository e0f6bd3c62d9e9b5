#include "solid/edge_nodes.hpp"

#include <BRep_Tool.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Curve.hxx>
#include <Geom_Line.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "solid/curves.hpp"

namespace culmwright {

namespace {

constexpr int looks_per_span = 2;
constexpr int least_looks = 12;
constexpr int pieces_of_a_point = 48;
constexpr int least_pieces_of_a_loop = 8;
constexpr double shortest_piece = 0.005;  // mm
constexpr int most_halvings = 6;

/// Where a curve is looked at: its ends, its knots and places between.
std::vector<double> places_on(const Handle(Geom_Curve) & curve, double from, double to) {
  std::vector<double> ends{from};
  const Handle(Geom_BSplineCurve) spline = Handle(Geom_BSplineCurve)::DownCast(curve);
  if (!spline.IsNull()) {
    for (int i = 1; i <= spline->NbKnots(); ++i) {
      const double knot = spline->Knot(i);
      if (knot > ends.back() && knot < to) ends.push_back(knot);
    }
  }
  ends.push_back(to);
  const int spans = static_cast<int>(ends.size()) - 1;
  const int each = std::max(looks_per_span, (least_looks + spans - 1) / spans);
  std::vector<double> places{from};
  for (int i = 0; i < spans; ++i) {
    for (int k = 1; k <= each; ++k) places.push_back(ends[i] + (ends[i + 1] - ends[i]) * k / each);
  }
  return places;
}

/// Pieces wanted for each unit of the parameter at a place.
double density_at(const Handle(Geom_Curve) & curve, double t, double chord, double angle) {
  gp_Pnt p;
  gp_Vec first;
  gp_Vec second;
  curve->D2(t, p, first, second);
  const double speed = first.Magnitude();
  if (speed <= 1e-12) return 0.0;
  const double bend =
      first.Crossed(second).Magnitude() / (speed * speed);  // of the parameter: curvature × speed
  return std::clamp(std::max(std::sqrt(bend * speed / (8.0 * chord)), bend / angle), 0.0,
                    speed / shortest_piece);
}

double off_chord(const gp_XYZ& p, const gp_XYZ& a, const gp_XYZ& b) {
  const gp_XYZ along = b - a;
  const double square = along.SquareModulus();
  const double share = square > 0.0 ? std::clamp((p - a).Dot(along) / square, 0.0, 1.0) : 0.0;
  return (p - a - along * share).Modulus();
}

/// Halves a piece until what is seen of the curve within it keeps the chord.
void halve(const Handle(Geom_Curve) & curve, double from, double to, double chord, int left,
           std::vector<double>& out) {
  const gp_XYZ a = curve->Value(from).XYZ();
  const gp_XYZ b = curve->Value(to).XYZ();
  double worst = 0.0;
  for (const double share : {0.25, 0.5, 0.75}) {
    worst = std::max(worst, off_chord(curve->Value(from + share * (to - from)).XYZ(), a, b));
  }
  if (worst > chord && left > 0) {
    const double middle = 0.5 * (from + to);
    halve(curve, from, middle, chord, left - 1, out);
    halve(curve, middle, to, chord, left - 1, out);
    return;
  }
  out.push_back(to);
}

bool is_straight(const Handle(Geom_Curve) & curve) {
  const Handle(Geom_BSplineCurve) spline = Handle(Geom_BSplineCurve)::DownCast(curve);
  return curve->IsKind(STANDARD_TYPE(Geom_Line)) ||
         (!spline.IsNull() && spline->NbPoles() == 2 && !spline->IsRational());
}

/// Parameters from end to end: equal shares of the integral of the density, then halved where that misled.
std::vector<double> divided(const Handle(Geom_Curve) & curve, double from, double to, bool loop, double chord,
                            double angle) {
  if (is_straight(curve)) return {from, to};
  const std::vector<double> places = places_on(curve, from, to);
  std::vector<double> sum{0.0};
  double before = density_at(curve, places[0], chord, angle);
  for (std::size_t i = 1; i < places.size(); ++i) {
    const double after = density_at(curve, places[i], chord, angle);
    sum.push_back(sum.back() + std::max({before, after, 1e-9}) * (places[i] - places[i - 1]));
    before = after;
  }
  const int pieces =
      std::max(loop ? least_pieces_of_a_loop : 1, static_cast<int>(std::ceil(sum.back() - 1e-6)));
  std::vector<double> result{from};
  std::size_t k = 1;
  double last = from;
  for (int i = 1; i <= pieces; ++i) {
    double next = to;
    if (i < pieces) {
      const double wanted = sum.back() * i / pieces;
      while (sum[k] < wanted) ++k;
      next = places[k - 1] + (places[k] - places[k - 1]) * ((wanted - sum[k - 1]) / (sum[k] - sum[k - 1]));
    }
    halve(curve, last, next, chord, most_halvings, result);
    last = next;
  }
  return result;
}

}  // namespace

EdgeNodes::EdgeNodes(const TopoDS_Shape& shape, double chord, double angle) : chord_(chord) {
  TopExp::MapShapes(shape, TopAbs_EDGE, edges_);
  divisions_.reserve(edges_.Extent());
  for (int i = 1; i <= edges_.Extent(); ++i) {
    divisions_.push_back(divide(TopoDS::Edge(edges_(i).Oriented(TopAbs_FORWARD)), chord, angle));
  }
}

const EdgeDivision& EdgeNodes::of(const TopoDS_Edge& edge) const {
  const int index = edges_.FindIndex(edge);
  require(index > 0, "an edge of another shape was asked for its nodes");
  return divisions_[index - 1];
}

int EdgeNodes::corner(const TopoDS_Vertex& vertex) {
  const int index = corners_.Add(vertex);
  if (index > static_cast<int>(node_of_corner_.size())) {
    node_of_corner_.push_back(static_cast<int>(points_.size()));
    points_.push_back(vec_of(BRep_Tool::Pnt(vertex)));
  }
  return node_of_corner_[index - 1];
}

EdgeDivision EdgeNodes::divide(const TopoDS_Edge& edge, double chord, double angle) {
  EdgeDivision division;
  const TopoDS_Vertex first = TopExp::FirstVertex(edge);
  const TopoDS_Vertex last = TopExp::LastVertex(edge);
  if (first.IsNull() || last.IsNull()) return division;
  double from = 0.0;
  double to = 0.0;
  if (BRep_Tool::Degenerated(edge)) {
    BRep_Tool::Range(edge, from, to);
    division.parameters = even_values(from, to, pieces_of_a_point + 1);
    division.nodes.assign(pieces_of_a_point + 1, corner(first));
    return division;
  }
  const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, from, to);
  if (curve.IsNull()) return division;
  division.parameters = divided(curve, from, to, first.IsSame(last), chord, angle);
  division.nodes.push_back(corner(first));
  for (std::size_t i = 1; i + 1 < division.parameters.size(); ++i) {
    division.nodes.push_back(static_cast<int>(points_.size()));
    points_.push_back(vec_of(curve->Value(division.parameters[i])));
  }
  division.nodes.push_back(corner(last));
  return division;
}

}  // namespace culmwright
