#pragma once
/// Depth sleeves of a job: for the terminal, and on their way to files.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "plan/depth_sleeve.hpp"

namespace culmwright::command {

/// For every hole that the guides drill, with the survey's own uncertainty of the wall.
DepthSleeves sleeves_of(const Job& job, const Shop& shop, const std::vector<GuidePlan>& plans);

/// A table for 80 columns, then what was left out. Ends with a line end; empty where there is neither.
std::string sleeves_text(const DepthSleeves& sleeves);

/// Under "sleeves/". The tasks hold what they need; `job` must outlive them.
std::vector<PartTask> sleeve_tasks(const Job& job, const DepthSleeves& sleeves);

}  // namespace culmwright::command
