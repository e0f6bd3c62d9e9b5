#pragma once
/// As-drilled: the holes of one instrument as they came out, measured after the drill. Facts, not wishes: what
/// is listed here stays where it is, and cups, depths and the rest of the placement follow it. It may be
/// half-way: pilots first, finished holes later.
#include <optional>
#include <string>
#include <vector>

namespace culmwright {

enum class DrilledState {
  pilot,    ///< the pilot went through; the hole is still to be opened
  finished  ///< opened to its size
};

/// One hole. Lengths in millimetres.
struct DrilledHole {
  std::string id;  ///< the key's, or an opening's
  DrilledState state = DrilledState::finished;
  double across_along = 0.0;   ///< diameter at the skin, measured along the tube
  double across_around = 0.0;  ///< measured around it
  std::optional<double> at;    ///< its middle on the skin, tube coordinates; none: where the placement has it
  std::optional<double> around;
  std::optional<double> wall;  ///< by hook gauge through the hole, along its axis
  double chip_out = 0.0;       ///< skin broken away beyond the rim, greatest width
  std::string note;
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

}  // namespace culmwright
