#pragma once
/// A tube document that is still being measured: by the same field table, with what is missing left out. It
/// is no document for the other commands until it is complete; until then they say what it lacks.
#include <string_view>

#include "files/documents.hpp"

namespace culmwright {

/// Reads a complete document as well. A missing length is 0, a missing id empty. Throws InputError with all
/// problems other than what is missing.
Loaded<Survey> read_tube_draft(const std::filesystem::path& file);
Loaded<Survey> read_tube_draft_text(std::string_view text, const std::string& name,
                                    const std::filesystem::path& folder = {});

/// Leaves out an empty id and a length of 0, and the material while there is no length. The complete document
/// where nothing is missing.
std::string tube_draft_to_json(const Survey& survey);

/// What cannot stand in the document, other than what is missing.
Problems check_tube_draft(const Survey& survey);

}  // namespace culmwright
