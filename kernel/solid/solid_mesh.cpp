#include "solid/solid_mesh.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>

#include "solid/facets.hpp"
#include "solid/general_mesh.hpp"
#include "solid/triangulate.hpp"

namespace culmwright {

namespace {

/// What bushes, drills and pegs pass through is as fine as its rims, also where another bore crosses it.
double chord_of(const TopoDS_Face& face, const MeshAccuracy& accuracy) {
  const bool round = BRepAdaptor_Surface(face, false).GetType() == GeomAbs_Cylinder;
  return round ? std::min(accuracy.chord, accuracy.edge_chord) : accuracy.chord;
}

const char* kind_of(const TopoDS_Face& face) {
  switch (BRepAdaptor_Surface(face, false).GetType()) {
    case GeomAbs_Plane:
      return "plane";
    case GeomAbs_Cylinder:
      return "cylinder";
    case GeomAbs_Cone:
      return "cone";
    case GeomAbs_Sphere:
      return "sphere";
    case GeomAbs_Torus:
      return "torus";
    default:
      return "free form";
  }
}

/// Vertices that no triangle uses are left out; the others stay in order.
void drop_unused(Mesh& mesh) {
  std::vector<int> number(mesh.vertices.size(), -1);
  for (const auto& t : mesh.triangles) {
    for (const int v : t) number[v] = 0;
  }
  std::vector<Vec3> used;
  for (std::size_t i = 0; i < number.size(); ++i) {
    if (number[i] < 0) continue;
    number[i] = static_cast<int>(used.size());
    used.push_back(mesh.vertices[i]);
  }
  mesh.vertices = std::move(used);
  for (auto& t : mesh.triangles) t = {number[t[0]], number[t[1]], number[t[2]]};
}

/// Throws TriangulationFault naming the face.
SolidMesh mesh_by_faces(const TopoDS_Shape& shape, const MeshAccuracy& accuracy) {
  const double edge_chord = std::min(accuracy.edge_chord, accuracy.chord);
  const double edge_angle = std::min(accuracy.edge_angle, accuracy.angle);
  EdgeNodes edges(shape, edge_chord, edge_angle);
  TopTools_IndexedMapOfShape faces;
  TopExp::MapShapes(shape, TopAbs_FACE, faces);
  SolidMesh made;
  Mesh& mesh = made.mesh;
  mesh.vertices = edges.points();
  for (int i = 1; i <= faces.Extent(); ++i) {
    const TopoDS_Face& face = TopoDS::Face(faces(i));
    try {
      const int first_new = static_cast<int>(mesh.vertices.size());
      const Facets facets = facets_of(face, edges, chord_of(face, accuracy), accuracy.angle, first_new);
      mesh.vertices.insert(mesh.vertices.end(), facets.new_points.begin(), facets.new_points.end());
      mesh.triangles.insert(mesh.triangles.end(), facets.triangles.begin(), facets.triangles.end());
      mesh.face_of.resize(mesh.triangles.size(), i - 1);
      made.how.border_gap = std::max(made.how.border_gap, facets.border_gap);
    } catch (const TriangulationFault& fault) {
      throw TriangulationFault("face " + std::to_string(i) + " (" + kind_of(face) + "): " + fault.what());
    }
  }
  drop_unused(mesh);
  return made;
}

}  // namespace

SolidMesh mesh_of(const std::string& part, const TopoDS_Shape& shape, const MeshAccuracy& accuracy) {
  try {
    return mesh_by_faces(shape, accuracy);
  } catch (const TriangulationFault& fault) {
    return {general_mesh(part, shape, accuracy), {fault.what(), 0.0}};
  }
}

}  // namespace culmwright
