#pragma once
/// One text for one value, however it was laid out.
#include <string>

#include "files/json_writer.hpp"

namespace culmwright::files {

/// On one line, the keys of every object in alphabetical order (of their bytes).
std::string canonical_text(const JsonValue& value);

}  // namespace culmwright::files
