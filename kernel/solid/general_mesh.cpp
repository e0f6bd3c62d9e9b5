#include "solid/general_mesh.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <IMeshTools_Parameters.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <algorithm>
#include <numeric>
#include <utility>

#include "base/problem.hpp"

namespace culmwright {

namespace {

/// Nodes of all faces in one row, with those that are one point of the solid joined.
class NodeJoiner {
 public:
  explicit NodeJoiner(int count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0); }
  int first(int node) {
    while (parent_[node] != node) node = parent_[node] = parent_[parent_[node]];
    return node;
  }
  /// The lower number stays, whatever the order of joining.
  void join(int a, int b) {
    a = first(a);
    b = first(b);
    parent_[std::max(a, b)] = std::min(a, b);
  }

 private:
  std::vector<int> parent_;
};

struct MeshedFace {
  TopoDS_Face face;
  Handle(Poly_Triangulation) triangulation;
  TopLoc_Location location;
  int first_node = 0;
};

std::vector<MeshedFace> meshed_faces(const std::string& part, const TopoDS_Shape& shape) {
  std::vector<MeshedFace> faces;
  TopTools_IndexedMapOfShape map;
  TopExp::MapShapes(shape, TopAbs_FACE, map);
  int nodes = 0;
  for (int i = 1; i <= map.Extent(); ++i) {
    MeshedFace meshed;
    meshed.face = TopoDS::Face(map(i));
    meshed.triangulation = BRep_Tool::Triangulation(meshed.face, meshed.location);
    if (meshed.triangulation.IsNull() || meshed.triangulation->NbTriangles() == 0) {
      throw GeometryError(part, "mesh", "face " + std::to_string(i) + " could not be meshed");
    }
    meshed.first_node = nodes;
    nodes += meshed.triangulation->NbNodes();
    faces.push_back(meshed);
  }
  return faces;
}

/// Nodes along each edge, face by face, become one: the edge was divided once for all its faces.
void join_along_edges(const std::string& part, const std::vector<MeshedFace>& faces, NodeJoiner& joiner) {
  TopTools_IndexedMapOfShape edges;
  TopTools_IndexedMapOfShape corners;
  std::vector<std::vector<int>> nodes_of_edge(1);
  std::vector<int> node_of_corner(1, -1);
  const auto join_corner = [&](const TopoDS_Vertex& corner, int node) {
    if (corner.IsNull()) return;
    const int index = corners.Add(corner);
    if (index == static_cast<int>(node_of_corner.size())) node_of_corner.push_back(node);
    joiner.join(node_of_corner[index], node);
  };
  for (const MeshedFace& meshed : faces) {
    for (TopExp_Explorer at(meshed.face, TopAbs_EDGE); at.More(); at.Next()) {
      const TopoDS_Edge edge = TopoDS::Edge(at.Current());
      const Handle(Poly_PolygonOnTriangulation) polygon =
          BRep_Tool::PolygonOnTriangulation(edge, meshed.triangulation, meshed.location);
      if (polygon.IsNull()) throw GeometryError(part, "mesh", "an edge was left out of the mesh of its face");
      const int index = edges.Add(edge);
      if (index == static_cast<int>(nodes_of_edge.size())) nodes_of_edge.emplace_back();
      std::vector<int> nodes;
      for (int i = 1; i <= polygon->NbNodes(); ++i) nodes.push_back(meshed.first_node + polygon->Node(i) - 1);
      std::vector<int>& known = nodes_of_edge[index];
      if (known.empty()) known = nodes;
      if (known.size() != nodes.size()) {
        throw GeometryError(part, "mesh", "an edge is divided differently on its two faces");
      }
      for (std::size_t i = 0; i < nodes.size(); ++i) joiner.join(known[i], nodes[i]);
      const TopoDS_Edge forward = TopoDS::Edge(edge.Oriented(TopAbs_FORWARD));
      join_corner(TopExp::FirstVertex(forward), nodes.front());
      join_corner(TopExp::LastVertex(forward), nodes.back());
    }
  }
}

void append_face(const MeshedFace& meshed, int number, NodeJoiner& joiner, std::vector<int>& vertex_of,
                 Mesh& mesh) {
  const gp_Trsf motion = meshed.location.Transformation();
  const auto vertex = [&](int node) {
    const int first = joiner.first(meshed.first_node + node - 1);
    if (vertex_of[first] < 0) {
      // A joined node has one place; the first face that asks gives it.
      const gp_Pnt p = meshed.triangulation->Node(node).Transformed(motion);
      vertex_of[first] = static_cast<int>(mesh.vertices.size());
      mesh.vertices.push_back({p.X(), p.Y(), p.Z()});
    }
    return vertex_of[first];
  };
  for (int i = 1; i <= meshed.triangulation->NbTriangles(); ++i) {
    int a = 0;
    int b = 0;
    int c = 0;
    meshed.triangulation->Triangle(i).Get(a, b, c);
    if (meshed.face.Orientation() == TopAbs_REVERSED) std::swap(b, c);
    const std::array<int, 3> triangle{vertex(a), vertex(b), vertex(c)};
    if (triangle[0] == triangle[1] || triangle[1] == triangle[2] || triangle[2] == triangle[0]) continue;
    mesh.triangles.push_back(triangle);
    mesh.face_of.push_back(number);
  }
}

}  // namespace

Mesh general_mesh(const std::string& part, const TopoDS_Shape& solid, const MeshAccuracy& accuracy) {
  // The mesher writes into the shape it is given: it gets a copy that shares only the geometry.
  const TopoDS_Shape shape = BRepBuilderAPI_Copy(solid, false, false).Shape();
  IMeshTools_Parameters how;
  how.Deflection = std::min(accuracy.edge_chord, accuracy.chord);
  how.Angle = std::min(accuracy.edge_angle, accuracy.angle);
  how.DeflectionInterior = accuracy.chord;
  how.AngleInterior = accuracy.angle;
  BRepMesh_IncrementalMesh(shape, how);
  const std::vector<MeshedFace> faces = meshed_faces(part, shape);
  const int nodes = faces.empty() ? 0 : faces.back().first_node + faces.back().triangulation->NbNodes();
  NodeJoiner joiner(nodes);
  join_along_edges(part, faces, joiner);
  std::vector<int> vertex_of(nodes, -1);
  Mesh mesh;
  for (std::size_t i = 0; i < faces.size(); ++i) {
    append_face(faces[i], static_cast<int>(i), joiner, vertex_of, mesh);
  }
  return mesh;
}

}  // namespace culmwright
