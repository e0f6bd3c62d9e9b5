/// What making an instrument costs, part by part, and how it grows with the holes: a bowed oval tube with 5
/// to 200 holes. Prints seconds of processor time of one run and ratios; a benchmark, not a test. On a
/// machine with other work, pin it to one core (taskset -c 0): processor time leaves out what others take.
#include <sys/resource.h>
#include <time.h>

#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
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
    const double now = processor_seconds();
    const double seconds = now - last_;
    last_ = now;
    return seconds;
  }

  static double processor_seconds() {
    timespec time{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
  }

 private:
  double last_ = processor_seconds();
};

/// Of the process so far, from its start.
double whole_process_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

double peak_memory_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

/// Holes of 8 mm in up to four rows around the tube, clear of the culm's nodes.
Instrument instrument_with(const Tube& tube, int holes) {
  Instrument instrument;
  instrument.id = "benchmark";
  instrument.tube_id = tube.id();
  instrument.mouth_cut_at = tube.end_a_at();
  instrument.foot_cut_at = tube.end_b_at();
  const int rows = holes > 20 ? 4 : 2;
  const int in_row = (holes + rows - 1) / rows;
  const double last = tube.end_b_at() - 30.0;
  std::vector<double> places;
  for (double at = 30.0; at <= last; at += 0.5) {
    bool clear = places.empty() || at - places.back() >= (last - 60.0) / (in_row + 2);
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

/// A tube as long as its holes want it: 200 do not fit where 60 are dense already.
Tube tube_for(int holes) {
  return Tube(test::culm(holes > 60 ? 7.0 * holes : 420.0));
}

void write_file(const std::string& name, const std::string& bytes) {
  const auto path = std::filesystem::temp_directory_path() / name;
  std::ofstream(path, std::ios::binary) << bytes;
  std::filesystem::remove(path);
}

/// From the plan to STL on disk, letters and gate included, stage by stage.
struct GuideCosts {
  double plan = 0.0, expect = 0.0, brep = 0.0, mesh = 0.0, gate = 0.0, write = 0.0;
  double total() const { return plan + expect + brep + mesh + gate + write; }
};

double run_guides(int holes, bool letters) {
  const Tube tube = tube_for(holes);
  const Shop shop;
  const Instrument instrument = instrument_with(tube, holes);
  GuideCosts costs;
  Clock clock;
  std::vector<GuidePlan> plans = plan_guides(tube, instrument, shop);
  costs.plan += clock.lap();
  std::size_t facets = 0;
  for (GuidePlan& plan : plans) {
    if (!letters) plan.texts.clear();
    clock.lap();
    const Expectation expected = expectation_of(plan);
    costs.expect += clock.lap();
    const Solid solid = build_guide(plan, 0.0);
    costs.brep += clock.lap();
    const Mesh mesh = solid.mesh(guide_mesh_accuracy());
    costs.mesh += clock.lap();
    require_sound(hold(solid, expected, guide_mesh_accuracy()), "gate");
    costs.gate += clock.lap();
    const OnBed bed = on_bed(mesh, printing_position(plan, shop.printer));
    write_file("culmwright-benchmark.stl", stl_bytes(bed.mesh, plan.name));
    costs.write += clock.lap();
    facets += mesh.triangles.size();
  }
  std::printf("  %3zu holes %-11s %2zu guides  %6.3f %6.3f %6.3f %6.3f %6.3f %6.3f   %6.3f s  %6zu facets\n",
              instrument.keys.size(), letters ? "with text" : "without", plans.size(), costs.plan,
              costs.expect, costs.brep, costs.mesh, costs.gate, costs.write, costs.total(), facets);
  return costs.total();
}

void guide_table(bool many) {
  std::printf("Guides, plan to STL on disk, gate included (processor seconds, one thread)\n");
  std::printf("  %33s  %6s %6s %6s %6s %6s %6s   %6s\n", "", "plan", "expect", "B-rep", "mesh", "gate", "STL",
              "sum");
  double before = 0.0;
  int holes_before = 0;
  for (const int holes : {5, 20, 60, 200}) {
    if (holes > 60 && !many) break;
    run_guides(holes, false);
    const double total = run_guides(holes, true);
    if (before > 0.0) {
      std::printf("      %d to %d holes: %.2f times the time for %.2f times the holes\n", holes, holes_before,
                  total / before, static_cast<double>(holes) / holes_before);
    }
    before = total;
    holes_before = holes;
  }
  std::printf("  whole process so far %.2f s, peak memory %.0f MB\n", whole_process_seconds(),
              peak_memory_mb());
}

struct Costs {
  double plan = 0.0, solid = 0.0, mesh = 0.0, write = 0.0;
  double total() const { return plan + solid + mesh + write; }
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

/// Everything of an instrument, STEP included.
double run_all(int holes) {
  const Tube tube = tube_for(holes);
  const Shop shop;
  Clock clock;
  const Instrument instrument = instrument_with(tube, holes);
  GateLog gate;
  Costs guides, cups, body;
  Written written;
  clock.lap();
  const std::vector<GuidePlan> plans = plan_guides(tube, instrument, shop);
  guides.plan += clock.lap();
  for (const GuidePlan& plan : plans) {
    const Solid solid = build_guide(plan, gate);
    guides.solid += clock.lap();
    finish(solid, guide_mesh_accuracy(), printing_position(plan, shop.printer), clock, guides, written);
  }
  for (const PlacedKey& key : instrument.keys) {
    const CupPlan plan = plan_cup(tube, key, shop, End::a);
    cups.plan += clock.lap();
    const Solid solid = cup_solid(plan, tube, gate);
    cups.solid += clock.lap();
    finish(solid, cup_accuracy, plan.lie, clock, cups, written);
  }
  const BodyPlan body_plan = plan_body(tube, instrument);
  body.plan += clock.lap();
  const Solid solid = body_solid(body_plan, tube, gate);
  body.solid += clock.lap();
  finish(solid, body_accuracy, RigidMotion{}, clock, body, written);

  const double total = guides.total() + cups.total() + body.total();
  int general = 0;
  for (const GateEntry& entry : gate) general += !entry.meshing.empty();
  std::printf("%zu holes, %zu guides, %zu builds, %d of them by the general mesher\n", instrument.keys.size(),
              plans.size(), gate.size(), general);
  std::printf("  %-7s %8s %20s %8s %14s %8s\n", "", "plan", "B-rep, mesh + gate", "mesh", "STEP and STL",
              "sum");
  const auto line = [](const char* name, const Costs& c) {
    std::printf("  %-7s %8.3f %20.3f %8.3f %14.3f %8.3f\n", name, c.plan, c.solid, c.mesh, c.write,
                c.total());
  };
  line("guides", guides);
  line("cups", cups);
  line("tube", body);
  std::printf("  %.2f s, %zu facets, %.1f MB\n", total, written.facets,
              static_cast<double>(written.bytes) / 1e6);
  return total;
}

}  // namespace

/// `benchmark_make guides` leaves out the rest; `benchmark_make guides 200` takes on 200 holes as well.
int main(int count, char** words) {
  guide_table(count > 2);
  if (count > 1 && std::strcmp(words[1], "guides") == 0) return 0;
  std::printf("\nWhole instruments: guides, cups, tube body; STEP with the kernel's own analysis, and STL\n");
  const double five = run_all(5);
  const double twenty = run_all(20);
  const double sixty = run_all(60);
  std::printf(
      "20 to 5 holes: %.2f times the time; 60 to 20: %.2f. Whole process %.2f s, peak memory %.0f MB.\n",
      twenty / five, sixty / twenty, whole_process_seconds(), peak_memory_mb());
}
