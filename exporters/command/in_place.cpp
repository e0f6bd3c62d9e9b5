#include "command/in_place.hpp"

#include "base/words.hpp"
#include "command/guide_part.hpp"
#include "plan/body_plan.hpp"
#include "step_assembly.hpp"

namespace culmwright::command {

MadePart assembly_of(const std::vector<MadePart>& parts, const Job& job) {
  std::vector<AssemblyPart> placed;
  std::vector<std::string> names;
  for (const MadePart& part : parts) {
    if (!part.in_place) continue;
    placed.push_back({part.name, part.in_place->solid, part.in_place->to_tube});
    names.push_back(part.name);
  }
  MadePart assembly;
  assembly.name = assembly.stem = "assembly";
  assembly.step = step_assembly_bytes(placed, label_of(job, "in place"));
  assembly.record.set("step", assembly.stem + ".step").set("parts", strings(names));
  return assembly;
}

std::vector<Clearance> clearances_of(const std::vector<MadePart>& parts, const Job& job, const Shop& shop) {
  std::vector<StandingPart> standing;
  for (const MadePart& part : parts) {
    if (!part.in_place) continue;
    const auto& [solid, to_tube, accuracy] = *part.in_place;
    const auto kind = part.stem == "tube" ? StandingPart::Kind::tube : StandingPart::Kind::fitted;
    standing.push_back({kind, part.name, MeshTree(moved(solid.mesh(accuracy), to_tube))});
  }
  for (const BodyCut& cut : plan_body(job.fit.tube(), job.instrument).cuts) {
    if (cut.name.rfind("opening ", 0) == 0) standing.push_back(space_over(cut));
  }
  ClearanceLimits limits;
  limits.parts_apart = shop.fits.parts_apart;
  return clearances(standing, job.fit.tube(), limits);
}

JsonValue clearances_json(const std::vector<Clearance>& found) {
  JsonValue list = JsonValue::array();
  for (const Clearance& one : found) {
    JsonValue json = JsonValue::object();
    json.set("first", one.first).set("second", one.second).set("distance", one.found.distance);
    if (one.found.depth > 0.0) json.set("depth", one.found.depth);
    json.set("least", one.least)
        .set("on_first", point_json(one.found.on_first))
        .set("on_second", point_json(one.found.on_second))
        .set("inside", one.inside)
        .set("ok", !one.fails);
    list.push(std::move(json));
  }
  return list;
}

}  // namespace culmwright::command
