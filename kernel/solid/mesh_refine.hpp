#pragma once
/// The general mesher leaves a few facets of a large bent face far from its surface (on a skin with ridges 30
/// of 35,000 by up to 0.7 mm, whatever its settings), and steps over a ridge where a long edge crosses it.
/// This mends both.
#include <TopoDS_Shape.hxx>

namespace culmwright {

/// Divides the polygons of a meshed shape's edges until they are within `chord` of their curves, then facets
/// inside its faces until the middle of every inner edge and of every facet is within `chord` of the surface
/// (measured to the point of the middle's parameters), in at most eight rounds. Each edge is divided once for
/// all its faces, so that faces still meet. The shape's own triangulations are changed in place: give it a
/// copy that no other thread reads.
void refine_facets(const TopoDS_Shape& shape, double chord);

}  // namespace culmwright
