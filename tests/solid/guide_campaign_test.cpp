/// Random jobs for guides: sound, or refused by name. A few by default; many with CULMWRIGHT_LONG_TESTS set,
/// to a number of jobs or to anything else for 200.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <map>
#include <string>

#include "random_guides.hpp"
#include "solid/guide_solid.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

struct Tally {
  int jobs = 0;
  int refused = 0;
  int guides = 0;
  int by_stop[5] = {0, 0, 0, 0, 0};
  int at_nodes = 0;  ///< guides with an end within a node's band
  int first_builds = 0;
  int retries = 0;
  int refused_by_gate = 0;
  int general_meshes = 0;
  std::map<std::string, int> reasons;
};

/// The words of a refusal without its figures and names: refusals are counted by them.
std::string kind_of(const GeometryError& error) {
  std::string kind;
  for (const char c : std::string(error.what())) {
    const bool digit = c >= '0' && c <= '9';
    const bool again = digit && !kind.empty() && kind.back() == '#';
    if (!again) kind += digit ? '#' : c;
  }
  for (std::size_t dot = kind.find("#.#"); dot != std::string::npos; dot = kind.find("#.#")) {
    kind.replace(dot, 3, "#");
  }
  return kind;
}

bool ends_at_node(const GuidePlan& plan, const Tube& tube) {
  return std::any_of(tube.nodes().begin(), tube.nodes().end(), [&](const Node& node) {
    const double half = 0.5 * node.band;
    return std::abs(plan.at.from - node.at()) < half || std::abs(plan.at.to - node.at()) < half;
  });
}

void build(const GuidePlan& plan, const Tube& tube, Tally& tally) {
  GateLog log;
  INFO(plan.name << " of job " << tally.jobs << ", " << tube.id());
  ++tally.guides;
  ++tally.by_stop[static_cast<int>(plan.stop)];
  tally.at_nodes += ends_at_node(plan, tube);
  try {
    build_guide(plan, log);
    tally.first_builds += log.size() == 1;
  } catch (const GeometryError& error) {
    ++tally.refused_by_gate;
    ++tally.reasons[kind_of(error)];
    FAIL_CHECK("job " << tally.jobs << ": " << error.what());
  }
  tally.retries += static_cast<int>(log.size()) - 1;
  for (const GateEntry& entry : log) {
    tally.general_meshes += !entry.meshing.empty();
    const bool told = entry.failure.empty() && entry.meshing.empty();
    if (!told) {
      std::printf("  job %d, %s: %s %s\n", tally.jobs, plan.name.c_str(), entry.failure.c_str(),
                  entry.meshing.c_str());
    }
  }
}

void run_job(Draw& draw, Tally& tally) {
  const Tube tube = random_tube(draw);
  ++tally.jobs;
  if (!check_shape(tube).empty()) {
    ++tally.refused;
    ++tally.reasons["shape"];
    return;
  }
  const Instrument instrument = random_instrument(draw, tube);
  Shop shop;
  if (draw.below(3) == 0) shop.bores = GuideBores::full_size;
  std::vector<GuidePlan> plans;
  try {
    plans = plan_guides(tube, instrument, shop);
  } catch (const GeometryError& error) {
    ++tally.refused;
    ++tally.reasons[kind_of(error)];
    return;
  }
  std::size_t drilled = 0;
  for (const GuidePlan& plan : plans) {
    drilled += plan.holes.size();
    build(plan, tube, tally);
  }
  CHECK(drilled == instrument.keys.size());
}

}  // namespace

TEST_CASE("guides of random tubes and holes are sound or refused by name") {
  const unsigned seed = 2718;
  Draw draw(seed);
  Tally tally;
  const int wanted = long_jobs(3, 200);
  while (tally.jobs < wanted) {
    run_job(draw, tally);
    if (tally.jobs % 100 == 0) std::printf("  %d jobs, %d guides\n", tally.jobs, tally.guides);
    std::fflush(stdout);
  }
  std::printf(
      "seed %u: %d jobs, %d refused, %d guides (%d stop on the line, %d stop elsewhere, %d pegs, %d joints, "
      "%d "
      "windows alone; %d end at a node):\n  %d sound when first built, %d builds again, %d refused by the "
      "gate, %d "
      "by "
      "the general mesher\n",
      seed, tally.jobs, tally.refused, tally.guides, tally.by_stop[0], tally.by_stop[1], tally.by_stop[2],
      tally.by_stop[3], tally.by_stop[4], tally.at_nodes, tally.first_builds, tally.retries,
      tally.refused_by_gate, tally.general_meshes);
  for (const auto& [reason, count] : tally.reasons) std::printf("  %d × %s\n", count, reason.c_str());
  CHECK(tally.guides > 0);
}
