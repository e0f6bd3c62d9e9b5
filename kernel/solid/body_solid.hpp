#pragma once
/// The tube's body as a solid.
#include "plan/body_plan.hpp"
#include "solid/gate.hpp"

namespace culmwright {

/// For pictures and for the gate; nothing is printed from it.
constexpr MeshAccuracy body_accuracy{0.05, 0.35, 0.05, 0.35};

/// The solid of a tube body in the tube's frame, through the gate; every build is entered in the log. Skin
/// and bore are bicubic patches within 0.001 mm of the tube's own shape. Throws GeometryError when no build
/// was sound.
Solid body_solid(const BodyPlan& plan, const Tube& tube, GateLog& log);

}  // namespace culmwright
