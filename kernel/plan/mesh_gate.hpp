#pragma once
/// The acceptance gate, as far as it needs only a mesh: is this the part that was planned? The part for B-rep
/// solids (one solid, tolerances, every face meshed) is in solid/gate.hpp and ends here.
#include <string>
#include <vector>

#include "plan/expectation.hpp"
#include "plan/mesh.hpp"

namespace culmwright {

/// One check with its figure. `exact`: the value must equal the limit; otherwise it may not exceed it.
struct GateCheck {
  std::string name;
  double value = 0.0;
  double limit = 0.0;
  bool exact = false;
  bool passed() const { return exact ? value == limit : value <= limit; }  // false for NaN
};

struct GateReport {
  std::string part;
  std::vector<GateCheck> checks;

  bool sound() const;
  /// The failed checks in one line with value and limit; empty when sound.
  std::string failures() const;
  void at_most(std::string name, double value, double limit);
  void equals(std::string name, double value, double limit);
};

/// Limits of the gate. Each is the least that correct builds of the sizes at hand keep with room to spare and
/// that a fault the maker could feel (0.1 mm, a missing hole) breaks.
constexpr double gate_distance_room = 0.01;  ///< mm over the chord, between facets and the planned face
constexpr double gate_area_share = 0.01;     ///< of a planned face's area
constexpr double gate_volume_share = 0.005;  ///< of the planned volume

/// Holds a mesh against its plan and appends every check to the report:
///   no open, non-manifold or degenerate edge, no pinched vertex; shells and genus as planned;
///   every planned face is there; every vertex and facet middle within chord + 0.01 of the planned face that
///   its own face fits best; every planned face's area within 1 % where the plan gives it (those that one
///   built face fits alike are weighed together); every bore empty along its axis and its ring inside the
///   material, by winding number; volume within 0.5 %.
/// `chord`: greatest distance between facet and surface of the mesh. Precondition: the mesh names the face of
/// each triangle; otherwise the check of that name fails.
void hold_mesh(const Mesh& mesh, const Expectation& expected, double chord, GateReport& report);

}  // namespace culmwright
