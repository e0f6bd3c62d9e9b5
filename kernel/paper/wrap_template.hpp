#pragma once
/// The wrap-around paper template: a run of the instrument's skin laid flat at true size, to be printed, cut
/// out and wrapped around the piece. Black on white; DESIGN "Development" and "How drawings look".
///
/// Seen from outside with end A up, nothing mirrored: right is the player's left while end A is the mouth
/// end.
#include <optional>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "plan/hole_tolerance.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// A stretch of the tube, at_from < at_to.
struct Run {
  double at_from = 0.0;
  double at_to = 0.0;
};

/// From cut to cut, and 5 mm of what is cut off where there is any.
Run whole_run(const Tube& tube, const Instrument& instrument);

/// Every internode between the cuts that holds a hole, an opening or a part: from the middle of one node to
/// the middle of the next, or to the cut. In order of `at`.
std::vector<Run> internode_runs(const Tube& tube, const Instrument& instrument);

/// What a template says and shows beside the instrument itself.
struct TemplateNotes {
  /// Limits of the rules: near nodes and ends they are drawn as lines.
  RuleLimits limits;
  /// Root mean square error of a hole's place by the survey (hole_error, tube/survey_report.hpp), to stand
  /// beside the paper's own error.
  std::optional<double> survey_error;
  /// How true holes come out of the printed guides: a table of those of the run. Not of holes drilled by the
  /// paper, and the words beside it say so.
  std::vector<HoleTolerance> through_guides;
  /// More sentences on how true the work will be.
  std::vector<std::string> how_true;
};

/// One page a sheet; a run longer or wider than the paper goes over several, joined by marks. Every hole of
/// the run is drawn by its exact rim and named. Where it takes fewer sheets the words get one of their own,
/// the last. Precondition: the run lies on the tube. Throws GeometryError when a name finds no free place,
/// InputError when the paper is too small.
Drawing wrap_template(const Tube& tube, const Instrument& instrument, const Shop& shop, Run run,
                      const TemplateNotes& notes = {});

/// What the template of that run says about the paper's own error, in words: that of the development, and
/// what the ridges that it passes draw together.
std::string error_statement(const Tube& tube, Run run, double paper_thickness);

}  // namespace culmwright
