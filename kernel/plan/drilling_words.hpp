#pragma once
/// What the drilling schedule says at each of its stages. For kernel/plan.
#include <string>
#include <vector>

#include "plan/drilling_schedule.hpp"

namespace culmwright::schedule_words {

/// The cautions that belong to a stage, the most pressing first.
std::vector<std::string> cautions(Stage stage);

/// What sets a guide on the tube, as an order to the maker.
std::vector<std::string> setting(const GuidePlan& guide);

/// What to do, for the stages whose words do not depend on the instrument.
std::vector<std::string> how(Stage stage);

}  // namespace culmwright::schedule_words
