#pragma once
/// Which keys lie under a hand, and which hand is the upper one: shared by rules and proposals.
#include "layout/key_layout.hpp"

namespace culmwright {

/// Played by a finger of the hand that lies on the front: neither thumb nor the side of the hand.
bool is_under_hand(const Key& key);

/// Which hand the key layout has nearer to the mouth, by the middle of its keys.
Hand upper_hand(const KeyLayout& layout);

}  // namespace culmwright
