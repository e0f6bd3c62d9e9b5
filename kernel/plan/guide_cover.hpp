#pragma once
/// Which holes go into which guide.
#include <functional>
#include <optional>
#include <vector>

#include "plan/offset_field.hpp"

namespace culmwright {

/// A hole as the covering sees it. Angles in radians.
struct HoleToCover {
  double theta = 0.0;      ///< direction of its axis
  double reach = 0.0;      ///< how far the middle of a guide that drills it may lie from there, > 0
  double peg_reach = 0.0;  ///< the same for a guide that only pegs into it
  double at = 0.0;
};

struct HoleGroup {
  double middle = 0.0;     ///< direction of the guide's middle
  std::vector<int> holes;  ///< indices, in order of `at`
};

/// What a guide for a group would be, as its layout says.
struct GuideMeasure {
  bool feasible = false;
  double length = 0.0;
  bool stop_on_line = false;    ///< a stop touches an end on the reference line
  bool stop_on_middle = false;  ///< a stop touches an end elsewhere
  int straps_missing = 0;       ///< of its two, those without a groove
  std::optional<Span> at{};     ///< its ends; without them nothing is known of joints
};

struct CoverTask {
  std::vector<HoleToCover> holes;
  std::vector<std::vector<bool>> apart;  ///< pairs too near for two bosses of one guide
  double longest = 0.0;                  ///< from the first to the last hole that a guide drills
  double longest_pegged = 0.0;           ///< the same with the holes that it pegs into
  double ends = 0.0;                     ///< a guide is at least so much longer than that
  double longest_guide = 1e300;          ///< that the bed takes
  std::function<GuideMeasure(const HoleGroup&)> measure;
};

/// How well a set of guides is set and held, as points: nothing for a guide with a stop on the reference line
/// or with two pegs in holes of guides that are set themselves, 1 for one such peg or a joint with such a
/// guide, 2 for a stop elsewhere on an end, 10 for sighting windows alone; and 1 for every strap without a
/// groove.
struct Cover {
  std::vector<HoleGroup> guides;
  int points = 0;
  double length = 0.0;  ///< of all guides together
  bool proven = true;   ///< false: the search was cut short, and this is the best of what it saw
  int at_least = 0;     ///< no set has fewer guides; proven in any case
};

/// As few guides as windows of normal angle, length and webs allow, or one more where fewer are then set by
/// windows alone; of these the set with the fewest points; of these the shortest. Exact up to a bound on the
/// work, which is a fixed number of tries and not of seconds (about 20 holes and more where angles or lengths
/// divide them); beyond it a set is built up along the tube, the most promising kept (guide_companions.hpp),
/// and bettered as far as the bound allows. Deterministic. Precondition: a guide
/// for each hole alone is feasible.
Cover cover_holes(const CoverTask& task);

/// The directions from which a guide may drill all of `drilled` and peg into all of `pegs`, unwrapped near
/// the first of them; nothing where there are none, or where the guide would be too long.
std::optional<Span> common_middles(const CoverTask& task, const std::vector<int>& drilled,
                                   const std::vector<int>& pegs);

/// What a guide for `group` can peg into, of holes drilled before: pairs first, those farthest apart along
/// before others, none nearer than guide_sizes::least_pegs_apart; then single ones, the nearest in angle
/// first.
std::vector<std::vector<int>> peg_choices(const CoverTask& task, const HoleGroup& group,
                                          const std::vector<int>& drilled_before);

/// The points of a set of guides with these measures.
int points_of(const CoverTask& task, const std::vector<HoleGroup>& guides,
              const std::vector<GuideMeasure>& measures);

}  // namespace culmwright
