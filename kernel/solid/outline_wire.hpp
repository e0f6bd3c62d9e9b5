#pragma once
/// The outlines of plans as wires.
#include <TopoDS_Wire.hxx>

#include "plan/outline.hpp"

namespace culmwright {

/// The outline in the plane at that z, counter-clockwise seen from +z, of lines and circular arcs; sides of
/// no length are left out. Throws Standard_Failure: call it guarded.
TopoDS_Wire outline_wire(const RoundedRectangle& outline, double z);

}  // namespace culmwright
