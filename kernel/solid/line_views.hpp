#pragma once
/// What is seen of solids: their meshes with hidden lines removed (plan/hidden_lines.hpp).
#include <vector>

#include "plan/line_view.hpp"
#include "solid/solid.hpp"

namespace culmwright {

/// Of solids that are meshed for pictures alone.
constexpr MeshAccuracy picture_accuracy{0.08, 0.35, 0.03, 0.2};
/// Greatest distance of a drawn line from the true edge or outline, millimetres; the chord of a mesh is less.
constexpr double line_accuracy = 0.1;

/// A solid where it stands.
struct SeenSolid {
  std::string name;
  Solid solid;
  RigidMotion to_tube{};  ///< from the solid's frame to that of the view
  MeshAccuracy accuracy = picture_accuracy;  ///< that of a mesh it has already saves making another
};

/// The edges of things that stand together, each hiding what lies behind it, in one view for each frame;
/// seams and edges between faces that go over smoothly are no lines. Deterministic. Throws GeometryError when
/// a solid could not be meshed.
std::vector<LineView> line_views(const std::vector<SeenSolid>& solids,
                                 const std::vector<ViewFrame>& frames);
LineView line_view(const std::vector<SeenSolid>& solids, const ViewFrame& frame);

}  // namespace culmwright
