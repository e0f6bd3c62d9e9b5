#pragma once
/// A piece of what lies under a surface parallel to the skin, as a tool that cuts a part to fit the skin.
#include <TopoDS_Shape.hxx>

#include "tube/tube.hpp"

namespace culmwright {

/// The stretch of skin a part covers, seen along its frame's z: `length` along x, `width` along y, about the
/// origin. `nudge` (mm) moves the block's hidden sides and the places where the skin is sampled, not its
/// surface.
struct SkinWindow {
  double length = 0.0;
  double width = 0.0;
  double offset = 0.0;  ///< of the surface, outward from the skin
  double nudge = 0.0;
};

/// The block between that surface and its copy `deep` below it along the frame's −z, at least half a
/// millimetre larger all around than the window; in the frame. The surface is within 0.001 mm of the skin's
/// offset. Throws Standard_Failure: call it guarded.
TopoDS_Shape skin_block(const Tube& tube, const RigidMotion& frame, const SkinWindow& window, double deep);

}  // namespace culmwright
