#include "command/bench_parts.hpp"

#include "plan/backing_plan.hpp"
#include "solid/backing_solid.hpp"
#include "solid/cradle_solid.hpp"
#include "solid/mock_up_patch_solid.hpp"

namespace culmwright::command {

namespace {

std::string label(const Job& job, const std::string& part) {
  return job.instrument.tube_id + " rev " + std::to_string(job.instrument.revision) + " " + part;
}

PartTask task(std::string name, std::string stem, std::function<void(MadePart&)> work) {
  PartTask made;
  made.part.name = std::move(name);
  made.part.stem = std::move(stem);
  made.work = std::move(work);
  return made;
}

void make_patch(const MockUpPatchPlan& plan, const Job& job, MadePart& part) {
  const Solid solid = mock_up_patch_solid(plan, part.gate);
  part.record.set("for", plan.patch.id)
      .set("length", plan.outline.length)
      .set("width", plan.outline.width)
      .set("thickness_over_skin", plan.high)
      .set("support_mm3", plan.support);
  write_printed(part, solid, mock_up_patch_accuracy, plan.lie, RigidMotion{}, label(job, plan.part()));
  part.record.set("notes", strings(plan.notes));
}

JsonValue bores_json(const BoreAngle& bores) {
  return JsonValue::object()
      .set("ids", strings(bores.ids))
      .set("axis_deg", bores.axis.degrees())
      .set("off_square_deg", bores.off.degrees());
}

void make_cradle(const CradleSet& set, const CradleBody& body, const Job& job, MadePart& part) {
  const Solid solid = cradle_solid(set, body, part.gate);
  JsonValue facets = JsonValue::array();
  for (const CradleFacet& facet : set.facets) facets.push(bores_json(facet.bores));
  part.record.set("name", body.name)
      .set("from_at", body.at.from)
      .set("to_at", body.at.to)
      .set("facet_from_axis", set.foot)
      .set("stands_on", std::move(facets));
  write_printed(part, solid, cradle_accuracy, printing_position(set, body), RigidMotion{},
                label(job, body.name));
  part.record.set("notes", strings(body.notes));
}

void make_wedge(const CradleWedge& wedge, const CradleSet& set, const Job& job, MadePart& part) {
  const Solid solid = wedge_solid(wedge, part.gate);
  part.record.set("bores", bores_json(wedge.bores))
      .set("set", set.number)
      .set("under_facet_of", strings(set.facets[wedge.facet].bores.ids))
      .set("lean_deg", wedge.lean.degrees())
      .set("print", 2);
  // In its own frame; where it stands under a facet is another place for each of the two cradles.
  write_printed(part, solid, cradle_accuracy, RigidMotion{}, RigidMotion{}, label(job, wedge.part()));
}

void make_backing(const BackingShoe& shoe, const Job& job, const Shop& shop, MadePart& part) {
  const Solid solid = backing_solid(shoe, part.gate);
  part.record.set("name", shoe.name)
      .set("holes", strings(shoe.ids))
      .set("from_at", shoe.at.from)
      .set("to_at", shoe.at.to)
      .set("width", shoe.width)
      .set("way_in", shoe.way.diameter)
      .set("stick_least", shoe.stick.from)
      .set("stick_greatest", shoe.stick.to);
  write_printed(part, solid, backing_accuracy, printing_position(shoe, shop.printer), RigidMotion{},
                label(job, shoe.name));
  part.record.set("notes", strings(shoe.notes));
}

/// "cradles/wedge-L3" of a wedge for L3 and L5.
std::string stem_of(const CradleWedge& wedge) {
  return "cradles/wedge-" + file_name(wedge.bores.ids.front());
}

void add_set(const CradleSet& set, const Job& job, std::vector<PartTask>& tasks) {
  for (const CradleBody& body : set.bodies) {
    tasks.push_back(task(body.name, "cradles/" + file_name(body.name),
                         [&job, set, body](MadePart& part) { make_cradle(set, body, job, part); }));
  }
  for (const CradleWedge& wedge : set.wedges) {
    tasks.push_back(task(wedge.part(), stem_of(wedge),
                         [&job, set, wedge](MadePart& part) { make_wedge(wedge, set, job, part); }));
  }
}

}  // namespace

std::vector<PartTask> mock_up_tasks(const Job& job, const Shop& shop, std::vector<std::string>& left_out) {
  std::vector<PartTask> tasks;
  for (const MockUpPatch& patch : mock_up_patches(job.instrument)) {
    try {
      const MockUpPatchPlan plan = plan_mock_up_patch(job.fit.tube(), patch, job.instrument.mouth_end, shop);
      tasks.push_back(task(plan.part(), "mock-up/" + file_name(patch.id),
                           [&job, plan](MadePart& part) { make_patch(plan, job, part); }));
    } catch (const GeometryError& error) {
      left_out.push_back(error.what());
    }
  }
  return tasks;
}

std::vector<PartTask> cradle_tasks(const Job& job, const Shop& shop, std::vector<std::string>& left_out) {
  std::vector<PartTask> tasks;
  if (!shop.cradles) return tasks;
  try {
    for (const CradleSet& set : plan_cradles(job.fit.tube(), job.instrument, shop)) add_set(set, job, tasks);
  } catch (const GeometryError& error) {
    left_out.push_back(error.what());
  }
  for (const BackingShoe& shoe : plan_backing(job.fit.tube(), job.instrument, shop).shoes) {
    tasks.push_back(task(shoe.name, "backing/" + file_name(shoe.name),
                         [&job, &shop, shoe](MadePart& part) { make_backing(shoe, job, shop, part); }));
  }
  return tasks;
}

JsonValue backing_json(const Job& job, const Shop& shop) {
  JsonValue list = JsonValue::array();
  for (const BoreAtHole& bore : plan_backing(job.fit.tube(), job.instrument, shop).bores) {
    JsonValue json = JsonValue::object();
    json.set("id", bore.id)
        .set("bore", bore.least_across)
        .set("way_in_from", bore.way.from == End::a ? "A" : "B")
        .set("way_in", bore.way.diameter)
        .set("narrowest", bore.way.narrowest);
    if (bore.why_none.empty()) {
      json.set("backing", bore.shoe);
    } else {
      json.set("no_backing", bore.why_none);
    }
    list.push(std::move(json));
  }
  return list;
}

}  // namespace culmwright::command
