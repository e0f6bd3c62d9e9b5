#include "solid/mesh_refine.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Curve.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <cmath>
#include <vector>

#include "solid/face_mesh.hpp"

namespace culmwright {

namespace {

constexpr int rounds = 16;
constexpr double look_every = 0.5;  ///< mm along a stretch of edge, in search of what was stepped over
constexpr int most_looks = 256;

/// Parameters to add between two nodes of an edge's polygon, in order, so that it keeps to its curve.
void divide_stretch(const Geom_Curve& curve, double from, double to, double chord,
                    std::vector<double>& added) {
  const gp_XYZ a = curve.Value(from).XYZ();
  const gp_XYZ b = curve.Value(to).XYZ();
  const double reach = (b - a).Modulus();
  const int looks = std::clamp(static_cast<int>(reach / look_every), 4, most_looks);
  double worst = chord;
  double where = from;
  for (int i = 1; i < looks; ++i) {
    const double t = from + (to - from) * i / looks;
    const gp_XYZ off = curve.Value(t).XYZ() - a;
    const double along = reach > 0.0 ? std::clamp(off.Dot(b - a) / (reach * reach), 0.0, 1.0) : 0.0;
    const double away = (off - (b - a) * along).Modulus();
    if (away <= worst) continue;
    worst = away;
    where = t;
  }
  if (where == from) return;
  divide_stretch(curve, from, where, chord, added);
  added.push_back(where);
  divide_stretch(curve, where, to, chord, added);
}

struct MeshedFaces {
  std::vector<TopoDS_Face> faces;
  std::vector<FaceMesh> meshes;
  std::vector<bool> changed;
};

/// An edge's polygon on one face: the nodes, and the same with the added ones.
Handle(Poly_PolygonOnTriangulation) divided(FaceMesh& mesh, const TopoDS_Edge& edge, const TopoDS_Face& face,
                                            const Handle(Poly_PolygonOnTriangulation) & polygon,
                                            const Handle(Geom_Curve) & curve, double chord, bool& changed) {
  double first = 0.0;
  double last = 0.0;
  const TopoDS_Edge back = TopoDS::Edge(edge.Reversed());
  const BorderCurves on_face{BRep_Tool::CurveOnSurface(edge, face, first, last),
                             BRep_Tool::CurveOnSurface(back, face, first, last)};
  std::vector<int> nodes;
  std::vector<double> parameters;
  for (int i = 1; i <= polygon->NbNodes(); ++i) {
    const double t = polygon->Parameters()->Value(i);
    if (i > 1) {
      std::vector<double> added;
      divide_stretch(*curve, parameters.back(), t, chord, added);
      const int end = polygon->Node(i) - 1;
      for (const double between : added) {
        nodes.push_back(mesh.divide_side(nodes.back(), end, curve->Value(between), on_face, between));
        parameters.push_back(between);
        changed = true;
      }
    }
    nodes.push_back(polygon->Node(i) - 1);
    parameters.push_back(t);
  }
  TColStd_Array1OfInteger numbers(1, static_cast<int>(nodes.size()));
  TColStd_Array1OfReal values(1, static_cast<int>(nodes.size()));
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    numbers(static_cast<int>(i) + 1) = nodes[i] + 1;
    values(static_cast<int>(i) + 1) = parameters[i];
  }
  return new Poly_PolygonOnTriangulation(numbers, values);
}

/// The edge's curve in the frame of a face's own triangulation; null for edges that are a point.
Handle(Geom_Curve) curve_of(const TopoDS_Edge& edge) {
  if (BRep_Tool::Degenerated(edge)) return {};
  double first = 0.0;
  double last = 0.0;
  return BRep_Tool::Curve(edge, first, last);
}

void divide_edges_of(MeshedFaces& all, std::size_t number, double chord) {
  const TopoDS_Face& face = all.faces[number];
  FaceMesh& mesh = all.meshes[number];
  BRep_Builder builder;
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(face, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i) {
    const TopoDS_Edge edge = TopoDS::Edge(edges(i).Oriented(TopAbs_FORWARD));
    const Handle(Geom_Curve) curve = curve_of(edge);
    TopLoc_Location location;
    const Handle(Poly_Triangulation) own = BRep_Tool::Triangulation(face, location);
    const auto polygon_of = [&](const TopoDS_Edge& one) {
      return BRep_Tool::PolygonOnTriangulation(one, own, location);
    };
    const Handle(Poly_PolygonOnTriangulation) polygon = polygon_of(edge);
    if (curve.IsNull() || polygon.IsNull() || !polygon->HasParameters()) continue;
    bool changed = false;
    const auto one = divided(mesh, edge, face, polygon, curve, chord, changed);
    const TopoDS_Edge back = TopoDS::Edge(edge.Oriented(TopAbs_REVERSED));
    const Handle(Poly_PolygonOnTriangulation) other_polygon = polygon_of(back);
    const bool seam = BRep_Tool::IsClosed(edge, face) && other_polygon != polygon;
    if (seam) {
      const auto other = divided(mesh, back, face, other_polygon, curve, chord, changed);
      if (changed) builder.UpdateEdge(edge, one, other, own, location);
    } else if (changed) {
      builder.UpdateEdge(edge, one, own, location);
    }
    all.changed[number] = all.changed[number] || changed;
  }
}

}  // namespace

void refine_facets(const TopoDS_Shape& shape, double chord) {
  MeshedFaces all;
  TopTools_IndexedMapOfShape map;
  TopExp::MapShapes(shape, TopAbs_FACE, map);
  for (int i = 1; i <= map.Extent(); ++i) {
    const TopoDS_Face& face = TopoDS::Face(map(i));
    TopLoc_Location location;
    const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(face, location);
    if (mesh.IsNull() || !mesh->HasUVNodes()) continue;
    all.faces.push_back(face);
    all.meshes.emplace_back(face);
  }
  all.changed.resize(all.faces.size(), false);
  for (std::size_t i = 0; i < all.faces.size(); ++i) {
    divide_edges_of(all, i, chord);
    for (int round = 0; round < rounds && all.meshes[i].refine(chord); ++round) all.changed[i] = true;
    if (all.changed[i]) all.meshes[i].write_back();
  }
}

}  // namespace culmwright
