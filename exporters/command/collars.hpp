#pragma once
/// Saw collars on their way to files.
#include <string>
#include <vector>

#include "command/printed.hpp"
#include "layout/instrument.hpp"
#include "tube/tube.hpp"

namespace culmwright::command {

/// A cut square to the axis; `kept`: the end that stays.
struct SawCut {
  double at = 0.0;
  End kept = End::b;
};

/// The cuts of an instrument that take off more than a saw's kerf, mouth first.
std::vector<SawCut> saw_cuts(const Tube& tube, const Instrument& instrument);

/// The work of making one collar; guard it (printed.hpp).
void make_collar(const Tube& tube, const SawCut& cut, const std::string& label, MadePart& part);

/// A task for each cut where a collar finds a hold, "collars/mouth" and "collars/foot"; where none does the
/// maker saws without one. `tube` and `instrument` must outlive the tasks.
std::vector<PartTask> collar_tasks(const Tube& tube, const Instrument& instrument);

}  // namespace culmwright::command
