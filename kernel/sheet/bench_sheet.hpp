#pragma once
/// The bench sheet of one instrument: the piece and its survey, where everything goes and why, how true it
/// will come out, what to print, what to do in what order, and room for what came out.
///
/// Everything is taken from values that are there already; nothing is searched or built here.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "fit/balance.hpp"
#include "fit/propose.hpp"
#include "fit/rules.hpp"
#include "plan/drilling_schedule.hpp"
#include "plan/hole_tolerance.hpp"
#include "plan/interference.hpp"
#include "plan/wire_list.hpp"
#include "sheet/next_step.hpp"
#include "sheet/sheet_document.hpp"

namespace culmwright {

/// A part to print: its file, where it goes, what it weighs filled to the full.
struct PrintedPart {
  std::string name;
  std::string file;
  std::optional<double> mass_g;
  std::string place;  ///< in words
};

/// What another placement would score.
struct RivalScore {
  double score = 0.0;
  std::string character;
};

struct BenchSheetInput {
  const TubeFit& fit;
  const KeyLayout& layout;
  const Placement& placement;
  const Instrument& instrument;
  std::vector<Finding> findings = {};
  std::optional<Balance> balance = {};  ///< none where the piece was not weighed
  Shop shop = {};
  ToleranceReport tolerance = {};
  std::string no_tolerance = {};  ///< why there is none
  std::vector<PrintedPart> parts = {};
  std::string no_parts = {};  ///< why none were made
  std::optional<DrillingSchedule> schedule = {};
  std::string no_schedule = {};                    ///< why there is none
  std::map<std::string, Page> step_pictures = {};  ///< by the step's id
  /// Tube, keys, guides in place and cups.
  std::vector<SheetPicture> views = {};
  std::vector<RivalScore> rivals = {};  ///< the best other placements, best first
  Signature documents = {};             ///< digests of the documents as they are now
  bool proposed = false;                ///< the placement is the program's own proposal
  WireList wires = {};
  std::vector<Clearance> clearances = {};  ///< of parts in place; none where they were not built
};

SheetDocument bench_sheet(const BenchSheetInput& input);

}  // namespace culmwright
