#include "solid/triangulate.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Constrained_triangulation_face_base_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>

#include <utility>

namespace culmwright {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<int, Kernel>;
using PlainFace = CGAL::Triangulation_face_base_with_info_2<int, Kernel>;
using FaceBase = CGAL::Constrained_triangulation_face_base_2<Kernel, PlainFace>;
using Data = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
using Triangulation =
    CGAL::Constrained_Delaunay_triangulation_2<Kernel, Data, CGAL::No_constraint_intersection_tag>;
using Point = Triangulation::Point;

constexpr int unknown = -1;

}  // namespace

struct RegionTriangulation::Delaunay {
  Triangulation triangulation;
  std::vector<Triangulation::Vertex_handle> vertex;

  void add_points(const std::vector<Vec2>& points) {
    std::vector<std::pair<Point, int>> numbered;
    numbered.reserve(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      numbered.emplace_back(Point(points[i].x, points[i].y), static_cast<int>(i));
    }
    triangulation.insert(numbered.begin(), numbered.end());
    if (triangulation.number_of_vertices() != points.size()) throw TriangulationFault("two corners coincide");
    vertex.resize(points.size());
    for (auto v = triangulation.finite_vertices_begin(); v != triangulation.finite_vertices_end(); ++v) {
      vertex[v->info()] = v;
    }
  }

  void add_side(const std::array<int, 2>& side) {
    try {
      triangulation.insert_constraint(vertex[side[0]], vertex[side[1]]);
    } catch (const Triangulation::Intersection_of_constraints_exception&) {
      throw TriangulationFault("two sides cross");
    }
    Triangulation::Face_handle face;
    int index = 0;
    if (!triangulation.is_edge(vertex[side[0]], vertex[side[1]], face, index)) {
      throw TriangulationFault("a side passes through a corner");
    }
  }

  /// Each face's info becomes the number of sides between it and infinity.
  void count_sides_from_infinity() {
    for (const auto face : triangulation.all_face_handles()) face->info() = unknown;
    std::vector<Triangulation::Face_handle> here{triangulation.infinite_face()};
    std::vector<Triangulation::Face_handle> beyond;
    here.front()->info() = 0;
    for (int depth = 0; !here.empty(); ++depth) {
      while (!here.empty()) {
        const Triangulation::Face_handle face = here.back();
        here.pop_back();
        for (int i = 0; i < 3; ++i) {
          const Triangulation::Face_handle next = face->neighbor(i);
          if (next->info() != unknown) continue;
          if (face->is_constrained(i)) {
            beyond.push_back(next);
          } else {
            next->info() = depth;
            here.push_back(next);
          }
        }
      }
      for (const auto face : beyond) {
        if (face->info() != unknown) continue;
        face->info() = depth + 1;
        here.push_back(face);
      }
      beyond.clear();
    }
  }

  /// A loop that is closed has inside on one side of each of its sides and outside on the other.
  void check_sides() {
    count_sides_from_infinity();
    for (const auto& edge : triangulation.finite_edges()) {
      if (!edge.first->is_constrained(edge.second)) continue;
      const int here = edge.first->info();
      const int there = edge.first->neighbor(edge.second)->info();
      if ((here - there) % 2 == 0) throw TriangulationFault("a side does not part inside from outside");
    }
  }
};

RegionTriangulation::RegionTriangulation(const std::vector<Vec2>& points,
                                         const std::vector<std::array<int, 2>>& sides)
    : delaunay_(std::make_unique<Delaunay>()) {
  if (points.size() < 3) throw TriangulationFault("fewer than three corners");
  delaunay_->add_points(points);
  if (delaunay_->triangulation.dimension() < 2) throw TriangulationFault("all corners lie on one line");
  for (const auto& side : sides) delaunay_->add_side(side);
  delaunay_->check_sides();
}

RegionTriangulation::~RegionTriangulation() = default;
RegionTriangulation::RegionTriangulation(RegionTriangulation&&) noexcept = default;

int RegionTriangulation::insert(Vec2 point, int near) {
  Triangulation& t = delaunay_->triangulation;
  const Point place(point.x, point.y);
  Triangulation::Locate_type type{};
  int index = 0;
  const auto face = t.locate(place, type, index, delaunay_->vertex[near]->face());
  if (type == Triangulation::VERTEX || type == Triangulation::OUTSIDE_CONVEX_HULL) return -1;
  if (type == Triangulation::EDGE && face->is_constrained(index)) return -1;
  const auto added = t.insert(place, type, face, index);
  added->info() = static_cast<int>(delaunay_->vertex.size());
  delaunay_->vertex.push_back(added);
  return added->info();
}

std::vector<PlaneTriangle> RegionTriangulation::inside() {
  delaunay_->count_sides_from_infinity();
  std::vector<PlaneTriangle> triangles;
  for (const auto face : delaunay_->triangulation.finite_face_handles()) {
    if (face->info() % 2 == 0) continue;
    PlaneTriangle triangle;
    for (int k = 0; k < 3; ++k) {
      triangle.corner[k] = face->vertex(k)->info();
      triangle.on_border[k] = face->is_constrained((k + 2) % 3);
    }
    triangles.push_back(triangle);
  }
  return triangles;
}

}  // namespace culmwright
