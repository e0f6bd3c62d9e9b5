#include "solid/solid.hpp"

#include <TopoDS_Shape.hxx>
#include <mutex>
#include <optional>
#include <utility>

#include "solid/guarded.hpp"
#include "solid/solid_mesh.hpp"

namespace culmwright {

/// The last mesh made: the gate and the file that is written ask for the same one.
struct Solid::LastMesh {
  std::mutex busy;
  std::optional<MeshAccuracy> accuracy;
  SolidMesh made;
};

Solid::Solid(std::string name, const TopoDS_Shape& shape)
    : name_(std::move(name)),
      shape_(std::make_shared<const TopoDS_Shape>(shape)),
      last_mesh_(std::make_shared<LastMesh>()) {}

const TopoDS_Shape& Solid::occt_shape() const {
  return *shape_;
}

Mesh Solid::mesh(const MeshAccuracy& accuracy) const {
  const std::lock_guard<std::mutex> lock(last_mesh_->busy);
  remesh(accuracy);
  return last_mesh_->made.mesh;
}

Meshing Solid::meshing(const MeshAccuracy& accuracy) const {
  const std::lock_guard<std::mutex> lock(last_mesh_->busy);
  remesh(accuracy);
  return last_mesh_->made.how;
}

void Solid::remesh(const MeshAccuracy& accuracy) const {
  if (last_mesh_->accuracy && *last_mesh_->accuracy == accuracy) return;
  last_mesh_->accuracy.reset();
  last_mesh_->made = guarded(name_, "mesh", [&] { return mesh_of(name_, *shape_, accuracy); });
  last_mesh_->accuracy = accuracy;
}

}  // namespace culmwright
