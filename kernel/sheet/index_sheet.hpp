#pragma once
/// The workshop on one sheet: all pieces at one scale, how they rank, what is next for each.
#include <string>
#include <vector>

#include "fit/rank.hpp"
#include "sheet/next_step.hpp"
#include "sheet/sheet_document.hpp"

namespace culmwright {

/// A piece as it stands.
struct IndexPiece {
  const TubeFit* fit = nullptr;
  PieceFigures figures;
  const Instrument* instrument = nullptr;  ///< none where nothing is placed on it
  std::vector<Finding> findings;           ///< of that
  bool proposed = false;                   ///< the placement is the program's own proposal
  std::string sheet;                       ///< where its bench sheet lies, from the index; may be empty
};

/// A workshop's pieces in the order given; one with two placements stands there twice. `ranking`: of `tubes`
/// and `layouts`, by their indices; null where there is no key layout.
struct IndexInput {
  std::string workshop;  ///< its name
  std::vector<IndexPiece> pieces;
  const Ranking* ranking = nullptr;
  std::vector<std::string> tubes;
  std::vector<std::string> layouts;
};

/// Precondition: at least one piece.
SheetDocument index_sheet(const IndexInput& input);

}  // namespace culmwright
