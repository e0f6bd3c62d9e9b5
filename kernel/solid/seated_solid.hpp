#pragma once
/// Seated parts as solids, built face by face from their plan: rims solved on the skin's patch itself, walls
/// as planes and cylinders, no boolean.
#include "plan/seated_part.hpp"
#include "solid/gate.hpp"

namespace culmwright {

/// Small parts; a spigot must not come out undersize by the chord of its mesh.
constexpr MeshAccuracy seated_accuracy{0.01, 0.12};

/// One build, not yet judged; `nudge` (mm) moves where patches are sampled and nothing else. In the part's
/// own frame (SeatedPart::to_tube carries it to the tube). Throws GeometryError.
Solid build_seated(const SeatedPart& plan, const Tube& tube, double nudge);

/// Through the gate; every build is entered in the log. Throws GeometryError when none was sound.
Solid seated_solid(const SeatedPart& plan, const Tube& tube, GateLog& log,
                   const MeshAccuracy& accuracy = seated_accuracy);

}  // namespace culmwright
