#pragma once
/// The line drawings of a job: solids built once, looked at from all sides.
#include <string>
#include <vector>

#include "command/gather.hpp"
#include "paper/instrument_drawing.hpp"

namespace culmwright::command {

/// All that is drawn of a job. A part that could not be built is left out and named with the reason.
struct JobLines {
  InstrumentLines instrument;
  std::vector<GuideLines> guides;  ///< in the order of the plans
  std::vector<CupLines> cups;      ///< in the instrument's order
  std::vector<std::string> left_out;
};

/// Builds tube, cups and guides (without their lettering) for pictures, on all cores.
JobLines lines_of(const Job& job, const Shop& shop, const std::vector<GuidePlan>& guides);

struct JobDrawing {
  std::string stem;  ///< "drawings/instrument", "drawings/guides", "drawings/cups"
  Drawing drawing;
};
/// The sheets of a job, empty ones left out.
std::vector<JobDrawing> drawings_of(const Job& job, const Shop& shop, const std::vector<GuidePlan>& guides,
                                    const JobLines& lines);

}  // namespace culmwright::command
