#include "command/cup_part.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "command/guide_part.hpp"
#include "solid/cup_solid.hpp"

namespace culmwright::command {

namespace {

JsonValue hole_json(const CupPlan& plan) {
  JsonValue json = JsonValue::object();
  json.set("as", plan.hole.measured ? "measured" : "wanted")
      .set("narrowest", 2.0 * plan.hole.least)
      .set("widest", 2.0 * plan.hole.greatest)
      .set("wall", plan.wall);
  if (plan.hole.chip_out > 0.0) json.set("chip_out", plan.hole.chip_out);
  return json;
}

JsonValue pad_json(const PadSeat& pad) {
  JsonValue json = JsonValue::object();
  json.set("diameter", pad.diameter)
      .set("thickness", pad.thickness)
      .set("land", pad.land == PadLand::facet ? "facet" : "saddle")
      .set("opens_at_least", pad.opens)
      .set("chokes_under", pad.opens_floor);
  if (pad.land == PadLand::facet) {
    json.set("facet_across", pad.facet_width)
        .set("facet_deep", pad.facet_depth)
        .set("facet_leaves_wall", pad.facet_leaves);
  }
  return json;
}

JsonValue recess_json(const CupPlan& plan) {
  const RoundedRectangle& outline = plan.pocket->outline;
  JsonValue json = JsonValue::object();
  if (outline.round()) {
    json.set("across_as_drawn", outline.length);
  } else {
    json.set("length_as_drawn", outline.length).set("width_as_drawn", outline.width);
  }
  const double hollow = plan.dish ? plan.dish->depth : 0.0;
  return json.set("depth", plan.top - hollow - plan.pocket->floor);
}

}  // namespace

CupPlan cup_of(const PlacedKey& key, const Job& job, const Shop& shop) {
  AsDrilled errors;
  if (job.as_drilled != nullptr) {
    errors.caliper_error = job.as_drilled->value.caliper_error;
    errors.hook_gauge_error = job.as_drilled->value.hook_gauge_error;
  }
  return plan_cup(job.fit.tube(), key, shop, job.instrument.mouth_end, errors.caliper_error,
                  errors.hook_gauge_error);
}

std::string support_words(const CupPlan& plan) {
  const double need = plan.touch_down() ? plan.support.upside_down : plan.support.upright;
  return std::string("touch ") + (plan.touch_down() ? "down" : "up") +
         (need < 0.5 ? "" : ", " + fixed_text(need, 0) + " mm³");
}

JsonValue cup_json(const CupPlan& plan) {
  JsonValue json = JsonValue::object();
  json.set("key", plan.key_id)
      .set("kind", name_of(plan.kind))
      .set("hole", hole_json(plan))
      .set("flange_length", plan.flange.length)
      .set("flange_width", plan.flange.width)
      .set("touch_over_skin", plan.upper({}));
  if (plan.spigot_radius > 0.0) {
    json.set("spigot_diameter", 2.0 * plan.spigot_radius).set("spigot_length", plan.spigot_length);
  }
  if (plan.way_radius) {
    json.set(plan.kind == CupKind::sleeve ? "bore_as_drawn" : "wire_way_as_drawn", 2.0 * *plan.way_radius);
  }
  if (plan.pocket) json.set("recess", recess_json(plan));
  if (plan.pad) json.set("pad", pad_json(*plan.pad));
  if (plan.id) json.set("id_engraved", plan.id->face).set("id_letter_height", plan.id->letter_height);
  return json.set("pry_slot", plan.pry_slot)
      .set("printed", plan.touch_down() ? "touch down" : "touch up")
      .set("support_mm3", plan.touch_down() ? plan.support.upside_down : plan.support.upright);
}

void make_cup(const CupPlan& plan, const Job& job, MadePart& part) {
  const Solid solid = cup_solid(plan, job.fit.tube(), part.gate);
  part.record = cup_json(plan);
  write_printed(part, solid, cup_accuracy, plan.lie, plan.to_tube, label_of(job, plan.part()));
  part.record.set("notes", strings(plan.notes));
}

std::vector<PartTask> cup_tasks(const Job& job, const Shop& shop, const std::vector<std::string>& only) {
  std::vector<PartTask> tasks;
  for (const PlacedKey& key : job.instrument.keys) {
    if (!only.empty() && std::find(only.begin(), only.end(), key.key.id) == only.end()) continue;
    tasks.emplace_back();
    tasks.back().part.name = "key cup " + key.key.id;
    tasks.back().part.stem = "cups/" + file_name(key.key.id);
    tasks.back().work = [&job, &shop, &key](MadePart& part) { make_cup(cup_of(key, job, shop), job, part); };
  }
  return tasks;
}

}  // namespace culmwright::command
