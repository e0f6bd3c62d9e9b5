#include "command/fitted_parts.hpp"

#include <algorithm>

#include "command/guide_part.hpp"
#include "solid/seated_solid.hpp"

namespace culmwright::command {

namespace {

JsonValue screws_json(const FittedPlan& plan) {
  JsonValue list = JsonValue::array();
  for (const FittedScrew& screw : plan.screws) {
    list.push(JsonValue::object()
                  .set("diameter", screw.diameter)
                  .set("length", screw.length)
                  .set("at", screw.place.at)
                  .set("around", screw.place.around)
                  .set("drill", screw.pilot)
                  .set("drill_no_deeper", screw.depth)
                  .set("wall", screw.wall));
  }
  return list;
}

void make_fitted(const FittedPlan& plan, const Job& job, MadePart& part) {
  const Solid solid = seated_solid(fitted_part(plan), job.fit.tube(), part.gate);
  part.record = fitted_json(plan);
  write_printed(part, solid, seated_accuracy, plan.lie, plan.to_tube, label_of(job, plan.part()));
  part.record.set("notes", strings(plan.notes));
}

}  // namespace

FittedPlan fitted_of(const PlacedPart& part, const Job& job, const Shop& shop) {
  return plan_fitted(job.fit.tube(), part, shop, job.instrument.mouth_end);
}

JsonValue fitted_json(const FittedPlan& plan) {
  JsonValue json = JsonValue::object();
  json.set("id", plan.id)
      .set("part", plan.part())
      .set("footprint", JsonValue::array({plan.base.length, plan.base.width}))
      .set("fastened_by", plan.fastening == Fastening::screws ? "screws" : "glue")
      .set("screws", screws_json(plan))
      .set("moves_either_way", plan.adjust)
      .set("rides_hollow", plan.ride)
      .set("printed", plan.top_down() ? "top down" : "top up")
      .set("support_mm3", plan.top_down() ? plan.support.upside_down : plan.support.upright);
  if (plan.hook) json.set("hook_over_skin", plan.hook_top);
  if (plan.eye) json.set("eye", 2.0 * plan.eye->pin_radius);
  if (plan.way_radius) json.set("wire_way_as_drawn", 2.0 * *plan.way_radius);
  return json;
}

std::vector<PartTask> fitted_tasks(const Job& job, const Shop& shop, const std::vector<std::string>& only) {
  std::vector<PartTask> tasks;
  for (const PlacedPart& part : job.instrument.parts) {
    if (!is_fitted_part(part.part)) continue;
    if (!only.empty() && std::find(only.begin(), only.end(), part.part.id) == only.end()) continue;
    tasks.emplace_back();
    tasks.back().part.name = part.part.id;
    tasks.back().part.stem = "fitted/" + file_name(part.part.id);
    tasks.back().work = [&job, &shop, &part](MadePart& made) {
      const FittedPlan plan = fitted_of(part, job, shop);
      made.name = plan.part();
      make_fitted(plan, job, made);
    };
  }
  return tasks;
}

}  // namespace culmwright::command
