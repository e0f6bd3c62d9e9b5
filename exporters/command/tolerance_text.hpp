#pragma once
/// How true the holes will come out of their guides, for people and for programs.
#include <string>

#include "command/gather.hpp"
#include "files/json_writer.hpp"
#include "plan/hole_tolerance.hpp"

namespace culmwright::command {

/// The tolerance of every hole that the job's guides drill, or why there is none.
struct JobTolerance {
  ToleranceReport report;
  std::string refused;  ///< what planning or seating the guides says; empty where there is a report
};
JobTolerance tolerance_of(const Job& job, const Shop& shop);

/// A table beside what fingers accept, and what would help. Ends with a line end.
std::string tolerance_text(const JobTolerance& tolerance);
JsonValue tolerance_json(const JobTolerance& tolerance);

}  // namespace culmwright::command
