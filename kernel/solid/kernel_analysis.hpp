#pragma once
/// Whether other programs built on this kernel will take a solid for valid: the kernel's own analysis
/// (BRepCheck), without its cost where there are letters.
class TopoDS_Shape;

namespace culmwright {

/// The kernel's analysis takes a time that grows with the square of a face's edges, seconds for a sheet with
/// letters. `borders_proven`: the mesher has triangulated every face with exact predicates, which proves that
/// the lines between the nodes of its borders are closed, cross nowhere and run the right way round. Borders
/// that are straight in their face's own parameters are those very lines; single round edges cannot cross
/// themselves by their poles; both kinds keep 0.3 mm from all other borders (proven_borders.hpp). For them
/// that stands in place of the kernel's search for crossings, and what else the kernel looks at is looked at
/// here: vertices on the ends of edges and of their images on the face, edges on the face at the kernel's 23
/// places (ruled faces exactly, by poles), all within the tolerances stated. The kernel itself analyses every
/// other border of every face, those that keep 0.3 mm from all others each by itself, and the shell. Anything
/// else than one shell goes to it whole; so does the solid when `borders_proven` is false.
bool valid_for_kernel(const TopoDS_Shape& solid, bool borders_proven);

}  // namespace culmwright
