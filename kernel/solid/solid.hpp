#pragma once
/// A solid: an opaque value over a shared immutable B-rep shape. Made from plans by the builders of this
/// folder and handed out only after it passed the gate (solid/gate.hpp).
#include <memory>
#include <string>

#include "plan/mesh.hpp"

class TopoDS_Shape;

namespace culmwright {

/// How finely a solid is meshed: greatest distance between facet and surface (mm), and angle between
/// neighbours. Edges, so the rims of bores as well, are divided more finely: an inscribed polygon drills
/// undersize.
struct MeshAccuracy {
  double chord = 0.05;
  double angle = 0.35;  ///< radians
  double edge_chord = 0.02;
  double edge_angle = 0.12;

  bool operator==(const MeshAccuracy& other) const {
    return chord == other.chord && angle == other.angle && edge_chord == other.edge_chord &&
           edge_angle == other.edge_angle;
  }
};

/// What making the mesh of a solid told of its faces (solid_mesh.hpp).
struct Meshing {
  /// Why the general mesher was needed, with the number and kind of the face; empty when it was not.
  std::string fallback;
  /// Greatest distance of a node on a face's border from the surface of that face, mm; when it was not.
  double border_gap = 0.0;
};

class Solid {
 public:
  Solid(std::string name, const TopoDS_Shape& shape);

  const std::string& name() const { return name_; }
  /// The crossing into OpenCASCADE; for this folder and the exporters that write solids.
  const TopoDS_Shape& occt_shape() const;
  /// Triangulated; vertices shared between faces are merged. face_of counts the faces of the shape in the
  /// kernel's own order. Kept: asking again for the same accuracy costs a copy. Throws GeometryError when a
  /// face could not be meshed.
  Mesh mesh(const MeshAccuracy& accuracy = {}) const;
  /// How that mesh was made.
  Meshing meshing(const MeshAccuracy& accuracy = {}) const;

 private:
  void remesh(const MeshAccuracy& accuracy) const;

  std::string name_;
  struct LastMesh;
  std::shared_ptr<const TopoDS_Shape> shape_;
  std::shared_ptr<LastMesh> last_mesh_;
};

}  // namespace culmwright
