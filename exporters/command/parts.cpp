#include "command/parts.hpp"

#include "command/collars.hpp"
#include "command/cup_part.hpp"
#include "command/depth_sleeves.hpp"
#include "command/fitted_parts.hpp"
#include "command/guide_part.hpp"
#include "plan/body_plan.hpp"
#include "plan/guide_plan.hpp"
#include "plan/plate_plan.hpp"
#include "solid/body_solid.hpp"
#include "solid/plate_solid.hpp"

namespace culmwright::command {

namespace {

void make_body(const Job& job, MadePart& part) {
  const BodyPlan plan = plan_body(job.fit.tube(), job.instrument);
  const Solid solid = body_solid(plan, job.fit.tube(), part.gate);
  part.step = step_bytes(solid, label_of(job, "tube"));
  part.in_place = PlacedSolid{solid, RigidMotion{}, body_accuracy};
  part.record.set("step", part.stem + ".step")
      .set("step_to_tube", matrix_json(RigidMotion{}))
      .set("from_at", plan.from_at)
      .set("to_at", plan.to_at)
      .set("notes", strings(plan.notes));
}

void make_plate(const PlatePlan& plan, const TubeFit& fit, MadePart& part) {
  const Tube& tube = fit.tube();
  const double end_at = plan.end == End::a ? tube.end_a_at() : tube.end_b_at();
  const Solid solid = plate_solid(plan, part.gate);
  part.record.set("across_flats", plan.across_flats).set("flats", plan.flats);
  write_printed(part, solid, plate_accuracy, RigidMotion{}, plan.to_tube(end_at),
                tube.id() + " " + plan.part());
}

}  // namespace

std::vector<MadePart> make_guides(const Job& job, const Shop& shop, const std::vector<GuidePlan>& plans,
                                  const std::function<void(const std::string&)>& say) {
  std::vector<PartTask> tasks;
  for (const GuidePlan& plan : plans) {
    tasks.emplace_back();
    tasks.back().part.name = plan.name;
    tasks.back().part.stem = "guides/" + file_name(plan.name);
    tasks.back().work = [&job, &shop, &plan](MadePart& part) { make_guide(plan, job, shop, part); };
  }
  return make_all(std::move(tasks), say);
}

std::vector<MadePart> make_parts(const Job& job, const Shop& shop,
                                 const std::function<void(const std::string&)>& say) {
  std::vector<PartTask> tasks;
  const auto add = [&](const std::string& name, const std::string& stem,
                       std::function<void(MadePart&)> work) {
    tasks.emplace_back();
    tasks.back().part.name = name;
    tasks.back().part.stem = stem;
    tasks.back().work = std::move(work);
  };
  // The tube's body takes longest: first.
  add("tube", "tube", [&](MadePart& part) { make_body(job, part); });
  std::vector<GuidePlan> guides;
  MadePart planning;
  guard_part(planning, [&](MadePart&) { guides = plan_guides(job.fit.tube(), job.instrument, shop); });
  for (const GuidePlan& guide : guides) {
    add(guide.name, "guides/" + file_name(guide.name),
        [&job, &shop, &guide](MadePart& part) { make_guide(guide, job, shop, part); });
  }
  for (PartTask& task : sleeve_tasks(job, sleeves_of(job, shop, guides))) tasks.push_back(std::move(task));
  for (PartTask& task : cup_tasks(job, shop)) tasks.push_back(std::move(task));
  for (PartTask& task : fitted_tasks(job, shop)) tasks.push_back(std::move(task));
  for (PartTask& task : collar_tasks(job.fit.tube(), job.instrument)) tasks.push_back(std::move(task));
  std::vector<MadePart> parts;
  if (planning.refused) {
    planning.name = "drill guides";
    parts.push_back(std::move(planning));
  }
  for (MadePart& part : make_all(std::move(tasks), say)) parts.push_back(std::move(part));
  return parts;
}

std::vector<MadePart> make_plates(const TubeFit& fit) {
  std::vector<MadePart> parts;
  for (const PlatePlan& plan : plan_plates(fit.tube())) {
    MadePart part;
    part.name = plan.part();
    part.stem = fit.tube().id() + (plan.end == End::a ? "-plate-a" : "-plate-b");
    guard_part(part, [&](MadePart& made) { make_plate(plan, fit, made); });
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace culmwright::command
