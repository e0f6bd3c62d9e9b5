#pragma once
/// The prompting survey at a terminal: one reading at a time, a line each. Works from a keyboard, from a
/// digital caliper that types like one, and from a pipe.
#include <filesystem>
#include <iosfwd>
#include <optional>
#include <string>

#include "files/documents.hpp"
#include "tube/reading_entry.hpp"

namespace culmwright::command {

struct Asked {
  Survey survey;
  std::filesystem::path file;  ///< where it stands; empty when nothing was answered
  bool complete = false;       ///< a tube document that every command reads
};

/// Asks until everything was asked, the maker says done, or the input ends. After every answer the survey is
/// safe in `folder`, as "ID.json" (put in place by renaming); a document of that name that is somebody else's
/// is left alone and another name taken. `resumed`: a survey to go on with. Throws InputError when the disk
/// refuses.
Asked ask_survey(std::istream& in, std::ostream& out, const std::filesystem::path& folder, LengthUnit unit,
                 const std::optional<Survey>& resumed);

}  // namespace culmwright::command
