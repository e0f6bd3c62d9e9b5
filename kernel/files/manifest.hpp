#pragma once
/// Which files of a folder the program wrote, with their digests.
#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "base/problem.hpp"

namespace culmwright::files {

/// Digest by file name, relative to the manifest's folder with / between folders.
using Manifest = std::map<std::string, std::string>;

/// Empty when the folder has none. A manifest that cannot be read is a problem: nothing is known then.
Manifest read_manifest(const std::filesystem::path& folder, Problems& problems);
std::string manifest_to_json(const Manifest& manifest);

/// The digest of a file; none when it cannot be read.
std::optional<std::string> digest_of(const std::filesystem::path& file);

}  // namespace culmwright::files
