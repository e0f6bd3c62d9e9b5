#include "solid/cup_solid.hpp"

namespace culmwright {

Solid build_cup(const CupPlan& plan, const Tube& tube, double nudge) {
  return build_seated(cup_part(plan), tube, nudge);
}

Solid cup_solid(const CupPlan& plan, const Tube& tube, GateLog& log) {
  return seated_solid(cup_part(plan), tube, log, cup_accuracy);
}

}  // namespace culmwright
