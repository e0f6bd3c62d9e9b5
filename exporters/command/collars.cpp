#include "command/collars.hpp"

#include "solid/collar_solid.hpp"

namespace culmwright::command {

namespace {

/// Less is filed or sanded, not sawn.
constexpr double least_sawn = 1.5;

bool finds_hold(const Tube& tube, const SawCut& cut) {
  try {
    plan_collar(tube, cut.at, cut.kept);
    return true;
  } catch (const GeometryError&) {
    return false;
  }
}

}  // namespace

std::vector<SawCut> saw_cuts(const Tube& tube, const Instrument& instrument) {
  std::vector<SawCut> cuts;
  const bool mouth_at_a = instrument.mouth_end == End::a;
  for (const double at : {instrument.mouth_cut_at, instrument.foot_cut_at}) {
    const bool toward_a = (at == instrument.mouth_cut_at) == mouth_at_a;
    const double off = toward_a ? at - tube.end_a_at() : tube.end_b_at() - at;
    if (off >= least_sawn) cuts.push_back({at, toward_a ? End::b : End::a});
  }
  return cuts;
}

void make_collar(const Tube& tube, const SawCut& cut, const std::string& label, MadePart& part) {
  const CollarPlan plan = plan_collar(tube, cut.at, cut.kept);
  const Solid solid = collar_solid(plan, part.gate);
  part.record.set("name", part.name)
      .set("cut_at", plan.cut_at)
      .set("stands_toward", cut.kept == End::a ? "A" : "B")
      .set("length", plan.length());
  write_printed(part, solid, collar_accuracy, printing_position(plan), RigidMotion{}, label);
  part.record.set("notes", strings(plan.notes));
}

std::vector<PartTask> collar_tasks(const Tube& tube, const Instrument& instrument) {
  std::vector<PartTask> tasks;
  for (const SawCut& cut : saw_cuts(tube, instrument)) {
    if (!finds_hold(tube, cut)) continue;
    const bool mouth = cut.at == instrument.mouth_cut_at;
    PartTask task;
    task.part.name = std::string("saw collar for the ") + (mouth ? "mouth" : "foot") + " cut";
    task.part.stem = std::string("collars/") + (mouth ? "mouth" : "foot");
    const std::string label =
        tube.id() + " rev " + std::to_string(instrument.revision) + " " + task.part.name;
    task.work = [&tube, cut, label](MadePart& part) { make_collar(tube, cut, label, part); };
    tasks.push_back(std::move(task));
  }
  return tasks;
}

}  // namespace culmwright::command
