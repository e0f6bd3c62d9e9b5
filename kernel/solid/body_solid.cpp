#include "solid/body_solid.hpp"

#include "solid/body_routes.hpp"

namespace culmwright {

Solid body_solid(const BodyPlan& plan, const Tube& tube, GateLog& log) {
  const auto build = [&](double nudge) {
    // Two tries face by face; where that fails, the slower booleans.
    const bool direct = nudge >= 0.0 && nudge < 0.015;
    return direct ? body_directly(plan, tube, nudge) : body_by_booleans(plan, tube, nudge);
  };
  return build_sound(build, expectation_of(plan, tube), log, body_accuracy);
}

}  // namespace culmwright
