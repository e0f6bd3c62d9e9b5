/// How long settling takes, printed as times and ratios of one run. A made-up instrument: 17 variables in
/// three rows along one tube (two rows of finger keys, one of side keys) that hold each other apart across
/// the rows.
#include <chrono>
#include <cmath>
#include <cstdio>
#include <random>

#include "fit/settle_lattice.hpp"

namespace {

using namespace culmwright;

/// Seconds for one call, the least mean of three batches that last 0.1 s or more each.
template <class F>
double seconds_for(const F& call) {
  using Clock = std::chrono::steady_clock;
  double least = 1e9;
  for (int batch = 0; batch < 3; ++batch) {
    const auto begin = Clock::now();
    double passed = 0.0;
    int calls = 0;
    do {
      call();
      ++calls;
      passed = std::chrono::duration<double>(Clock::now() - begin).count();
    } while (passed < 0.1);
    least = std::min(least, passed / calls);
  }
  return least;
}

SettleVariable key(std::mt19937_64& random, double wanted, double reach, int values) {
  SettleVariable v;
  v.step = 2.0 * reach / (values - 1);
  v.origin = wanted - reach;
  std::uniform_real_distribution<double> wood(0.0, 0.5);
  for (int k = 0; k < values; ++k) {
    const double z = v.origin + v.step * k;
    const double from_node = std::abs(std::remainder(z - 40.0, 130.0));
    const double departure = z - wanted;
    v.costs.push_back(from_node < 9.0 ? forbidden_place : 0.02 * departure * departure + wood(random));
  }
  return v;
}

/// `rows`: whether keys of different rows hold each other apart; without it three chains remain.
SettleProblem instrument(std::uint64_t seed, int values, bool rows) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> scatter(0.0, 4.0);
  SettleProblem problem;
  for (int i = 0; i < 17; ++i) {
    const double wanted = 60.0 + 23.0 * i + scatter(random);
    problem.variables.push_back(key(random, wanted, 15.0, values));
  }
  for (int i = 0; i < 17; ++i) {
    const int next = i + 3;
    if (rows && i + 1 < 17) problem.demands.push_back({i, i + 1, 14.0, 0});
    if (rows && i + 2 < 17) problem.demands.push_back({i, i + 2, 31.0, 1});
    if (next >= 17) continue;
    problem.demands.push_back({i, next, 45.0, 2});
    problem.pair_costs.push_back({i, next, [](double gap) { return 0.01 * (gap - 69.0) * (gap - 69.0); }});
  }
  return problem;
}

void fixpoint() {
  const SettleProblem problem = instrument(1, 60, true);
  Lattice lattice;
  const double whole = seconds_for([&] {
    lattice.assign(problem, false);
    lattice.search();
  });
  const double search = seconds_for([&] { lattice.search(); });
  std::printf("fixpoint, 17 variables, %zu demands: %.2f us, with taking over the problem %.2f us\n",
              problem.demands.size(), 1e6 * search, 1e6 * whole);
}

void optimum(int values) {
  const SettleProblem rows = instrument(1, values, true);
  const SettleProblem chains = instrument(1, values, false);
  double worst = 0.0;
  double sum = 0.0;
  double whole = 0.0;
  constexpr int many = 5;
  for (std::uint64_t seed = 1; seed <= many; ++seed) {
    const SettleProblem problem = instrument(seed, values, true);
    const double t = seconds_for([&] { settle(problem); });
    whole += values > 200 ? 0.0 : seconds_for([&] { settle(problem, SettleMethod::cut); });
    sum += t;
    worst = std::max(worst, t);
  }
  const double by_tree = seconds_for([&] { settle(chains); });
  const double by_cut = seconds_for([&] { settle(chains, SettleMethod::cut); });
  const auto settled = settle(rows);
  std::printf("optimum, 17 x %3d values: %.2f ms (worst of %d: %.2f ms)\n", values, 1e3 * sum / many, many,
              1e3 * worst);
  if (whole > 0.0) {
    std::printf("  without leaving out values %.2f ms, ratio %.1f\n", 1e3 * whole / many, whole / sum);
  }
  std::printf("  three chains by tree %.2f ms, by cut %.2f ms, ratio %.1f\n", 1e3 * by_tree, 1e3 * by_cut,
              by_cut / by_tree);
  if (const Settled* s = std::get_if<Settled>(&settled)) {
    const double refined = seconds_for([&] { refine(rows, *s); });
    std::printf("  refinement off the values %.2f ms, cost %.6f -> %.6f\n", 1e3 * refined, s->cost,
                refine(rows, *s).cost);
  }
}

void orders() {
  SettleProblem problem = instrument(2, 60, true);
  problem.demands.clear();
  for (int i = 0; i < 17; ++i) {
    for (int j = i + 1; j < std::min(17, i + 3); ++j) problem.reversible.push_back({i, j, 24.0, 24.0, 0});
  }
  const double time = seconds_for([&] { settle(problem); });
  std::printf("orders, %zu reversible pairs: %.2f ms\n", problem.reversible.size(), 1e3 * time);
}

void reason() {
  SettleProblem problem = instrument(1, 60, true);
  for (Demand& d : problem.demands) d.distance *= 1.6;
  const auto result = settle(problem);
  const double time = seconds_for([&] { settle(problem); });
  std::printf("reason: %s, %.2f ms\n", std::holds_alternative<Blocked>(result) ? "blocked" : "settled",
              1e3 * time);
}

}  // namespace

int main() {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  fixpoint();
  for (const int values : {60, 200, 400}) optimum(values);
  orders();
  reason();
}
