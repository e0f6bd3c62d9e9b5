#pragma once
/// A drill guide on its way to its files and its record, and what a terminal says of it.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "plan/drilling_depth.hpp"
#include "plan/guide_plan.hpp"

namespace culmwright::command {

/// "culm-07 rev 2 guide 1".
std::string label_of(const Job& job, const std::string& part);

/// What sets a guide, in words.
std::string set_by(const GuidePlan& plan);

/// How deep to drill one of a guide's holes, with the survey's own uncertainty of the wall.
DrillingDepth depth_of(const Job& job, const GuideHole& hole);

/// What the maker should know of a guide: the plan's notes, then those about depths and printing.
std::vector<std::string> notes_of(const GuidePlan& plan, const Job& job, const Shop& shop);

/// Builds the guide through the gate, lays it in the best printing position, and fills in files and record.
void make_guide(const GuidePlan& plan, const Job& job, const Shop& shop, MadePart& part);

}  // namespace culmwright::command
