#pragma once
/// The triangulation of one face, taken out of the kernel to be divided and put back.
#include <Geom2d_Curve.hxx>
#include <Geom_Surface.hxx>
#include <Poly_Triangulation.hxx>
#include <TopoDS_Face.hxx>
#include <array>
#include <map>
#include <set>
#include <utility>
#include <vector>

namespace culmwright {

using BorderCurves = std::array<Handle(Geom2d_Curve), 2>;

/// Nodes are counted from 0. Points are in the shape's frame.
class FaceMesh {
 public:
  /// Precondition: the face is meshed, with parameters.
  explicit FaceMesh(const TopoDS_Face& face);

  /// Puts a node on the side a–b of a facet at the face's border and divides that facet; returns its number.
  /// `parameter` is that of the point on the border's curve in the face's parameters. A seam has two such
  /// curves; the one on the side's own side is taken.
  int divide_side(int a, int b, const gp_Pnt& point, const BorderCurves& border, double parameter);

  /// One round of dividing what is farther than `chord` from the surface inside the face; false when nothing
  /// was. Plane faces have nothing to divide.
  bool refine(double chord);

  /// Changes the kernel's triangulation in place.
  void write_back() const;

 private:
  using Triangle = std::array<int, 3>;
  using Edge = std::pair<int, int>;

  static Edge edge(int a, int b) { return a < b ? Edge{a, b} : Edge{b, a}; }
  int add_node(const gp_Pnt& point, const gp_Pnt2d& place);
  /// Whether an edge is farther than `chord` from the surface at that share of its length.
  bool off_surface(int a, int b, double share, double chord) const;
  /// Inner edges that are off the surface, each with the number of the node put at its middle.
  std::map<Edge, int> divided_edges(double chord);
  void divide(const Triangle& t, const std::map<Edge, int>& middles, double chord,
              std::vector<Triangle>& out);
  void divide_by_centre(const Triangle& t, double chord, std::vector<Triangle>& out);

  /// The surface itself: adaptors keep a cache of one span, which costs more than it saves from place to
  /// place.
  gp_Pnt surface_at(const gp_XY& place) const;

  Handle(Geom_Surface) surface_;
  gp_Trsf surface_to_shape_;
  std::set<Edge> near_;             ///< inner edges already found to be near enough
  std::set<Triangle> near_facets_;  ///< and facets
  Handle(Poly_Triangulation) mesh_;
  gp_Trsf to_shape_;
  std::vector<gp_Pnt> nodes_;
  std::vector<gp_Pnt2d> places_;
  std::vector<Triangle> triangles_;
};

}  // namespace culmwright
