#pragma once
/// What each hand has to do on an instrument as placed (hand/hand_task.hpp).
#include <optional>

#include "hand/hand_task.hpp"
#include "layout/instrument.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// None where that hand has no key. The keys of a hand, in the order of the key layout, and the thumb rest
/// for the hand whose mark it is counted from, unless it is counted from an end. `playing_angle`: of the tube
/// below the horizontal (KeyLayout); the forearms come from there. Units mm, tube coordinates.
std::optional<HandTask> hand_task(const Tube& tube, const Instrument& instrument, Hand hand,
                                  Angle playing_angle);

}  // namespace culmwright
