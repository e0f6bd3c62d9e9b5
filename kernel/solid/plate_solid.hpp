#pragma once
/// Survey plates as solids.
#include "plan/plate_plan.hpp"
#include "solid/gate.hpp"

namespace culmwright {

constexpr MeshAccuracy plate_accuracy{0.02, 0.12};

/// The solid of a survey plate in its printing position, through the gate; every build is entered in the log.
/// Throws GeometryError when no build was sound.
Solid plate_solid(const PlatePlan& plan, GateLog& log);

}  // namespace culmwright
