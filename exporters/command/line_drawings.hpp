#pragma once
/// The line drawings of a job: solids built once, looked at from all sides.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "command/printed.hpp"
#include "paper/instrument_drawing.hpp"
#include "sheet/sheet_document.hpp"

namespace culmwright::command {

/// All that is drawn of a job. A guide that could not be built is left out and named with the reason.
struct JobLines {
  InstrumentLines instrument;
  std::vector<GuidePlan> plans;    ///< of the guides that are drawn
  std::vector<GuideLines> guides;  ///< in the order of the plans
  std::vector<CupLines> cups;      ///< in the instrument's order
  std::vector<std::string> left_out;
};

/// From parts that were made (tube body and what stands on it in place, printed.hpp); guides are built once
/// more without their lettering, on all cores.
JobLines lines_of(const std::vector<MadePart>& parts, const Job& job, const std::vector<GuidePlan>& guides);

struct JobDrawing {
  std::string stem;  ///< "drawings/instrument", "drawings/guides", "drawings/cups"
  Drawing drawing;
};
/// The sheets of a job, empty ones left out: on the shop's paper, or on A3 where that is too small.
/// `left_out` names those for which A3 is too small as well.
std::vector<JobDrawing> drawings_of(const Job& job, const Shop& shop, const JobLines& lines,
                                    std::vector<std::string>& left_out);

/// The same as small pictures for a bench sheet: the instrument in three views, each guide on its stretch of
/// tube, each cup from its touch. None of them is wider than `width`.
std::vector<SheetPicture> pictures_of(const Job& job, const JobLines& lines, double width);

}  // namespace culmwright::command
