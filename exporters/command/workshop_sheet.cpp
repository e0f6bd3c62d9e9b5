#include "command/workshop_sheet.hpp"

#include "command/ranking.hpp"
#include "sheet/index_sheet.hpp"

namespace culmwright::command {

namespace {

/// A piece once for every placement of it, and once where it has none.
void add_pieces(const TubeFit& fit, const PieceFigures& figures, const std::vector<IndexedJob>& jobs,
                std::vector<IndexPiece>& pieces) {
  bool placed = false;
  for (const IndexedJob& one : jobs) {
    if (one.job->instrument.tube_id != fit.tube().id()) continue;
    pieces.push_back({&fit, figures, &one.job->instrument, one.job->findings, one.job->proposed, one.sheet});
    placed = true;
  }
  if (!placed) pieces.push_back({&fit, figures, nullptr, {}, false, {}});
}

}  // namespace

std::optional<std::string> workshop_among(const std::vector<std::string>& files) {
  for (const std::string& file : files) {
    if (kind_of_file(file) == DocumentKind::workshop) return read_workshop(file).value.id;
  }
  return std::nullopt;
}

SheetDocument workshop_sheet(const Documents& documents, const std::string& name,
                             const std::vector<IndexedJob>& jobs) {
  const Batch batch = batch_of(documents);
  const Ranking ranking = ranked(batch);
  IndexInput input;
  input.workshop = name;
  for (const TubeFit& fit : batch.tubes) input.tubes.push_back(fit.tube().id());
  for (const KeyLayout& layout : batch.layouts) input.layouts.push_back(layout.id);
  for (std::size_t i = 0; i < batch.tubes.size(); ++i) {
    add_pieces(batch.tubes[i], ranking.pieces[i], jobs, input.pieces);
  }
  if (!batch.layouts.empty()) input.ranking = &ranking;
  return index_sheet(input);
}

}  // namespace culmwright::command
