#pragma once
/// What the command cups says at a terminal of cups, fitted parts and their clearances.
#include <optional>
#include <string>
#include <vector>

#include "layout/shop.hpp"
#include "plan/cup_plan.hpp"
#include "plan/fitted_plan.hpp"
#include "plan/interference.hpp"

namespace culmwright::command {

/// One part as planned; one that is refused has the reason instead.
template <class Plan>
struct Planned {
  std::string id;
  std::optional<Plan> plan;
  std::string refused;
};

/// A table, then refusals and notes; a note that stands for several keys is said once. Empty where there are
/// none.
std::string cups_text(const std::vector<Planned<CupPlan>>& cups);
std::string fitted_text(const std::vector<Planned<FittedPlan>>& parts);

/// Failures, then the nearest that keep their distance.
std::string clearances_text(const std::vector<Clearance>& found);

}  // namespace culmwright::command
