/// What making an instrument costs, part by part, and how it grows with the holes: a bowed oval tube of 420
/// mm with 5, 20 and 60 holes. Prints seconds of one run and ratios; a benchmark, not a test.
#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <vector>

#include "plan/body_plan.hpp"
#include "plan/cup_plan.hpp"
#include "plan/guide_plan.hpp"
#include "plan/printing.hpp"
#include "shapes.hpp"
#include "solid/body_solid.hpp"
#include "solid/cup_solid.hpp"
#include "solid/guide_solid.hpp"
#include "step.hpp"
#include "stl.hpp"

using namespace culmwright;

namespace {

class Clock {
 public:
  double lap() {
    const auto now = std::chrono::steady_clock::now();
    const double seconds = std::chrono::duration<double>(now - last_).count();
    last_ = now;
    return seconds;
  }

 private:
  std::chrono::steady_clock::time_point last_ = std::chrono::steady_clock::now();
};

/// Holes of 8 mm in up to four rows around the tube, clear of the culm's nodes.
Instrument instrument_with(const Tube& tube, int holes) {
  Instrument instrument;
  instrument.id = "benchmark";
  instrument.tube_id = tube.id();
  instrument.mouth_cut_at = tube.end_a_at();
  instrument.foot_cut_at = tube.end_b_at();
  const int rows = holes > 20 ? 4 : 2;
  const int in_row = (holes + rows - 1) / rows;
  std::vector<double> places;
  for (double at = 30.0; at <= 390.0; at += 0.5) {
    bool clear = places.empty() || at - places.back() >= 330.0 / (in_row + 2);
    for (const Node& node : tube.nodes()) clear = clear && std::abs(at - node.at()) > 14.0;
    if (clear) places.push_back(at);
  }
  for (int i = 0; i < holes; ++i) {
    const int row = i % rows;
    const std::size_t place = static_cast<std::size_t>(i / rows);
    if (place >= places.size()) continue;
    PlacedKey key;
    key.key.id = "K" + std::to_string(i + 1);
    key.key.hole_diameter = 8.0;
    key.key.touch = {12.0, 12.0, 6.0};
    key.place = {places[place], -20.0 + row * 24.0};
    key.drilling = drilling_at(tube, key.place, HoleSquare::to_skin, 4.0);
    key.theta = tube.skin_point(key.place).theta;
    key.wall = tube.wall(key.place);
    instrument.keys.push_back(key);
  }
  return instrument;
}

struct Costs {
  double plan = 0.0, brep = 0.0, mesh = 0.0, write = 0.0;
  double total() const { return plan + brep + mesh + write; }
};

struct Written {
  std::size_t facets = 0, bytes = 0;
};

void finish(const Solid& solid, const MeshAccuracy& accuracy, const RigidMotion& lie, Clock& clock,
            Costs& costs, Written& written) {
  const OnBed bed = on_bed(solid.mesh(accuracy), lie);
  costs.mesh += clock.lap();
  written.facets += bed.mesh.triangles.size();
  written.bytes += stl_bytes(bed.mesh, solid.name()).size() + step_text(solid, solid.name()).size();
  costs.write += clock.lap();
}

double run(int holes) {
  const Tube tube(test::culm(420.0));
  const Shop shop;
  Clock clock;
  const Instrument instrument = instrument_with(tube, holes);
  const int count = static_cast<int>(instrument.keys.size());
  GateLog gate;
  Costs guides, cups, body;
  Written written;
  clock.lap();
  const std::vector<GuidePlan> plans = plan_guides(tube, instrument, shop);
  guides.plan += clock.lap();
  for (const GuidePlan& plan : plans) {
    const Solid solid = build_guide(plan, gate);
    guides.brep += clock.lap();
    finish(solid, guide_mesh_accuracy(), printing_position(plan, shop.printer), clock, guides, written);
  }
  for (const PlacedKey& key : instrument.keys) {
    const CupPlan plan = plan_cup(tube, key, shop, End::a);
    cups.plan += clock.lap();
    const Solid solid = cup_solid(plan, tube, gate);
    cups.brep += clock.lap();
    finish(solid, cup_accuracy, plan.lie, clock, cups, written);
  }
  const BodyPlan body_plan = plan_body(tube, instrument);
  body.plan += clock.lap();
  const Solid solid = body_solid(body_plan, tube, gate);
  body.brep += clock.lap();
  finish(solid, body_accuracy, RigidMotion{}, clock, body, written);

  const double total = guides.total() + cups.total() + body.total();
  std::printf("%d holes, %zu guides, %zu builds\n", count, plans.size(), gate.size());
  std::printf("  %-7s %8s %13s %8s %8s %8s\n", "", "plan", "B-rep + gate", "mesh", "write", "sum");
  const auto line = [](const char* name, const Costs& c) {
    std::printf("  %-7s %8.3f %13.3f %8.3f %8.3f %8.3f\n", name, c.plan, c.brep, c.mesh, c.write, c.total());
  };
  line("guides", guides);
  line("cups", cups);
  line("tube", body);
  std::printf("  %.2f s on one core, %zu facets, %.1f MB\n", total, written.facets,
              static_cast<double>(written.bytes) / 1e6);
  return total;
}

}  // namespace

int main() {
  const double five = run(5);
  const double twenty = run(20);
  const double sixty = run(60);
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::printf("20 to 5 holes: %.2f times the time; 60 to 20: %.2f. Peak memory %.0f MB.\n", twenty / five,
              sixty / twenty, static_cast<double>(usage.ru_maxrss) / 1024.0);
}
