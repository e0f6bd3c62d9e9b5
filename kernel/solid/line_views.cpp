#include "solid/line_views.hpp"

#include "plan/hidden_lines.hpp"

namespace culmwright {

std::vector<LineView> line_views(const std::vector<SeenSolid>& solids,
                                 const std::vector<ViewFrame>& frames) {
  std::vector<SeenMesh> meshes;
  for (const SeenSolid& placed : solids)
    meshes.push_back({placed.name, moved(placed.solid.mesh(placed.accuracy), placed.to_tube)});
  std::vector<LineView> views;
  for (const ViewFrame& frame : frames) views.push_back(hidden_lines(meshes, frame));
  return views;
}

LineView line_view(const std::vector<SeenSolid>& solids, const ViewFrame& frame) {
  return line_views(solids, {frame}).front();
}

}  // namespace culmwright
