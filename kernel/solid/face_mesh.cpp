#include "solid/face_mesh.hpp"

#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <Standard_ConstructionError.hxx>
#include <TopLoc_Location.hxx>

namespace culmwright {

namespace {

constexpr double long_edge = 2.0;  // mm

}  // namespace

FaceMesh::FaceMesh(const TopoDS_Face& face) {
  TopLoc_Location location;
  surface_ = BRep_Tool::Surface(face, location);
  surface_to_shape_ = location.Transformation();
  mesh_ = BRep_Tool::Triangulation(face, location);
  to_shape_ = location.Transformation();
  for (int i = 1; i <= mesh_->NbNodes(); ++i) {
    nodes_.push_back(mesh_->Node(i).Transformed(to_shape_));
    places_.push_back(mesh_->UVNode(i));
  }
  for (int i = 1; i <= mesh_->NbTriangles(); ++i) {
    int a = 0;
    int b = 0;
    int c = 0;
    mesh_->Triangle(i).Get(a, b, c);
    triangles_.push_back({a - 1, b - 1, c - 1});
  }
}

int FaceMesh::add_node(const gp_Pnt& point, const gp_Pnt2d& place) {
  nodes_.push_back(point);
  places_.push_back(place);
  return static_cast<int>(nodes_.size()) - 1;
}

int FaceMesh::divide_side(int a, int b, const gp_Pnt& point, const BorderCurves& border, double parameter) {
  gp_Pnt2d place(0.5 * (places_[a].XY() + places_[b].XY()));
  const auto at = [&](const Handle(Geom2d_Curve) & curve) {
    return curve.IsNull() ? place : curve->Value(parameter);
  };
  const gp_Pnt2d one = at(border[0]);
  const gp_Pnt2d other = at(border[1]);
  place = one.SquareDistance(place) <= other.SquareDistance(place) ? one : other;
  for (std::size_t i = 0; i < triangles_.size(); ++i) {
    for (int k = 0; k < 3; ++k) {
      const Triangle t = triangles_[i];
      const int from = t[k];
      const int to = t[(k + 1) % 3];
      if (edge(from, to) != edge(a, b)) continue;
      const int apex = t[(k + 2) % 3];
      const int node = add_node(point, place);
      triangles_[i] = {from, node, apex};
      triangles_.push_back({node, to, apex});
      return node;
    }
  }
  throw Standard_ConstructionError("an edge's polygon is no side of its face's facets");
}

bool FaceMesh::refine(double chord) {
  if (surface_->IsKind(STANDARD_TYPE(Geom_Plane))) return false;
  const std::map<Edge, int> middles = divided_edges(chord);
  std::vector<Triangle> next;
  next.reserve(triangles_.size() + 2 * middles.size());
  for (const Triangle& triangle : triangles_) divide(triangle, middles, chord, next);
  const bool changed = next.size() != triangles_.size();
  triangles_ = std::move(next);
  return changed;
}

bool FaceMesh::off_surface(int a, int b, double share, double chord) const {
  const gp_XYZ between = nodes_[a].XYZ() * (1.0 - share) + nodes_[b].XYZ() * share;
  const gp_XY place = places_[a].XY() * (1.0 - share) + places_[b].XY() * share;
  return surface_at(place).Distance(between) > chord;
}

gp_Pnt FaceMesh::surface_at(const gp_XY& place) const {
  gp_Pnt point;
  surface_->D0(place.X(), place.Y(), point);
  return point.Transformed(surface_to_shape_);
}

std::map<FaceMesh::Edge, int> FaceMesh::divided_edges(double chord) {
  std::map<Edge, int> uses;
  for (const Triangle& t : triangles_) {
    for (int k = 0; k < 3; ++k) ++uses[edge(t[k], t[(k + 1) % 3])];
  }
  std::map<Edge, int> middles;
  for (const auto& [ends, count] : uses) {
    if (count != 2 || near_.count(ends) > 0) continue;
    bool off = off_surface(ends.first, ends.second, 0.5, chord);
    // What lies beside the middle of a long edge is seen from its quarters.
    if (!off && nodes_[ends.first].Distance(nodes_[ends.second]) > long_edge) {
      off = off_surface(ends.first, ends.second, 0.25, chord) ||
            off_surface(ends.first, ends.second, 0.75, chord);
    }
    if (!off) {
      near_.insert(ends);
      continue;
    }
    const gp_XY place = 0.5 * (places_[ends.first].XY() + places_[ends.second].XY());
    middles[ends] = add_node(surface_at(place), gp_Pnt2d(place));
  }
  return middles;
}

void FaceMesh::divide(const Triangle& t, const std::map<Edge, int>& middles, double chord,
                      std::vector<Triangle>& out) {
  int middle[3];
  int divided = 0;
  for (int k = 0; k < 3; ++k) {
    const auto found = middles.find(edge(t[k], t[(k + 1) % 3]));
    middle[k] = found == middles.end() ? -1 : found->second;
    divided += middle[k] >= 0;
  }
  if (divided == 0) return divide_by_centre(t, chord, out);
  if (divided == 3) {
    out.push_back({middle[0], middle[1], middle[2]});
    for (int k = 0; k < 3; ++k) out.push_back({t[k], middle[k], middle[(k + 2) % 3]});
    return;
  }
  // Turn the triangle so that its first edge is divided, and with two the third is whole.
  int k = 0;
  while (middle[k] < 0 || (divided == 2 && middle[(k + 1) % 3] < 0)) ++k;
  const int a = t[k];
  const int b = t[(k + 1) % 3];
  const int c = t[(k + 2) % 3];
  const int ab = middle[k];
  const int bc = middle[(k + 1) % 3];
  if (divided == 1) {
    out.insert(out.end(), {{a, ab, c}, {ab, b, c}});
  } else {
    out.insert(out.end(), {{ab, b, bc}, {a, ab, bc}, {a, bc, c}});
  }
}

void FaceMesh::divide_by_centre(const Triangle& t, double chord, std::vector<Triangle>& out) {
  if (near_facets_.count(t) > 0) {
    out.push_back(t);
    return;
  }
  const gp_XYZ centre = (nodes_[t[0]].XYZ() + nodes_[t[1]].XYZ() + nodes_[t[2]].XYZ()) / 3.0;
  const gp_XY place = (places_[t[0]].XY() + places_[t[1]].XY() + places_[t[2]].XY()) / 3.0;
  const gp_Pnt on_surface = surface_at(place);
  if (on_surface.Distance(centre) <= chord) {
    near_facets_.insert(t);
    out.push_back(t);
    return;
  }
  const int node = add_node(on_surface, place);
  for (int k = 0; k < 3; ++k) out.push_back({t[k], t[(k + 1) % 3], node});
}

void FaceMesh::write_back() const {
  const int first_new = mesh_->NbNodes() + 1;
  mesh_->ResizeNodes(static_cast<int>(nodes_.size()), true);
  const gp_Trsf back = to_shape_.Inverted();
  for (int i = first_new; i <= mesh_->NbNodes(); ++i) {
    mesh_->SetNode(i, nodes_[i - 1].Transformed(back));
    mesh_->SetUVNode(i, places_[i - 1]);
  }
  mesh_->ResizeTriangles(static_cast<int>(triangles_.size()), false);
  for (std::size_t i = 0; i < triangles_.size(); ++i) {
    const Triangle& t = triangles_[i];
    mesh_->SetTriangle(static_cast<int>(i) + 1, Poly_Triangle(t[0] + 1, t[1] + 1, t[2] + 1));
  }
}

}  // namespace culmwright
