#pragma once
/// Second moments of area of the tube's cross-section, whole and as cut: what is left against bending.
///
///     whole   by Green's theorem round skin and bore: ∫∫ x² dA = ⅓ ∮ x³ dy, and the like (1e-9, relative)
///     hole    strips parallel to its axis, from bore to skin (1e-6)
///     opening along the normals of the skin (1e-4: its outline is a polygon)
///
/// A round tube has I = π/64 [D⁴ − (D − 2t)⁴]. About the centroid of what is left. Ridges and diaphragms are
/// left out. Cuts that overlap in one section are counted twice; the webs forbid them.
#include <vector>

#include "fit/rule_checks.hpp"

namespace culmwright {

/// mm⁴. Front to back: bending in the plane of the key line; sideways: across it.
struct Stiffness {
  double front_to_back = 0.0;
  double sideways = 0.0;
};

struct SectionLeft {
  double at = 0.0;
  Stiffness whole;
  Stiffness left;
  std::vector<std::string> ids;  ///< holes and openings that this section cuts through
  double front_to_back() const { return left.front_to_back / whole.front_to_back; }
  double sideways() const { return left.sideways / whole.sideways; }
  double least() const { return front_to_back() < sideways() ? front_to_back() : sideways(); }
};

SectionLeft section_left(const LaidOut& laid, double at);

}  // namespace culmwright
