/// Random jobs for guides: sound, or refused by name. A few by default; many with CULMWRIGHT_LONG_TESTS set,
/// to a number of jobs or to anything else for 200.
#include <catch2/catch.hpp>
#include <cstdio>
#include <map>

#include "random_guides.hpp"
#include "solid/guide_solid.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

struct Tally {
  int jobs = 0;
  int refused = 0;
  int guides = 0;
  int by_stop[4] = {0, 0, 0, 0};
  int retries = 0;
  std::map<std::string, int> reasons;
};

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
    const std::string what = error.what();
    ++tally.reasons[what.substr(0, what.find_first_of("0123456789"))];
    CHECK_FALSE(what.empty());
    return;
  }
  std::size_t drilled = 0;
  for (const GuidePlan& plan : plans) {
    GateLog log;
    INFO(plan.name << " of job " << tally.jobs << ", " << tube.id());
    ++tally.guides;
    ++tally.by_stop[static_cast<int>(plan.stop)];
    drilled += plan.holes.size();
    try {
      build_guide(plan, log);
      tally.retries += static_cast<int>(log.size()) - 1;
    } catch (const GeometryError& error) {
      FAIL_CHECK("job " << tally.jobs << ": " << error.what());
    }
  }
  CHECK(drilled == instrument.keys.size());
}

}  // namespace

TEST_CASE("guides of random tubes and holes are sound or refused by name") {
  const unsigned seed = 2718;
  Draw draw(seed);
  Tally tally;
  const int wanted = long_jobs(3, 200);
  while (tally.jobs < wanted) run_job(draw, tally);
  std::printf(
      "seed %u: %d jobs, %d refused, %d guides sound (%d stop on the line, %d stop elsewhere, %d pegs, "
      "%d windows alone), %d retries\n",
      seed, tally.jobs, tally.refused, tally.guides, tally.by_stop[0], tally.by_stop[1], tally.by_stop[2],
      tally.by_stop[3], tally.retries);
  for (const auto& [reason, count] : tally.reasons) std::printf("  %d × %s\n", count, reason.c_str());
  CHECK(tally.guides > 0);
}
