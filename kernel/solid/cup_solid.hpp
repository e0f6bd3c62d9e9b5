#pragma once
/// Key cups as solids.
#include "plan/cup_plan.hpp"
#include "solid/seated_solid.hpp"

namespace culmwright {

/// A cup is small and its spigot must not come out undersize by the chord of its mesh.
constexpr MeshAccuracy cup_accuracy = seated_accuracy;

/// One build, not yet judged.
Solid build_cup(const CupPlan& plan, const Tube& tube, double nudge);

/// The solid of a cup in the cup's own frame (CupPlan::to_tube carries it to the tube), through the gate;
/// every build is entered in the log. Throws GeometryError when no build was sound.
Solid cup_solid(const CupPlan& plan, const Tube& tube, GateLog& log);

}  // namespace culmwright
