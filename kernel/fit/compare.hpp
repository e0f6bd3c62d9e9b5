#pragma once
/// Two revisions of a placement, or two placements on one tube: what moved, and what that did to the rules.
#include <optional>
#include <string>
#include <vector>

#include "fit/rules.hpp"
#include "layout/placement.hpp"

namespace culmwright {

/// The placement as it stood at that revision, every number with its history, rebuilt from what the later
/// revisions remember (fit/shift.hpp); its list of revisions ends there. Throws InputError for a revision
/// that it has not, or when a later one does not say what stood before.
Placement as_of(const Placement& placement, int revision);

/// From where it was to where it is, along the skin, in the later one's frame.
struct Moved {
  std::string id;
  bool is_key = true;
  SkinPlace was;
  SkinPlace now;
  double along = 0.0;   ///< toward the foot
  double around = 0.0;  ///< to the player's left
};

/// The tightest finding of one rule in both; none where the rule has nothing to look at.
struct RuleChange {
  std::string rule;
  std::optional<Finding> was;
  std::optional<Finding> now;
};

struct Compared {
  std::vector<Moved> moved;         ///< keys, then parts, in the order of the later key layout
  std::vector<std::string> gone;    ///< keys and parts of the earlier one only
  std::vector<std::string> added;   ///< of the later one only
  bool turned_end_for_end = false;  ///< another mouth end; then the cuts below are the ends they are now
  double mouth_cut = 0.0;           ///< moved toward the foot
  double foot_cut = 0.0;            ///< moved toward the foot
  Angle facing;                     ///< turned to the player's left, within ± 180°
  std::vector<RuleChange> rules;    ///< of which margin, place or verdict changed
  bool nothing() const {
    return moved.empty() && gone.empty() && added.empty() && !turned_end_for_end && mouth_cut == 0.0 &&
           foot_cut == 0.0 && facing.radians() == 0.0;
  }
};

/// What is nearer than this stands where it stood; a margin that changed by less has not changed. A tenth of
/// what a maker marks out (0.1 mm).
constexpr double least_move = 0.01;

/// Precondition: both were assembled on `tube`, and the findings are theirs.
Compared compare(const Tube& tube, const Instrument& was, const std::vector<Finding>& findings_was,
                 const Instrument& now, const std::vector<Finding>& findings_now);

/// "2.0 toward foot, 1.0 to player's left"; "stays" for less than least_move.
std::string move_words(double along, double around);

}  // namespace culmwright
