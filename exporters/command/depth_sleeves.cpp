#include "command/depth_sleeves.hpp"

#include "base/words.hpp"
#include "command/guide_part.hpp"
#include "command/terminal.hpp"
#include "solid/depth_sleeve_solid.hpp"

namespace culmwright::command {

namespace {

void make_sleeve(const DepthSleeve& sleeve, const Job& job, MadePart& part) {
  const Solid solid = depth_sleeve_solid(sleeve, part.gate);
  part.record.set("holes", strings(sleeve.ids))
      .set("drill", sleeve.drill)
      .set("tip_beyond_sleeve", sleeve.depth)
      .set("length", sleeve.length)
      .set("drill_stands_out", sleeve.stands_out())
      .set("bore_diameter", 2.0 * sleeve.bore_radius)
      .set("room_to_far_wall", sleeve.room_left);
  write_printed(part, solid, sleeve_accuracy, RigidMotion{}, RigidMotion{}, label_of(job, sleeve.part()));
  part.record.set("notes", strings(sleeve.notes));
}

}  // namespace

DepthSleeves sleeves_of(const Job& job, const Shop& shop, const std::vector<GuidePlan>& plans) {
  std::vector<DepthAtHole> holes;
  for (const GuidePlan& plan : plans) {
    for (const GuideHole& hole : plan.holes)
      holes.push_back({hole.id, hole.drill(), hole.plain ? 0.0 : hole.bush.outside, depth_of(job, hole)});
  }
  return plan_depth_sleeves(holes, shop);
}

std::string sleeves_text(const DepthSleeves& sleeves) {
  std::string text;
  if (!sleeves.sleeves.empty()) {
    text += wrapped(
        "Depth sleeves over the drill: chuck it so that the tip stands that far out of the sleeve, "
        "the sleeve against the jaws; measure it.",
        2);
    TextTable table({"sleeve", "drill", "tip out", "long", "to far wall", "holes"});
    for (const DepthSleeve& sleeve : sleeves.sleeves) {
      table.row({std::to_string(sleeve.number), number_text(sleeve.drill), fixed_text(sleeve.depth, 1),
                 fixed_text(sleeve.length, 1), fixed_text(sleeve.room_left, 1),
                 std::to_string(sleeve.ids.size())});
    }
    text += table.text();
    for (const DepthSleeve& sleeve : sleeves.sleeves) {
      text += wrapped(sleeve.part() + ": " + listed(sleeve.ids, ", "), 2);
      for (const std::string& note : sleeve.notes) text += wrapped(sleeve.part() + ": " + note, 2);
    }
  }
  for (const std::string& reason : sleeves.left_out) text += wrapped("no depth sleeve for " + reason, 2);
  return text;
}

std::vector<PartTask> sleeve_tasks(const Job& job, const DepthSleeves& sleeves) {
  std::vector<PartTask> tasks;
  for (const DepthSleeve& sleeve : sleeves.sleeves) {
    tasks.emplace_back();
    tasks.back().part.name = sleeve.part();
    tasks.back().part.stem = "sleeves/" + file_name("sleeve " + std::to_string(sleeve.number));
    tasks.back().work = [&job, sleeve](MadePart& part) { make_sleeve(sleeve, job, part); };
  }
  return tasks;
}

}  // namespace culmwright::command
