#pragma once
/// Borders of faces that can be judged without the kernel's analysis: straight in the face's own parameters,
/// or one round edge.
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>
#include <vector>

namespace culmwright {

/// Every edge of the wires has a curve, its vertices on the ends of the curve and of its image on the face,
/// and the same curve in space and on the face, all within their tolerances. Precondition: the wires are of
/// the face, among the proven of sorted_wires.
bool lie_on_face(const std::vector<TopoDS_Wire>& wires, const TopoDS_Face& face);

/// The wires of a face by how they may be judged. Clear is a wire whose pieces, each looked at as its
/// rectangle in the parameters, keep 0.3 mm from the pieces of every other.
struct SortedWires {
  /// Crossing neither others nor themselves: straight in the parameters, and clear of all that are not (for
  /// straight ones among each other the mesher has proven it); or one edge whose poles go once round, and
  /// clear.
  std::vector<TopoDS_Wire> proven;
  std::vector<TopoDS_Wire> alone;     ///< clear of all others, turned so as to bound a face of their own
  std::vector<TopoDS_Wire> together;  ///< the rest, and the outer one
};

/// Precondition: the face is forward.
SortedWires sorted_wires(const TopoDS_Face& face);

}  // namespace culmwright
