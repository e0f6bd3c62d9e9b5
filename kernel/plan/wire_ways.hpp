#pragma once
/// Where wires come from and where they may go: parts of plan_wires (wire_list.hpp). For kernel/plan.
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"

namespace culmwright {

/// What has wires, and where.
struct WireSource {
  std::string id;
  int wires = 0;
  std::optional<std::string> wanted;
  double at = 0.0;
  Angle theta;
  double wall = 0.0;
  double own_way = 0.0;  ///< diameter of the way through the cup; 0: not known
};

struct WireExit {
  std::string id;
  double from_at = 0.0;
  double to_at = 0.0;
  std::optional<Angle> theta;  ///< none of an open end
  double wall = 0.0;
  double across = 1e300;  ///< the smaller side of an opening

  double nearest(double at) const { return std::clamp(at, from_at, to_at); }
};

/// Keys, then sliders, in the instrument's order.
std::vector<WireSource> wire_sources(const Tube& tube, const Instrument& instrument, const Shop& shop);
/// Openings in the instrument's order, then the two ends.
std::vector<WireExit> wire_exits(const Tube& tube, const Instrument& instrument);

/// The least width of the bore there, and the least between two places, looked at every 5; nodes not
/// considered.
double bore_across(const Tube& tube, double at);
double narrowest_bore(const Tube& tube, double from, double to);

}  // namespace culmwright
