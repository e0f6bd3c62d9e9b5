#include "command/job_sheet.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "command/depth_sleeves.hpp"
#include "command/guide_part.hpp"
#include "files/sign_state.hpp"
#include "fit/propose.hpp"
#include "html.hpp"
#include "paper/step_picture.hpp"
#include "pdf.hpp"
#include "plan/mesh.hpp"
#include "sheet/bench_sheet.hpp"
#include "sheet/sheet_pages.hpp"

namespace culmwright::command {

namespace {

constexpr int rivals_shown = 3;

bool lies_in(const MadePart& part, const char* folder) {
  return part.stem.rfind(folder, 0) == 0;
}

std::string guide_place(const MadePart& part, const std::vector<GuidePlan>& guides) {
  for (const GuidePlan& plan : guides) {
    if (plan.name != part.name) continue;
    std::vector<std::string> ids;
    for (const GuideHole& hole : plan.holes) ids.push_back(hole.id);
    return "over " + listed(ids, ", ") + "; set by " + set_by(plan);
  }
  return {};
}

std::string sleeve_place(const MadePart& part, const DepthSleeves& sleeves) {
  for (const DepthSleeve& sleeve : sleeves.sleeves) {
    if (sleeve.part() == part.name) return "over the drill, for " + listed(sleeve.ids, ", ");
  }
  return "over the drill";
}

std::string backing_place(const MadePart& part, const DrillBench& bench) {
  for (const BackingShoe& shoe : bench.backing.shoes) {
    if (shoe.name == part.name) return "in the bore under " + listed(shoe.ids, ", ");
  }
  return "in the bore";
}

/// A part to print and where it goes, in words.
class PartList {
 public:
  PartList(const Job& job, const Shop& shop, const SheetMakings& makings, const DrillBench& bench)
      : makings_(makings),
        bench_(bench),
        sleeves_(sleeves_of(job, shop, makings.guides)),
        density_(shop.filament.density) {}

  std::vector<PrintedPart> parts() const {
    std::vector<PrintedPart> list;
    for (const MadePart& part : makings_.parts) {
      if (part.refused) {
        list.push_back({part.name, "none", std::nullopt, "Refused: " + *part.refused});
      } else if (!part.stl.empty() && !lies_in(part, "plates/")) {
        list.push_back({part.name, part.stem + ".stl", volume(part.printed) * density_, place_of(part)});
      }
    }
    return list;
  }

 private:
  std::string place_of(const MadePart& part) const {
    if (lies_in(part, "guides/")) return guide_place(part, makings_.guides);
    if (lies_in(part, "sleeves/")) return sleeve_place(part, sleeves_);
    if (lies_in(part, "backing/")) return backing_place(part, bench_);
    if (lies_in(part, "cups/")) return "on its hole, once that is measured as drilled";
    if (lies_in(part, "fitted/")) return "on the skin, at its place in the table of parts";
    if (lies_in(part, "collars/")) return "around the tube: saw along it";
    if (lies_in(part, "cradles/wedge")) return "two of it, one under each cradle";
    if (lies_in(part, "cradles/")) return "under the tube on the drill table";
    if (lies_in(part, "mock-up/")) return "to hold and feel, before anything is signed";
    return "beside the tube";
  }

  const SheetMakings& makings_;
  const DrillBench& bench_;
  DepthSleeves sleeves_;
  double density_;
};

std::vector<RivalScore> rivals_of(const Job& job) {
  std::vector<RivalScore> rivals;
  if (job.as_drilled != nullptr) return rivals;
  ProposeOptions how;
  how.count = rivals_shown + (job.proposed ? 1 : 0);
  const auto found = propose(job.fit, job.key_layout->value, how);
  if (const auto* proposals = std::get_if<std::vector<Proposal>>(&found)) {
    // The best is the placement itself where the program has placed it.
    for (std::size_t i = job.proposed ? 1 : 0; i < proposals->size(); ++i)
      rivals.push_back({(*proposals)[i].score, (*proposals)[i].character});
  }
  return rivals;
}

/// The schedule and what it says where there is none.
void add_schedule(BenchSheetInput& input, const DrillBench& bench, const SheetMakings& makings) {
  if (!makings.no_guides.empty()) {
    input.no_schedule = makings.no_guides;
    return;
  }
  try {
    input.schedule = drilling_schedule(bench);
    for (const DrillingStep& step : input.schedule->steps) {
      if (std::optional<Page> picture = step_picture(bench, step))
        input.step_pictures[step.id] = std::move(*picture);
    }
  } catch (const GeometryError& error) {
    input.no_schedule = error.what();
  }
}

}  // namespace

SheetDocument job_sheet(const Job& job, const Shop& shop, const SheetMakings& makings) {
  const Placement& placement = job.placement_now();
  const DrillBench bench = drill_bench(job.fit, job.instrument, shop, makings.guides);
  BenchSheetInput input{job.fit, job.key_layout->value, placement, job.instrument};
  input.findings = job.findings;
  input.balance = balance_of(job);
  input.shop = shop;
  input.tolerance = makings.tolerance.report;
  input.no_tolerance = makings.tolerance.refused;
  input.parts = PartList(job, shop, makings, bench).parts();
  input.no_parts = makings.no_parts;
  add_schedule(input, bench, makings);
  input.views = makings.views;
  input.rivals = rivals_of(job);
  input.documents = signature_for(job.placement->value, job.tube->value, job.key_layout->value, job.shop);
  input.proposed = job.proposed;
  input.wires = plan_wires(job.fit.tube(), job.instrument, shop);
  input.clearances = makings.near;
  return bench_sheet(input);
}

double sheet_column(const Shop& shop) {
  return culmwright::sheet_column(shop.paper.size, shop.paper.margin);
}

SheetFiles sheet_files(const SheetDocument& document, const Shop& shop) {
  return {to_html(document), to_pdf(sheet_pages(document, shop.paper.size, shop.paper.margin))};
}

}  // namespace culmwright::command
