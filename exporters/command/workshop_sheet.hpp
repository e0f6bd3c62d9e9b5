#pragma once
/// The index sheet of the documents that a command was given: all pieces, how they rank, what is next.
#include <optional>
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "sheet/sheet_document.hpp"

namespace culmwright::command {

/// The id of the workshop among the files; none where they are single documents.
std::optional<std::string> workshop_among(const std::vector<std::string>& files);

/// A placement and where its bench sheet lies, from the index; empty where there is none.
struct IndexedJob {
  const Job* job = nullptr;
  std::string sheet;
};

/// Every piece is fitted and ranked against every key layout, on all cores. Precondition: there is a tube.
SheetDocument workshop_sheet(const Documents& documents, const std::string& name,
                             const std::vector<IndexedJob>& jobs);

}  // namespace culmwright::command
