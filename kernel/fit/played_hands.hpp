#pragma once
/// The player's hands on an instrument, where the key layout says how large they are (KeyLayout::hand_size).
#include <vector>

#include "hand/comfort.hpp"
#include "hand/hand_on_tube.hpp"
#include "layout/instrument.hpp"

namespace culmwright {

/// One hand with what it has to do.
struct PlayedHand {
  HandModel model;
  HandTask task;
};

/// Left, then right; a hand without keys is left out, and both are where no size is known.
std::vector<PlayedHand> played_hands(const Tube& tube, const KeyLayout& layout, const Instrument& instrument);

/// "the left hand's little finger".
std::string words_of(Hand hand, Finger finger);

}  // namespace culmwright
