#pragma once
/// Which rows of holes the tube is bound on both sides of before they are drilled. For kernel/plan.
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// Holes with slim webs between them along the grain, or one near an end.
struct BoundRow {
  std::vector<std::string> ids;  ///< in order along the tube
  double first = 0.0;            ///< `at` of the middles of the two bindings, clear of every hole
  double last = 0.0;
  std::vector<std::string> why;
};

/// By the thresholds of drilling_practice; none where nothing asks for it. In order along the tube.
std::vector<BoundRow> rows_to_bind(const Tube& tube, const Instrument& instrument);

}  // namespace culmwright
