#include "command/parts.hpp"

#include "plan/body_plan.hpp"
#include "plan/cup_plan.hpp"
#include "plan/guide_plan.hpp"
#include "plan/plate_plan.hpp"
#include "solid/body_solid.hpp"
#include "solid/cup_solid.hpp"
#include "solid/guide_solid.hpp"
#include "solid/plate_solid.hpp"

namespace culmwright::command {

namespace {

std::string label_of(const Job& job, const std::string& part) {
  return job.instrument.tube_id + " rev " + std::to_string(job.instrument.revision) + " " + part;
}

JsonValue place_json(SkinPlace place) {
  return JsonValue::object().set("at", place.at).set("around", place.around);
}

JsonValue pegs_json(const GuidePlan& plan) {
  JsonValue pegs = JsonValue::array();
  for (const GuidePeg& peg : plan.pegs) {
    pegs.push(JsonValue::object()
                  .set("id", peg.id)
                  .set("diameter", peg.diameter)
                  .set("drilled_by", peg.drilled_by)
                  .set("boss_top", peg.top));
  }
  return pegs;
}

void make_guide(const GuidePlan& plan, const Job& job, const Shop& shop, MadePart& part) {
  const Solid solid = build_guide(plan, part.gate);
  JsonValue holes = JsonValue::array();
  for (const GuideHole& hole : plan.holes) {
    holes.push(JsonValue::object()
                   .set("id", hole.id)
                   .set("bush_bore", hole.bush.bore)
                   .set("bush_outside", hole.bush.outside)
                   .set("bush_length", hole.bush.length)
                   .set("boss_top", hole.top));
  }
  JsonValue sights = JsonValue::array();
  for (const SightingWindow& window : plan.sights) {
    sights.push(JsonValue::object()
                    .set("near", place_json(window.near_corner))
                    .set("far", place_json(window.far_corner)));
  }
  part.record.set("name", plan.name)
      .set("order", plan.number)
      .set("after", strings(plan.after))
      .set("holes", std::move(holes))
      .set("stop", words_of(plan.stop))
      .set("pegs", pegs_json(plan));
  if (plan.post) {
    part.record.set("stop_end", plan.post->end == End::a ? "A" : "B");
    part.record.set("stop_touches", point_json(plan.post->touches));
  }
  if (plan.sighting_line) {
    part.record.set("sighting_line", plan.sighting_line->name);
    part.record.set("sighting_line_facing_deg", plan.sighting_line->facing.degrees());
  }
  part.record.set("sighting", std::move(sights))
      .set("sighting_arm", plan.sighting_arm())
      .set("from_at", plan.at.from)
      .set("to_at", plan.at.to);
  write_printed(part, solid, guide_mesh_accuracy(), printing_position(plan, shop.printer), RigidMotion{},
                label_of(job, plan.name));
  part.record.set("notes", strings(plan.notes));
}

void make_cup(const PlacedKey& key, const Job& job, const Shop& shop, MadePart& part) {
  const CupPlan plan = plan_cup(job.fit.tube(), key, shop, job.instrument.mouth_end);
  const Solid solid = cup_solid(plan, job.fit.tube(), part.gate);
  part.record.set("key", key.key.id)
      .set("spigot_diameter", 2.0 * plan.spigot_radius)
      .set("spigot_length", plan.spigot_length)
      .set("printed", plan.touch_down() ? "touch down" : "touch up");
  write_printed(part, solid, cup_accuracy, plan.lie, plan.to_tube, label_of(job, plan.part()));
  part.record.set("notes", strings(plan.notes));
}

void make_body(const Job& job, MadePart& part) {
  const BodyPlan plan = plan_body(job.fit.tube(), job.instrument);
  const Solid solid = body_solid(plan, job.fit.tube(), part.gate);
  part.step = step_bytes(solid, label_of(job, "tube"));
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

const char* words_of(StopKind stop) {
  switch (stop) {
    case StopKind::end_on_line:
      return "end, on the reference line";
    case StopKind::end_on_middle:
      return "end, at the guide's middle";
    case StopKind::pegs:
      return "pegs in drilled holes";
    case StopKind::sighting_only:
      break;
  }
  return "sighting marks only";
}

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
  for (const PlacedKey& key : job.instrument.keys) {
    add("key cup " + key.key.id, "cups/" + file_name(key.key.id),
        [&job, &shop, &key](MadePart& part) { make_cup(key, job, shop, part); });
  }
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
