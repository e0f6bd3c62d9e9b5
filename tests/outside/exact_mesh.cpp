#include "outside/exact_mesh.hpp"

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>

#include <cmath>
#include <iterator>
#include <utility>

#include "base/problem.hpp"

namespace culmwright::test {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;
using Face = Surface::Face_index;

Surface surface_of(const Mesh& mesh) {
  Surface surface;
  std::vector<Surface::Vertex_index> vertex;
  for (const Vec3& v : mesh.vertices) vertex.push_back(surface.add_vertex(Kernel::Point_3(v.x, v.y, v.z)));
  for (const auto& t : mesh.triangles) {
    const Face face = surface.add_face(vertex[t[0]], vertex[t[1]], vertex[t[2]]);
    require(face != Surface::null_face(), "CGAL takes no facet that is not manifold");
  }
  return surface;
}

}  // namespace

int crossing_pairs(const Mesh& mesh) {
  const Surface surface = surface_of(mesh);
  std::vector<std::pair<Face, Face>> pairs;
  CGAL::Polygon_mesh_processing::self_intersections(surface, std::back_inserter(pairs));
  return static_cast<int>(pairs.size());
}

std::vector<double> distances_from(const Mesh& mesh, const std::vector<Vec3>& points) {
  const Surface surface = surface_of(mesh);
  using Primitive = CGAL::AABB_face_graph_triangle_primitive<Surface>;
  CGAL::AABB_tree<CGAL::AABB_traits<Kernel, Primitive>> tree(faces(surface).begin(), faces(surface).end(),
                                                             surface);
  tree.accelerate_distance_queries();
  std::vector<double> distances;
  for (const Vec3& p : points) {
    distances.push_back(std::sqrt(CGAL::to_double(tree.squared_distance(Kernel::Point_3(p.x, p.y, p.z)))));
  }
  return distances;
}

}  // namespace culmwright::test
