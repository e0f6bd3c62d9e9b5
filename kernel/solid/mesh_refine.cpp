#include "solid/mesh_refine.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <array>
#include <map>
#include <utility>
#include <vector>

namespace culmwright {

namespace {

constexpr int rounds = 8;

class FaceMesh {
 public:
  FaceMesh(const TopoDS_Face& face, const Handle(Poly_Triangulation) & mesh)
      : surface_(face, false), mesh_(mesh) {
    TopLoc_Location location;
    BRep_Tool::Triangulation(face, location);
    to_world_ = location.Transformation();
    for (int i = 1; i <= mesh->NbNodes(); ++i) {
      nodes_.push_back(mesh->Node(i).Transformed(to_world_));
      places_.push_back(mesh->UVNode(i));
    }
    for (int i = 1; i <= mesh->NbTriangles(); ++i) {
      int a = 0;
      int b = 0;
      int c = 0;
      mesh->Triangle(i).Get(a, b, c);
      triangles_.push_back({a - 1, b - 1, c - 1});
    }
  }

  /// One round; false when there was nothing left to divide.
  bool refine(double chord) {
    const std::map<Edge, int> middles = divided_edges(chord);
    std::vector<Triangle> next;
    next.reserve(triangles_.size() + 2 * middles.size());
    for (const Triangle& triangle : triangles_) divide(triangle, middles, chord, next);
    const bool changed = next.size() != triangles_.size();
    triangles_ = std::move(next);
    return changed;
  }

  void write_back() const {
    const int first_new = mesh_->NbNodes() + 1;
    mesh_->ResizeNodes(static_cast<int>(nodes_.size()), true);
    const gp_Trsf back = to_world_.Inverted();
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

 private:
  using Triangle = std::array<int, 3>;
  using Edge = std::pair<int, int>;

  static Edge edge(int a, int b) { return a < b ? Edge{a, b} : Edge{b, a}; }

  int add_node(const gp_Pnt& point, const gp_Pnt2d& place) {
    nodes_.push_back(point);
    places_.push_back(place);
    return static_cast<int>(nodes_.size()) - 1;
  }

  /// Inner edges whose middle is off the surface, each with the number of the node put there.
  std::map<Edge, int> divided_edges(double chord) {
    std::map<Edge, int> uses;
    for (const Triangle& t : triangles_) {
      for (int k = 0; k < 3; ++k) ++uses[edge(t[k], t[(k + 1) % 3])];
    }
    std::map<Edge, int> middles;
    for (const auto& [ends, count] : uses) {
      if (count != 2) continue;
      const gp_XYZ middle = 0.5 * (nodes_[ends.first].XYZ() + nodes_[ends.second].XYZ());
      const gp_XY place = 0.5 * (places_[ends.first].XY() + places_[ends.second].XY());
      const gp_Pnt on_surface = surface_.Value(place.X(), place.Y());
      if (on_surface.Distance(middle) > chord) middles[ends] = add_node(on_surface, place);
    }
    return middles;
  }

  void divide(const Triangle& t, const std::map<Edge, int>& middles, double chord,
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

  void divide_by_centre(const Triangle& t, double chord, std::vector<Triangle>& out) {
    const gp_XYZ centre = (nodes_[t[0]].XYZ() + nodes_[t[1]].XYZ() + nodes_[t[2]].XYZ()) / 3.0;
    const gp_XY place = (places_[t[0]].XY() + places_[t[1]].XY() + places_[t[2]].XY()) / 3.0;
    const gp_Pnt on_surface = surface_.Value(place.X(), place.Y());
    if (on_surface.Distance(centre) <= chord) {
      out.push_back(t);
      return;
    }
    const int node = add_node(on_surface, place);
    for (int k = 0; k < 3; ++k) out.push_back({t[k], t[(k + 1) % 3], node});
  }

  BRepAdaptor_Surface surface_;
  Handle(Poly_Triangulation) mesh_;
  gp_Trsf to_world_;
  std::vector<gp_Pnt> nodes_;
  std::vector<gp_Pnt2d> places_;
  std::vector<Triangle> triangles_;
};

}  // namespace

void refine_facets(const TopoDS_Shape& shape, double chord) {
  for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next()) {
    const TopoDS_Face& face = TopoDS::Face(at.Current());
    TopLoc_Location location;
    const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(face, location);
    if (mesh.IsNull() || !mesh->HasUVNodes()) continue;
    if (BRepAdaptor_Surface(face, false).GetType() == GeomAbs_Plane) continue;
    FaceMesh facets(face, mesh);
    bool changed = false;
    for (int i = 0; i < rounds && facets.refine(chord); ++i) changed = true;
    if (changed) facets.write_back();
  }
}

}  // namespace culmwright
