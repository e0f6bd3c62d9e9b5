#pragma once
/// A whole file as bytes.
#include <filesystem>
#include <optional>
#include <string>

#include "base/problem.hpp"

namespace culmwright::files {

/// The file's bytes, or what keeps them from being read (missing, a folder, no permission, larger than
/// `largest` bytes). The problem carries no place.
std::optional<std::string> file_bytes(const std::filesystem::path& file, std::size_t largest,
                                      Problem& problem);

}  // namespace culmwright::files
