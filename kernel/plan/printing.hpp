#pragma once
/// How a part lies on the printer's bed.
#include "plan/mesh.hpp"

namespace culmwright {

struct OnBed {
  Mesh mesh;            ///< in the bed's frame: z up, bed at z = 0, corner of the part's box at x = y = 0
  RigidMotion to_part;  ///< carries the bed's frame back to the frame the mesh was given in
};

/// Turns a part by `lie` (its printing position; only the turn matters) and sets it down on the bed.
/// Precondition: the mesh is not empty.
OnBed on_bed(const Mesh& part, const RigidMotion& lie);

}  // namespace culmwright
