#pragma once
/// What `as-drilled` says of the holes as they came out, for people and for programs.
#include <optional>
#include <string>

#include "command/gather.hpp"
#include "files/json_writer.hpp"
#include "plan/drilling_schedule.hpp"

namespace culmwright::command {

/// What is still to be done at the bench, or why it cannot be planned.
struct WhatIsNext {
  std::optional<DrillingSchedule> schedule;
  std::string refused;  ///< what planning the guides of the rest says; empty where there is a schedule
};
WhatIsNext what_is_next(const Job& job, const Shop& shop);

/// Every hole as wanted and as measured, what follows, what is to be done next. Precondition: the job has an
/// as-drilled document.
std::string as_drilled_text(const Job& job, const WhatIsNext& next);
JsonValue as_drilled_json(const Job& job, const WhatIsNext& next);

}  // namespace culmwright::command
