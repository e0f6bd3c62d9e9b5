#include "command/templates.hpp"

#include "paper/patch_sheets.hpp"
#include "paper/wrap_template.hpp"
#include "tube/survey_report.hpp"

namespace culmwright::command {

std::vector<NamedDrawing> templates_of(const Job& job, const Shop& shop, Stretch stretch,
                                       const JobTolerance& tolerance) {
  const Tube& tube = job.fit.tube();
  TemplateNotes notes;
  notes.limits = job.key_layout->value.limits;
  notes.survey_error = hole_error(job.fit);
  notes.through_guides = tolerance.report.holes;
  if (!tolerance.refused.empty())
    notes.how_true.push_back("How true the guides drill is not known: " + tolerance.refused);
  if (stretch == Stretch::whole) {
    return {{"whole", wrap_template(tube, job.instrument, shop, whole_run(tube, job.instrument), notes)}};
  }
  std::vector<NamedDrawing> drawings;
  for (const Run& run : internode_runs(tube, job.instrument)) {
    drawings.push_back({"run-" + std::to_string(drawings.size() + 1),
                        wrap_template(tube, job.instrument, shop, run, notes)});
  }
  return drawings;
}

NamedDrawing patches_of(const Job& job, const Shop& shop) {
  return {"patches", patch_sheets(job.fit.tube(), job.instrument, shop)};
}

}  // namespace culmwright::command
