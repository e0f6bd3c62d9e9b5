#pragma once
/// A key cup on its way to its files and its record, and what a terminal says of it.
#include <optional>
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "plan/cup_plan.hpp"

namespace culmwright::command {

/// The cup of a key, with the errors that the job's holes were measured with. Throws GeometryError.
CupPlan cup_of(const PlacedKey& key, const Job& job, const Shop& shop);

/// "down", or "up, 340 mm³": how it lies on the printer and what has to be held up.
std::string support_words(const CupPlan& plan);

/// All that the record says of a plan.
JsonValue cup_json(const CupPlan& plan);

/// Builds the cup through the gate and fills in files and record.
void make_cup(const CupPlan& plan, const Job& job, MadePart& part);

/// A task for each key's cup, planned when it is made: "cups/L3".
std::vector<PartTask> cup_tasks(const Job& job, const Shop& shop, const std::vector<std::string>& only = {});

}  // namespace culmwright::command
