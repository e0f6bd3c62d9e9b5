#pragma once
/// The fit gauge as a solid, built face by face.
#include "plan/fit_gauge.hpp"
#include "solid/gate.hpp"

namespace culmwright {

/// Holes and pegs are what is measured: their polygons stay within 0.006 of the circle, on the diameter.
constexpr MeshAccuracy gauge_accuracy{0.05, 0.35, 0.003, 0.08};

/// As it is printed; through the gate, every build entered in the log. Throws GeometryError when none was
/// sound.
Solid fit_gauge_solid(const FitGauge& gauge, GateLog& log);

}  // namespace culmwright
