#pragma once
/// Hand sizes where none was measured: quantiles of an open set of measured hands.
///
/// Source: 2012 Anthropometric Survey of U.S. Army Personnel (ANSUR II), NATICK/TR-15/007, approved for
/// public release: hand length and breadth of 1986 women and 4082 men, soldiers, not the public at large. The
/// tables in hand_sizes.cpp are calculated from tests/data/ansur2_hands.csv, and a test holds them against
/// it.
#include "layout/key_layout.hpp"

namespace culmwright {

/// Percentile from 1 to 99 (clamped), in millimetres; straight between the tabulated ones. Length and breadth
/// are each that percentile of their own: a hand long for the set is taken to be as broad for it.
HandSize hand_at_percentile(HandSet set, double percentile);

/// The size in millimetres, whichever way it was said: a percentile is looked up, a breadth that was left out
/// is 0.445 of the length, the mean share in the set.
HandSize in_millimetres(const PlayerHand& hand);

}  // namespace culmwright
