#pragma once
/// How a part lies on the printer's bed.
#include <string>
#include <vector>

#include "layout/shop.hpp"
#include "plan/mesh.hpp"

namespace culmwright {

struct OnBed {
  Mesh mesh;            ///< in the bed's frame: z up, bed at z = 0, corner of the part's box at x = y = 0
  RigidMotion to_part;  ///< carries the bed's frame back to the frame the mesh was given in
};

/// Turns a part by `lie` (its printing position; only the turn matters) and sets it down on the bed.
/// Precondition: the mesh is not empty.
OnBed on_bed(const Mesh& part, const RigidMotion& lie);

/// A way for a part to lie, before it is judged.
struct PrintingPosition {
  std::string name;
  RigidMotion lie;
};

/// One way for a part to lie, and what speaks for and against it.
struct PrintingChoice {
  std::string name;
  RigidMotion lie;
  Vec3 size;                   ///< of its box on the bed
  bool fits = false;           ///< on the bed with 5 left free, and under the printer's height
  double overhang_area = 0.0;  ///< mm² of faces that lean out more than 45° and do not stand on the bed
  int sagging_bores = 0;       ///< bores more than 45° from upright: they print flattened at the top
  std::string reason;          ///< all of it in a sentence
};

/// The positions judged, the best first: those that fit; then the fewest bores that sag, for a drill follows
/// them; then the least overhang, which only costs support. Overhang beyond 45°: common practice.
/// Precondition: the mesh is not empty, its facets outward.
std::vector<PrintingChoice> judged_positions(const Mesh& part, const std::vector<Vec3>& bore_axes,
                                             const std::vector<PrintingPosition>& positions,
                                             const Printer& printer);

}  // namespace culmwright
