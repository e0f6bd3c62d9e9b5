#pragma once
/// As-drilled: the holes of one instrument as they came out, measured after the drill. Facts, not wishes:
/// what is listed here stays where it is, and cups, depths and the rest of the placement follow it. It may be
/// half-way: pilots first, finished holes later.
#include <optional>
#include <string>
#include <vector>

#include "base/problem.hpp"
#include "layout/key_layout.hpp"
#include "layout/placement.hpp"
#include "tube/survey.hpp"

namespace culmwright {

enum class DrilledState {
  pilot,     ///< the pilot went through; the hole is still to be opened
  finished,  ///< opened to its size
  extra      ///< a hole where none was wanted: it belongs to no key, and everything keeps clear of it
};

/// One hole. Lengths in millimetres.
struct DrilledHole {
  std::string id;  ///< the key's, or an opening's; of an extra hole a name of its own
  DrilledState state = DrilledState::finished;
  /// Diameter at the skin, measured along the tube; of an opening its length. 0: not measured, which is
  /// allowed of a pilot alone; where the facts have been applied (fit/drilled_facts.hpp) it is the pilot
  /// drill's.
  double across_along = 0.0;
  double across_around = 0.0;  ///< measured around it; of an opening its width
  std::optional<double> at;    ///< its middle on the skin, tube coordinates; none: where the placement has it
  std::optional<double> around;
  std::optional<double> wall;  ///< by hook gauge through the hole, along its axis
  double chip_out = 0.0;       ///< skin broken away beyond the rim, greatest width
  std::string note;

  double greatest_across() const { return across_along > across_around ? across_along : across_around; }
  double least_across() const { return across_along < across_around ? across_along : across_around; }
};

struct AsDrilled {
  std::string id;
  std::string tube_id;
  std::string placement_id;
  int revision = 1;  ///< of the placement that was drilled
  std::string date;
  std::string note;
  double caliper_error = 0.05;     ///< one standard deviation, of a diameter
  double place_error = 0.3;        ///< of a measured place, along and around
  double hook_gauge_error = 0.15;  ///< of a wall reading
  std::vector<DrilledHole> holes;
};

/// What cannot be true of it by itself: an id twice, a finished hole without a size, an extra hole without a
/// place, a pilot wider than any. Pointers are those of the JSON document. A number that is NaN raises none.
Problems check_as_drilled(const AsDrilled& as_drilled);

/// It beside the documents that it belongs to: another tube or placement, a revision that is not there yet,
/// an id that is no key or opening of the key layout, an extra hole that bears a key's name, a place beyond
/// the cuts or round the tube more than once. Precondition: each passed its own check.
Problems check_as_drilled_on(const AsDrilled& as_drilled, const Placement& placement, const Survey& survey,
                             const KeyLayout& layout);

/// There is one as-drilled document for each placement; `other` is the file that came first.
Problem twice_drilled(const AsDrilled& again, const std::string& other);

}  // namespace culmwright
