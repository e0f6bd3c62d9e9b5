#pragma once
/// Everything that is printed for an instrument, and its tube.
#include <functional>
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"

namespace culmwright::command {

/// Body, guides, sleeves, cups and collars (parts.hpp), then what the bench needs beside them
/// (bench_parts.hpp). A part that fails says so in `refused`; `left_out` names what was not tried, and why.
std::vector<MadePart> job_parts(const Job& job, const Shop& shop,
                                const std::function<void(const std::string&)>& say,
                                std::vector<std::string>& left_out);

}  // namespace culmwright::command
