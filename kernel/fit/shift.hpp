#pragma once
/// Moves in words, after holding a mock-up: "R2 2 toward foot, 1 to player's left; right hand 3 toward
/// mouth".
///
///     orders     ORDER { ; ORDER }
///     ORDER      SUBJECT MOVE { , MOVE }          SUBJECT   a key's or part's id, "left hand", "right hand"
///     MOVE       NUMBER [mm] DIRECTION            NUMBER    greater than 0, at most 500, no sign
///     DIRECTION  toward foot | toward mouth | to player's left | to player's right   ("the" may stand before
///                the last words)
///
/// A hand moves with all its keys, the parts counted from it, and its mark. What is locked or drilled never
/// moves. Every change is a new revision, which remembers what stood before.
#include <string>
#include <vector>

#include "layout/placement.hpp"
#include "tube/tube.hpp"

namespace culmwright {

struct ShiftOrder {
  enum class What { key, part, hand };
  What what = What::key;
  std::string id;  ///< of a key or part
  Hand hand = Hand::left;
  double along = 0.0;   ///< toward the foot
  double around = 0.0;  ///< to the player's left
};

constexpr double farthest_shift = 500.0;

/// Throws InputError with every problem of the words.
std::vector<ShiftOrder> parse_shift(const std::string& words, const KeyLayout& layout);

/// "R2 2 mm toward foot, 1 mm to player's left", as it can be parsed again.
std::string words_of(const ShiftOrder& order);

struct Shifted {
  Placement placement;
  std::vector<std::string> stayed;  ///< sentences: what of a hand is locked or drilled
};

/// Throws InputError when nothing may move, an order names a key twice, or something would stand off the tube
/// (fit/assemble.hpp). Only the numbers that change get a new origin and revision.
Shifted shift(const Tube& tube, const KeyLayout& layout, const Placement& placement,
              const std::vector<ShiftOrder>& orders, const std::string& date);

/// A new revision with the numbers that stood before the last one that is not undone yet. What is locked or
/// drilled stays. Throws InputError when there is nothing to undo.
Placement undone(const Placement& placement, const std::string& date);

/// One line for each revision, oldest first.
std::vector<std::string> history(const Placement& placement);

/// Fills in what a change from `before` to `after` needs for undoing, into the last revision of `after`.
void remember(const Placement& before, Placement& after);

}  // namespace culmwright
