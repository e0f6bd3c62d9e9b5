#include <cmath>

#include "fit/rule_checks.hpp"
#include "tube/check_girth.hpp"

namespace culmwright {

std::vector<Finding> tube_moved(const LaidOut& laid) {
  Tally tally("tube-moved");
  if (laid.fit == nullptr) return {};
  for (const GirthMovement& movement : girth_movements(*laid.fit)) {
    if (movement.on_node) continue;
    Finding finding = tally.at_most(std::abs(movement.share()), greatest_movement);
    finding.place = {movement.at, 0.0};
    finding.sentence = movement_sentence(movement);
    tally.add(finding);
  }
  return std::move(tally).take();
}

}  // namespace culmwright
