#include "solid/facets.hpp"

#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <algorithm>
#include <cmath>

#include "solid/curves.hpp"
#include "solid/face_outline.hpp"
#include "solid/inner_points.hpp"
#include "solid/triangulate.hpp"
#include "solid/unfold.hpp"

namespace culmwright {

namespace {

/// A facet or edge that crosses more cells than this is looked at so often within each: no bend of the
/// surface, nor two against each other, is passed over. Of a smaller one the middle tells.
constexpr double cells_of_one_look = 1.05;
constexpr double looks_per_cell = 2.0;
constexpr int most_looks = 24;
constexpr double share_at_looks = 0.7;  ///< of the chord: between two looks it may be a little more
/// A facet on the border is no nearer to the surface than the border's own piece, which stays as it is.
constexpr double share_at_border = 1.1;

Handle(Geom_Surface) surface_of(const TopoDS_Face& face) {
  Handle(Geom_Surface) surface = BRep_Tool::Surface(face);
  if (surface.IsNull()) throw TriangulationFault("the face has no surface");
  while (surface->IsKind(STANDARD_TYPE(Geom_RectangularTrimmedSurface))) {
    surface = Handle(Geom_RectangularTrimmedSurface)::DownCast(surface)->BasisSurface();
  }
  return surface;
}

class FacetMaker {
 public:
  FacetMaker(const TopoDS_Face& face, const EdgeNodes& edges, double chord, int first_new)
      : surface_(surface_of(face)),
        outline_(face_outline(face, edges)),
        chord_(chord),
        most_off_(share_at_looks * chord),
        most_off_at_border_(std::max(most_off_, share_at_border * std::min(edges.chord(), chord))),
        first_new_(first_new),
        reversed_(face.Orientation() == TopAbs_REVERSED) {
    for (const int node : outline_.nodes) points_.push_back(edges.points()[node]);
  }

  Facets make(double angle) {
    if (surface_->IsKind(STANDARD_TYPE(Geom_Plane))) {
      triangulate(even_cells(surface_, outline_.box()), {});
      return facets(delaunay_->inside());
    }
    fine_ = std::make_unique<SurfaceCells>(surface_cells(surface_, outline_.box(), chord_, angle));
    const std::vector<Vec2> inside = parameters_inside(*fine_);
    try {
      triangulate(*fine_, inside);
      refine();
      std::vector<PlaneTriangle> triangles = delaunay_->inside();
      if (unfold(parameters(), triangles)) return facets(triangles);
    } catch (const TriangulationFault&) {
      // A border that the graded scale ties in a knot may be sound on a proportional one.
    }
    triangulate(by_cells(), inside);
    refine();
    return facets(delaunay_->inside());
  }

 private:
  std::vector<Vec2> parameters_inside(const SurfaceCells& cells) const {
    std::vector<Vec2> border;
    for (const Vec2& uv : outline_.places) border.push_back(cells.cells(uv));
    std::vector<Vec2> inside = inner_points(border, outline_.sides, cells.u.count(), cells.v.count());
    for (Vec2& place : inside) place = cells.parameters(place);
    return inside;
  }

  void triangulate(const SurfaceCells& cells, const std::vector<Vec2>& inside) {
    scale_ = std::make_unique<SurfaceCells>(cells);
    places_.clear();
    fine_places_.clear();
    points_.resize(outline_.places.size());
    for (const Vec2& uv : outline_.places) {
      places_.push_back(scale_->cells(uv));
      if (fine_) fine_places_.push_back(fine_->cells(uv));
    }
    for (const Vec2& uv : inside) add_inner(scale_->cells(uv), uv);
    delaunay_ = std::make_unique<RegionTriangulation>(places_, outline_.sides);
  }

  /// A corner inside, on the surface.
  void add_inner(Vec2 place, Vec2 uv) {
    places_.push_back(place);
    fine_places_.push_back(fine_->cells(uv));
    points_.push_back(vec_of(surface_->Value(uv.x, uv.y)));
  }

  /// Of every corner: where the scale changes, it may bend a rim that turns outward inward, and a facet then
  /// lies across the hole in the parameters themselves.
  std::vector<Vec2> parameters() const {
    std::vector<Vec2> all = outline_.places;
    for (std::size_t i = all.size(); i < places_.size(); ++i) all.push_back(scale_->parameters(places_[i]));
    return all;
  }

  /// Proportional, so that it bends nothing, with as many cells as the graded scale.
  SurfaceCells by_cells() const {
    const ParameterBox box = outline_.box();
    return {CellScale::even(box.low.x, box.high.x, fine_->u.count()),
            CellScale::even(box.low.y, box.high.y, fine_->v.count())};
  }

  /// How far a point of a facet, at a place of the plane, is from the surface, as far as that can matter.
  /// Only what lies along the normal counts: equal steps of parameters are no equal steps of length.
  double off_surface(Vec3 p, Vec2 place) const {
    const Vec2 uv = scale_->parameters(place);
    gp_Pnt on;
    surface_->D0(uv.x, uv.y, on);
    const double apart = length(vec_of(on) - p);
    if (apart <= most_off_) return apart;
    gp_Vec u;
    gp_Vec v;
    surface_->D1(uv.x, uv.y, on, u, v);
    const Vec3 normal = cross(vec_of(u), vec_of(v));
    const double size = length(normal);
    return size <= 1e-12 ? apart : std::abs(dot(vec_of(on) - p, normal)) / size;
  }

  /// Puts a point on the surface at a place, near a corner that is there already.
  bool add(Vec2 place, int near) {
    const int number = delaunay_->insert(place, near);
    if (number < 0) return false;
    const Vec2 uv = scale_->parameters(place);
    add_inner(place, uv);
    return true;
  }

  /// Into how many parts something with these corners is divided for looking at it.
  template <std::size_t count>
  int looks_over(const std::array<int, count>& corners) const {
    Vec2 low = fine_places_[corners[0]];
    Vec2 high = low;
    for (const int i : corners) {
      const Vec2 p = fine_places_[i];
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    const double cells = std::max(high.x - low.x, high.y - low.y);
    if (cells <= cells_of_one_look) return 1;
    return std::min(most_looks, static_cast<int>(std::ceil(looks_per_cell * cells)));
  }

  bool off_edge(int a, int b) const {
    const int parts = std::max(2, looks_over(std::array<int, 2>{a, b}));
    for (int k = 1; k < parts; ++k) {
      const double share = static_cast<double>(k) / parts;
      const Vec3 p = points_[a] + (points_[b] - points_[a]) * share;
      const Vec2 place = places_[a] + (places_[b] - places_[a]) * share;
      if (off_surface(p, place) > most_off_) return true;
    }
    return false;
  }

  bool off_facet(const PlaneTriangle& triangle) const {
    const std::array<int, 3>& t = triangle.corner;
    const auto& border = triangle.on_border;
    const double most = border[0] || border[1] || border[2] ? most_off_at_border_ : most_off_;
    const int parts = looks_over(t);
    for (int i = 0; i < parts; ++i) {
      for (int j = 0; i + j < parts; ++j) {
        const double a = (i + 1.0 / 3.0) / parts;
        const double b = (j + 1.0 / 3.0) / parts;
        const auto at = [&](const auto& of) {
          return of[t[0]] + (of[t[1]] - of[t[0]]) * a + (of[t[2]] - of[t[0]]) * b;
        };
        if (off_surface(at(points_), at(places_)) > most) return true;
      }
    }
    return false;
  }
  Vec2 middle_place(const std::array<int, 3>& t) const {
    return (places_[t[0]] + places_[t[1]] + places_[t[2]]) * (1.0 / 3.0);
  }

  /// One round over the facets that have a corner from `newest` on: all others were found near enough before.
  bool refine_once(int newest) {
    struct Wanted {
      Vec2 place;
      int near;
    };
    std::vector<Wanted> wanted;
    for (const PlaneTriangle& triangle : delaunay_->inside()) {
      const auto& t = triangle.corner;
      if (*std::max_element(t.begin(), t.end()) < newest) continue;
      const std::size_t before = wanted.size();
      for (int k = 0; k < 3; ++k) {
        const int a = t[k];
        const int b = t[(k + 1) % 3];
        // The facet on the other side looks at the same edge.
        if (triangle.on_border[k] || a > b || std::max(a, b) < newest) continue;
        if (off_edge(a, b)) wanted.push_back({(places_[a] + places_[b]) * 0.5, a});
      }
      if (wanted.size() == before && off_facet(triangle)) wanted.push_back({middle_place(t), t[0]});
    }
    bool added = false;
    for (const Wanted& one : wanted) added = add(one.place, one.near) || added;
    return added;
  }

  void refine() {
    int newest = 0;
    for (int round = 0; round < facet_rounds; ++round) {
      const int next = static_cast<int>(places_.size());
      if (!refine_once(newest)) return;
      newest = next;
    }
  }

  double border_gap() const {
    double greatest = 0.0;
    for (std::size_t i = 0; i < outline_.places.size(); ++i) {
      const Vec2 uv = outline_.places[i];
      greatest = std::max(greatest, length(vec_of(surface_->Value(uv.x, uv.y)) - points_[i]));
    }
    return greatest;
  }

  /// The border has the face on its left.
  void check_directions(const std::vector<PlaneTriangle>& triangles) const {
    std::vector<std::array<int, 2>> planned = outline_.sides;
    std::sort(planned.begin(), planned.end());
    for (const PlaneTriangle& triangle : triangles) {
      for (int k = 0; k < 3; ++k) {
        if (!triangle.on_border[k]) continue;
        const std::array<int, 2> side{triangle.corner[k], triangle.corner[(k + 1) % 3]};
        if (!std::binary_search(planned.begin(), planned.end(), side)) {
          throw TriangulationFault("the border runs the wrong way round");
        }
      }
    }
  }

  Facets facets(const std::vector<PlaneTriangle>& triangles) const {
    check_directions(triangles);
    const int border = static_cast<int>(outline_.nodes.size());
    const auto node = [&](int i) { return i < border ? outline_.nodes[i] : first_new_ + i - border; };
    Facets result;
    result.border_gap = border_gap();
    result.new_points.assign(points_.begin() + border, points_.end());
    for (const PlaneTriangle& triangle : triangles) {
      std::array<int, 3> t{};
      for (int k = 0; k < 3; ++k) t[k] = node(triangle.corner[k]);
      if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0]) continue;  // at a pole
      if (reversed_) std::swap(t[1], t[2]);
      result.triangles.push_back(t);
    }
    return result;
  }

  Handle(Geom_Surface) surface_;
  FaceOutline outline_;
  double chord_;
  double most_off_;            ///< of an edge or a facet inside
  double most_off_at_border_;  ///< of a facet with a side of the border
  int first_new_;
  bool reversed_;
  std::unique_ptr<SurfaceCells> scale_;
  std::unique_ptr<SurfaceCells> fine_;  ///< the graded scale; none for a plane
  std::vector<Vec2> places_;            ///< by the scale in use: first the outline's, then those inside
  std::vector<Vec2> fine_places_;       ///< by the graded scale
  std::vector<Vec3> points_;
  std::unique_ptr<RegionTriangulation> delaunay_;
};

}  // namespace

Facets facets_of(const TopoDS_Face& face, const EdgeNodes& edges, double chord, double angle, int first_new) {
  return FacetMaker(face, edges, chord, first_new).make(angle);
}

}  // namespace culmwright
