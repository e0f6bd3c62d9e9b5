#pragma once
/// From one piece to another, and from one player to another.
#include <string>
#include <variant>
#include <vector>

#include "fit/propose.hpp"

namespace culmwright {

/// How far a key or part had to leave its place in the hand, and why.
struct Displacement {
  std::string id;
  double along = 0.0;     ///< toward the foot
  double around = 0.0;    ///< to the player's left
  std::string forced_by;  ///< a sentence
};

struct Transferred {
  Proposal proposal;                ///< the best; its numbers are Origin::transferred
  std::vector<Displacement> moved;  ///< those displaced by 0.05 mm or more, in the order of the key layout
};

/// The key layout as a placement has it: every key's and part's offset from its hand's mark, in millimetres
/// of skin, is where it stands there; the marks are the placement's. Throws as `assemble` does.
KeyLayout layout_as_placed(const Tube& tube, const KeyLayout& layout, const Placement& placement);

/// The instrument of `placement` on another piece: skin distances within each hand kept, then settled as a
/// proposal (fit/propose.hpp) with least movement. The other terms of the score count a hundredth, to decide
/// between what moves alike. Comfort is not judged, but where the hand's size is known every key must be in
/// reach. Throws InputError when the placement does not belong to its tube and key layout.
std::variant<Transferred, Refusal> transfer(const Tube& from, const KeyLayout& layout,
                                            const Placement& placement, const TubeFit& to,
                                            const ProposeOptions& options = {});
std::variant<Transferred, Refusal> transfer(const Tube& from, const KeyLayout& layout,
                                            const Placement& placement, const Tube& to,
                                            const PieceFacts& facts, const ProposeOptions& options = {});

/// For a player who holds the other hand uppermost: hands exchanged, everything around mirrored. Ids that
/// begin with their hand's letter, L or R, change it, if all of them do. Mirrored twice is as before.
KeyLayout mirrored(const KeyLayout& layout);

}  // namespace culmwright
