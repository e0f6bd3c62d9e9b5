#pragma once
/// What is seen of solids: hidden lines removed by the kernel on a mesh of 0.1 mm, joined to long lines.
#include <vector>

#include "plan/line_view.hpp"
#include "solid/solid.hpp"

namespace culmwright {

/// A solid where it stands.
struct PlacedSolid {
  std::string name;
  Solid solid;
  RigidMotion to_tube{};  ///< from the solid's frame to that of the view
};

/// Greatest distance of a drawn line from the true edge or outline, millimetres.
constexpr double line_accuracy = 0.1;

/// The edges of things that stand together, each hiding what lies behind it; seams and edges between faces
/// that go over smoothly are no lines. Lines of one thing that lie on one another are drawn once, the visible
/// before the hidden; pieces shorter than line_accuracy are left out. Deterministic. Throws GeometryError.
LineView line_view(const std::vector<PlacedSolid>& solids, const ViewFrame& frame);

}  // namespace culmwright
