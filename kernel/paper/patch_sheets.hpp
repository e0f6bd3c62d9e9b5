#pragma once
/// Mock-up patches as flat outlines at true size, for cutting foam: every touch, slider and thumb rest.
///
/// Each outline is the patch of skin itself, developed (paper/development.hpp): the face of the foam that
/// sticks to the skin is true, and keeps its size when the foam is bent. The face above it spreads around by
/// thickness × (angle between the normals at its two edges), which the sheet states.
/// Seen from outside with the mouth end up, nothing mirrored.
#include <vector>

#include "drawing/drawing.hpp"
#include "drawing/plane.hpp"
#include "layout/mock_up.hpp"
#include "layout/shop.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// One patch laid flat: its middle at the origin, the mouth end up the page (−y), x as the onlooker sees it.
struct FlatPatch {
  MockUpPatch patch;
  Polyline outline;     ///< closed: the last point joins the first
  double spread = 0.0;  ///< of the upper face around, over the lower one
  double error = 0.0;   ///< greatest departure of the skin from what was laid flat (Development)
  bool on_ridge = false;
};

/// Precondition: the patch's middle lies on the tube. `thickness` of the foam.
FlatPatch flat_patch(const Tube& tube, const MockUpPatch& patch, End mouth_end, double thickness);

/// The sheets, by the shop's paper and foam; none where the instrument has no patch. Throws InputError naming
/// the patch that is larger than the paper.
Drawing patch_sheets(const Tube& tube, const Instrument& instrument, const Shop& shop);

}  // namespace culmwright
