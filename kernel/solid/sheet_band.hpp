#pragma once
/// The part of a sheet on one side of a plane that runs along the tube, from end to end of the sheet: its two
/// edges in the plane and its two edges across. For direct construction.
#include "solid/flat_faces.hpp"
#include "solid/sheet.hpp"

namespace culmwright {

/// Side 0 lies toward lesser θ, end 0 toward end A.
struct SheetBand {
  TopoDS_Edge along[2];   ///< toward end B, in the plane
  TopoDS_Edge across[2];  ///< toward growing θ
  int corner[2][2] = {};  ///< [side][end], of `flat`
};

/// The band between the places where the sheet meets the plane, found from `half` (radians) on either side of
/// the sheet's middle; adds its face.
SheetBand add_band(DirectBuilder& make, FlatFaces& flat, const Sheet& sheet, const Span& at, Vec3 point,
                   Vec3 normal, double half, FaceSide side);

/// The same path the other way round.
WirePath turned_round(const WirePath& path);

}  // namespace culmwright
