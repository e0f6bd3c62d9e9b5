/// What key cups cost: 60 of all kinds on a bowed oval tube, from the plan to the STL on disk, ids and gate
/// included, with one thread and with all. Prints seconds and ratios of one run; a benchmark, not a test.
/// `benchmark_cups FOLDER` leaves one file of each kind there to be looked at.
#include <time.h>

#include <atomic>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "plan/cup_plan.hpp"
#include "plan/printing.hpp"
#include "plan/sample_cups.hpp"
#include "solid/cup_solid.hpp"
#include "stl.hpp"

using namespace culmwright;

namespace {

double seconds_of(clockid_t clock) {
  timespec time{};
  clock_gettime(clock, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

struct Sample {
  std::string name;
  PlacedKey key;
};

PlacedKey shaped(const Tube& tube, SkinPlace place, double hole, CupKind kind, const Touch& touch,
                 const CupShape& shape) {
  PlacedKey key = samples::placed_key(tube, place, hole, kind, touch);
  key.key.cup_shape = shape;
  return key;
}

/// Every kind and every profile that it may have.
std::vector<Sample> samples_on(const Tube& tube) {
  CupShape domed, tilted, flush, flat, facet, bare, rectangle;
  domed.surface = TouchSurface::domed;
  tilted.tilt = Angle::from_degrees(8.0);
  tilted.tilt_toward = Angle::from_degrees(60.0);
  flush.flush = true;
  flat.surface = TouchSurface::flat;
  facet.land = PadLand::facet;
  facet.pad_thickness = 3.0;
  bare.lugs = false;
  rectangle.recess = Recess{8.6, 6.4, 3.5};
  const Touch round{16, 16, 8};
  const Touch large{18, 18, 9};
  const Touch side{18, 13, 4};
  const auto at = [](int i) { return SkinPlace{25.0 + 6.2 * i, -30.0 + 17.0 * (i % 4)}; };
  int i = 0;
  const auto next = [&](const char* name, double hole, CupKind kind, const Touch& touch,
                        const CupShape& shape) {
    return Sample{name, shaped(tube, at(i++), hole, kind, touch, shape)};
  };
  std::vector<Sample> list;
  while (list.size() < 60) {
    list.push_back(next("cap-dished", 9, CupKind::touch_cap, round, {}));
    list.push_back(next("cap-domed", 9, CupKind::touch_cap, round, domed));
    list.push_back(next("cap-tilted", 9, CupKind::touch_cap, round, tilted));
    list.push_back(next("cap-flush", 11, CupKind::touch_cap, round, flush));
    list.push_back(next("cap-flat", 8, CupKind::touch_cap, side, flat));
    list.push_back(next("seat", 9, CupKind::switch_seat, large, {}));
    list.push_back(next("seat-rectangle", 9, CupKind::switch_seat, side, rectangle));
    list.push_back(next("padded", 9, CupKind::padded_cup, round, {}));
    list.push_back(next("padded-facet", 9, CupKind::padded_cup, large, facet));
    list.push_back(next("padded-bare", 9, CupKind::padded_cup, round, bare));
    list.push_back(next("plug", 9, CupKind::plug, round, {}));
    list.push_back(next("sleeve", 11, CupKind::sleeve, round, {}));
  }
  for (std::size_t k = 0; k < list.size(); ++k) list[k].key.key.id = "K" + std::to_string(k + 1);
  return list;
}

struct Costs {
  double plan = 0.0, solid = 0.0, files = 0.0;
  std::size_t facets = 0, builds = 0;
};

/// Plan to STL on disk; processor seconds of this thread.
Costs run(const Tube& tube, const Sample& sample, const std::filesystem::path& file) {
  Costs costs;
  double last = seconds_of(CLOCK_THREAD_CPUTIME_ID);
  const auto lap = [&] {
    const double now = seconds_of(CLOCK_THREAD_CPUTIME_ID);
    return now - std::exchange(last, now);
  };
  const CupPlan plan = plan_cup(tube, sample.key, Shop{}, End::a);
  costs.plan = lap();
  GateLog log;
  const Solid solid = cup_solid(plan, tube, log);
  costs.solid = lap();
  const OnBed bed = on_bed(solid.mesh(cup_accuracy), plan.lie);
  std::ofstream(file, std::ios::binary) << stl_bytes(bed.mesh, plan.part());
  costs.files = lap();
  costs.facets = bed.mesh.triangles.size();
  costs.builds = log.size();
  return costs;
}

struct Total {
  double wall = 0.0, processor = 0.0;
  std::vector<Costs> costs;
};

Total run_all(const Tube& tube, const std::vector<Sample>& list, std::size_t count, unsigned threads,
              const std::filesystem::path& folder) {
  Total total;
  total.costs.resize(count);
  std::atomic<std::size_t> next{0};
  const double processor = seconds_of(CLOCK_PROCESS_CPUTIME_ID);
  const double wall = seconds_of(CLOCK_MONOTONIC);
  std::vector<std::thread> workers;
  for (unsigned t = 0; t < threads; ++t) {
    workers.emplace_back([&] {
      for (std::size_t i = next++; i < count; i = next++) {
        total.costs[i] = run(tube, list[i], folder / (list[i].name + "-" + std::to_string(i) + ".stl"));
      }
    });
  }
  for (std::thread& worker : workers) worker.join();
  total.wall = seconds_of(CLOCK_MONOTONIC) - wall;
  total.processor = seconds_of(CLOCK_PROCESS_CPUTIME_ID) - processor;
  return total;
}

void kinds_table(const std::vector<Sample>& list, const Total& total) {
  std::printf("  %-15s %8s %18s %8s %8s   %s\n", "kind", "plan", "B-rep, mesh, gate", "STL", "sum", "facets");
  for (std::size_t first = 0; first < 12; ++first) {
    Costs sum;
    for (std::size_t i = first; i < list.size(); i += 12) {
      sum.plan += total.costs[i].plan;
      sum.solid += total.costs[i].solid;
      sum.files += total.costs[i].files;
      sum.facets += total.costs[i].facets;
    }
    const double count = static_cast<double>(list.size()) / 12.0;
    std::printf("  %-15s %8.4f %18.4f %8.4f %8.4f   %6.0f\n", list[first].name.c_str(), sum.plan / count,
                sum.solid / count, sum.files / count, (sum.plan + sum.solid + sum.files) / count,
                static_cast<double>(sum.facets) / count);
  }
}

}  // namespace

int main(int count, char** words) {
  namespace fs = std::filesystem;
  const bool keep = count > 1;
  const fs::path folder = keep ? fs::path(words[1]) : fs::temp_directory_path() / "culmwright-benchmark-cups";
  fs::create_directories(folder);
  const Tube tube(test::culm());
  const std::vector<Sample> list = samples_on(tube);
  if (keep) {
    run_all(tube, list, 12, 1, folder);
    return 0;
  }
  const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
  const Total twenty = run_all(tube, list, 20, 1, folder);
  const Total alone = run_all(tube, list, 60, 1, folder);
  const Total together = run_all(tube, list, 60, cores, folder);
  fs::remove_all(folder);
  std::printf("A cup of each kind, means of five (processor seconds)\n");
  kinds_table(list, alone);
  std::size_t builds = 0;
  for (const Costs& costs : alone.costs) builds += costs.builds;
  std::printf("60 cups, plan to STL on disk, ids and gate included; %zu builds\n", builds);
  std::printf("  one thread  %6.3f s, %6.3f s of processor; 60 to 20 cups: %.2f times the time\n", alone.wall,
              alone.processor, alone.processor / twenty.processor);
  std::printf(
      "  %u threads   %6.3f s, %6.3f s of processor, %.3f s of it a core; %.2f of one thread's time\n", cores,
      together.wall, together.processor, together.processor / cores, together.wall / alone.wall);
}
