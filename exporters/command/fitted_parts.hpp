#pragma once
/// Thumb rests, slider shoes and strap rings on their way to their files and their record.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "plan/fitted_plan.hpp"

namespace culmwright::command {

/// Throws GeometryError.
FittedPlan fitted_of(const PlacedPart& part, const Job& job, const Shop& shop);

/// All that the record says of a plan.
JsonValue fitted_json(const FittedPlan& plan);

/// A task for each part that is printed, planned when it is made: "fitted/rest".
std::vector<PartTask> fitted_tasks(const Job& job, const Shop& shop,
                                   const std::vector<std::string>& only = {});

}  // namespace culmwright::command
