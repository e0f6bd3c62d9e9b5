#pragma once
/// Engraving of plans that stands in planes. For direct construction.
#include "plan/cradle_plan.hpp"
#include "solid/flat_faces.hpp"

namespace culmwright {

/// Cuts those of the texts that stand in that plane, looking the same way, and returns the loops to be left
/// out of its face.
std::vector<WirePath> texts_in(FlatFaces& flat, const std::vector<PlaneText>& texts, Vec3 point, Vec3 normal,
                               double depth);

}  // namespace culmwright
