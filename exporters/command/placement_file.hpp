#pragma once
/// The one placement that a command is about, and how it is written when the command has changed it.
#include <string>
#include <vector>

#include "command/gather.hpp"

namespace culmwright::command {

/// Throws InputError unless there is exactly one.
const Job& only_job(const std::vector<Job>& jobs);

/// In place of the file that it was read from, or into the folder `out` where one is named, as "ID.json".
/// Returns the file's name. A file is written beside and renamed: it is whole or not touched.
std::string write_changed(const Loaded<Placement>& read, const Placement& changed, const std::string& out);

}  // namespace culmwright::command
