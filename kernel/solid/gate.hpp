#pragma once
/// The acceptance gate for solids: none leaves this folder that does not hold against its plan. What a B-rep
/// kernel calls valid is necessary and never sufficient, so the mesh is held against the plan as well
/// (plan/mesh_gate.hpp).
#include <functional>
#include <vector>

#include "plan/mesh_gate.hpp"
#include "solid/solid.hpp"

namespace culmwright {

/// Greatest tolerance that an edge or vertex of a sound solid has, mm.
constexpr double gate_tolerance = 0.01;

/// Every check with its figure: one solid and nothing beside it; greatest tolerance under 0.01; every face
/// meshed; every face's border closed, free of crossings and the right way round, and its nodes within the
/// tolerance of the surface (what meshing face by face proves with exact predicates); then those of hold_mesh
/// at the accuracy given; last, of what passed all that, that it is valid by the kernel's own analysis, since
/// other programs built on it refuse what is not. Throws nothing for an unsound solid: the report says it.
GateReport hold(const Solid& solid, const Expectation& expected, const MeshAccuracy& accuracy = {});

/// Throws GeometryError naming the part, the stage and every failed check with its sizes.
void require_sound(const GateReport& report, const std::string& stage);

/// One build and what came of it.
struct GateEntry {
  std::string part;
  double nudge = 0.0;   ///< mm by which the build was moved
  std::string failure;  ///< empty when the solid was sound
  std::string meshing;  ///< why the general mesher was needed, with the face; empty when it was not
};
using GateLog = std::vector<GateEntry>;

/// Builds until the gate passes: as planned, then moved by 0.01 mm one way, the other way, and by 0.02; every
/// build is entered in the log. What `build` does with the nudge is its own affair, but the result is always
/// held against the one plan, at the gate's own limits. Throws GeometryError with the last failure when none
/// was sound. Tolerances of booleans are never raised.
Solid build_sound(const std::function<Solid(double nudge)>& build, const Expectation& expected, GateLog& log,
                  const MeshAccuracy& accuracy = {});

}  // namespace culmwright
