#pragma once
/// What a plan promises of the solid that will be built from it: the gate (solid/gate.hpp) holds every solid
/// against it, whatever way it was built.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

struct FaceExpectation {
  std::string name;
  /// Distance of a point from the (untrimmed) face, unsigned, exact near it.
  std::function<double(Vec3)> distance;
  std::optional<double> area;  ///< by quadrature over the plan; none where the plan cannot say
};

/// Along from → to the solid must be empty; a ring of `ring_radius` around it must be inside the material at
/// each of `ring_at` (distances from `from`).
struct BoreExpectation {
  std::string name;
  Vec3 from;
  Vec3 to;
  double ring_radius = 0.0;
  std::vector<double> ring_at;
};

struct Expectation {
  std::string part;
  std::vector<FaceExpectation> faces;  ///< every face of the solid lies on one of these
  std::vector<BoreExpectation> bores;
  int genus = 0;
  int shells = 1;       ///< more than one only where the part encloses a void
  double volume = 0.0;  ///< by quadrature over the plan
};

}  // namespace culmwright
