#include "command/guide_part.hpp"

#include <cmath>

#include "base/words.hpp"
#include "plan/drill_bush.hpp"
#include "solid/guide_solid.hpp"

namespace culmwright::command {

namespace {

JsonValue place_json(SkinPlace place) {
  return JsonValue::object().set("at", place.at).set("around", place.around);
}

JsonValue depth_json(const DrillingDepth& depth) {
  return JsonValue::object()
      .set("from", "the top of the bush, or of a plain bore's boss")
      .set("skin", depth.skin)
      .set("breaks_in_at_the_earliest", depth.breaks_in)
      .set("through_at_the_latest", depth.through)
      .set("stop_at", depth.stop_at)
      .set("far_wall", depth.far_wall);
}

JsonValue hole_json(const GuideHole& hole, const Job& job) {
  JsonValue json = JsonValue::object();
  json.set("id", hole.id).set("drill", hole.drill()).set("bore_diameter_as_drawn", 2.0 * hole.bore_radius);
  if (hole.plain) {
    json.set("drill_at_the_thinnest", hole.drill() - drill_h8(hole.drill()));
  } else {
    json.set("bush_bore", hole.bush.bore)
        .set("bush_outside", hole.bush.outside)
        .set("bush_length", hole.bush.length);
  }
  if (!hole.corner_of.empty()) json.set("corner_of", hole.corner_of);
  if (hole.side) json.set("side_bore_diameter_as_drawn", 2.0 * hole.side->radius);
  return json.set("boss_top", hole.top).set("depth", depth_json(depth_of(job, hole)));
}

JsonValue holes_json(const GuidePlan& plan, const Job& job) {
  JsonValue holes = JsonValue::array();
  for (const GuideHole& hole : plan.holes) holes.push(hole_json(hole, job));
  return holes;
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

JsonValue joints_json(const GuidePlan& plan) {
  JsonValue joints = JsonValue::array();
  for (const GuideJoint& joint : plan.joints) {
    joints.push(
        JsonValue::object()
            .set("half", joint.tongue ? "tongue" : "notch")
            .set("with", joint.with)
            .set("ends_meet_at", joint.at)
            .set("depth", joint.depth)
            .set("width_as_drawn", joint.theta.length() * plan.outer.radius(joint.theta.middle(), joint.at)));
  }
  return joints;
}

JsonValue cuts_json(const GuidePlan& plan) {
  JsonValue cuts = JsonValue::array();
  for (const OpeningCut& cut : plan.cuts) {
    cuts.push(JsonValue::object()
                  .set("id", cut.id)
                  .set("corner_holes_opened_to", cut.corner_drill)
                  .set("length", cut.length)
                  .set("width", cut.width)
                  .set("kerf", cut.kerf)
                  .set("lid_length", cut.lid_length)
                  .set("lid_width", cut.lid_width)
                  .set("saw_leans_deg", lid_lean_deg)
                  .set("lid_sinks", cut.lid_sinks));
  }
  return cuts;
}

JsonValue sights_json(const GuidePlan& plan) {
  JsonValue sights = JsonValue::array();
  for (const SightingWindow& window : plan.sights) {
    sights.push(JsonValue::object()
                    .set("near", place_json(window.near_corner))
                    .set("far", place_json(window.far_corner)));
  }
  return sights;
}

void record_index(const GuidePlan& plan, JsonValue& record) {
  record.set("name", plan.name)
      .set("order", plan.number)
      .set("after", strings(plan.after))
      .set("stop", set_by(plan))
      .set("pegs", pegs_json(plan))
      .set("joints", joints_json(plan));
  if (plan.post) {
    record.set("stop_end", plan.post->end == End::a ? "A" : "B");
    record.set("stop_touches", point_json(plan.post->touches));
  }
  if (plan.sighting_line) {
    record.set("sighting_line", plan.sighting_line->name);
    record.set("sighting_line_facing_deg", plan.sighting_line->facing.degrees());
  }
  record.set("sighting", sights_json(plan))
      .set("sighting_arm", plan.sighting_arm())
      .set("from_at", plan.at.from)
      .set("to_at", plan.at.to);
}

JsonValue printing_json(const std::vector<PrintingChoice>& choices) {
  JsonValue json = JsonValue::array();
  for (const PrintingChoice& choice : choices) {
    json.push(JsonValue::object()
                  .set("position", choice.name)
                  .set("fits_the_bed", choice.fits)
                  .set("size", point_json(choice.size))
                  .set("overhang_mm2", choice.overhang_area)
                  .set("sagging_bores", choice.sagging_bores)
                  .set("in_words", choice.reason));
  }
  return json;
}

}  // namespace

std::string label_of(const Job& job, const std::string& part) {
  return job.instrument.tube_id + " rev " + std::to_string(job.instrument.revision) + " " + part;
}

std::string set_by(const GuidePlan& plan) {
  std::vector<std::string> pegs;
  for (const GuidePeg& peg : plan.pegs) pegs.push_back(peg.id);
  switch (plan.stop) {
    case StopKind::end_on_line:
      return "end, on the reference line";
    case StopKind::end_on_middle:
      return "end, at the guide's middle";
    case StopKind::pegs:
      return (pegs.size() == 1 ? "peg in " : "pegs in ") + listed(pegs, " and ");
    case StopKind::joint:
      return "joint with " + plan.tongue()->with;
    case StopKind::sighting_only:
      break;
  }
  return "sighting marks only";
}

DrillingDepth depth_of(const Job& job, const GuideHole& hole) {
  const Angle theta = Angle::from_radians(std::atan2(hole.drilling.axis.y, hole.drilling.axis.x));
  return drilling_depth(job.fit.tube(), hole, job.fit.wall_sigma(-hole.drilling.point.z, theta));
}

std::vector<std::string> notes_of(const GuidePlan& plan, const Job& job, const Shop& shop) {
  std::vector<std::string> notes = plan.notes;
  for (const GuideHole& hole : plan.holes) {
    for (std::string& remark : depth_remarks(hole, depth_of(job, hole), shop))
      notes.push_back(std::move(remark));
  }
  return notes;
}

void make_guide(const GuidePlan& plan, const Job& job, const Shop& shop, MadePart& part) {
  const Solid solid = build_guide(plan, part.gate);
  record_index(plan, part.record);
  part.record.set("holes", holes_json(plan, job)).set("openings", cuts_json(plan));
  const Mesh mesh = solid.mesh(guide_mesh_accuracy());
  const auto choices = printing_choices(plan, mesh, shop.printer);
  // The whole guide is printed larger by what printed sizes lose, so that its holes keep their distances.
  const double scale = 1.0 / (1.0 - shop.printer.shrinkage);
  write_printed(part, solid, guide_mesh_accuracy(), choices.front().lie, RigidMotion{},
                label_of(job, plan.name), scale);
  part.record.set("printing_positions", printing_json(choices))
      .set("thinnest_wall", thinnest_wall(plan))
      .set("filament", shop.filament.name)
      .set("filament_g_at_most", volume(mesh) * shop.filament.density)
      .set("notes", strings(notes_of(plan, job, shop)));
}

}  // namespace culmwright::command
