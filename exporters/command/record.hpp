#pragma once
/// The record of one tube's make: every hole, part, rule, retry and file digest.
#include <map>
#include <string>

#include "command/gather.hpp"
#include "command/parts.hpp"

namespace culmwright::command {

/// `digests`: SHA-256 of every file written, by name. Templates' names are taken from it.
JsonValue record_json(const Job& job, const std::vector<MadePart>& parts,
                      const std::map<std::string, std::string>& digests);

}  // namespace culmwright::command
