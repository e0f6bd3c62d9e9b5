/// Refinement against closed forms and against another route to the same optimum.
#include <catch2/catch.hpp>

#include "settle_cases.hpp"

using namespace culmwright;
using namespace settle_cases;

namespace {

SettleVariable wanted_at(double at, double weight, double low, double high) {
  SettleVariable v;
  v.origin = low;
  v.cost_at = [=](double z) { return weight * (z - at) * (z - at); };
  const int count = static_cast<int>(std::lround((high - low) / v.step)) + 1;
  for (int k = 0; k < count; ++k) v.costs.push_back(v.cost_at(low + v.step * k));
  return v;
}

/// The least Σ w (z − t)² with z_{i+1} − z_i ≥ d_i: pooling of adjacent violators on z less the sums of d
/// (isotonic regression; Barlow et al. 1972, from memory).
std::vector<double> pooled(const std::vector<double>& wanted, const std::vector<double>& weights,
                           const std::vector<double>& distances) {
  struct Pool {
    double mean, weight;
    int count;
  };
  std::vector<double> shift = {0.0};
  for (const double d : distances) shift.push_back(shift.back() + d);
  std::vector<Pool> pools;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    pools.push_back({wanted[i] - shift[i], weights[i], 1});
    while (pools.size() > 1 && pools[pools.size() - 2].mean > pools.back().mean) {
      const Pool last = pools.back();
      pools.pop_back();
      Pool& pool = pools.back();
      pool.mean = (pool.mean * pool.weight + last.mean * last.weight) / (pool.weight + last.weight);
      pool.weight += last.weight;
      pool.count += last.count;
    }
  }
  std::vector<double> z;
  for (const Pool& pool : pools) {
    for (int k = 0; k < pool.count; ++k) z.push_back(pool.mean + shift[z.size()]);
  }
  return z;
}

}  // namespace

TEST_CASE("refined places are those of isotonic regression where keys push each other in a row") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Maker maker(seed, {});
    const int n = maker.whole(2, 9);
    SettleProblem problem;
    std::vector<double> wanted, weights, distances;
    for (int i = 0; i < n; ++i) {
      wanted.push_back(40.0 + 6.0 * i + maker.real(-9.0, 9.0));
      weights.push_back(maker.real(0.2, 3.0));
      problem.variables.push_back(wanted_at(wanted[i], weights[i], 0.0, 140.0));
      if (i == 0) continue;
      distances.push_back(maker.real(3.0, 11.0));
      problem.demands.push_back({i - 1, i, distances.back()});
    }
    INFO("seed " << seed);
    const Settled settled = std::get<Settled>(settle(problem));
    const Settled refined = refine(problem, settled);
    const std::vector<double> truth = pooled(wanted, weights, distances);
    CHECK(refined.cost <= settled.cost);
    CHECK(keeps(problem, refined.positions));
    for (int i = 0; i < n; ++i) CHECK(refined.positions[i] == Approx(truth[i]).epsilon(0).margin(5e-6));
  }
}

TEST_CASE("evenness alone puts keys at equal gaps between two locked ones") {
  SettleProblem problem;
  for (int i = 0; i < 5; ++i) problem.variables.push_back(wanted_at(20.0, 0.0, 0.0, 50.0));
  problem.variables[0].origin = 3.3;
  problem.variables[0].costs = {0.0};
  problem.variables[4].origin = 41.7;
  problem.variables[4].costs = {0.0};
  for (int i = 1; i < 5; ++i) {
    problem.demands.push_back({i - 1, i, 5.0});
    problem.pair_costs.push_back({i - 1, i, [](double gap) { return (gap - 8.0) * (gap - 8.0); }});
  }
  const Settled refined = refine(problem, std::get<Settled>(settle(problem)));
  for (int i = 0; i < 5; ++i) {
    CHECK(refined.positions[i] == Approx(3.3 + i * (41.7 - 3.3) / 4.0).epsilon(0).margin(5e-6));
  }
  CHECK(refined.cost == Approx(4.0 * 1.6 * 1.6).margin(1e-9));
}

TEST_CASE("refinement stays out of forbidden stretches and within the leeway") {
  SettleProblem problem;
  problem.variables = {wanted_at(10.2, 1.0, 0.0, 20.0), wanted_at(15.0, 1.0, 0.0, 20.0)};
  for (int k = 19; k <= 22; ++k) problem.variables[0].costs[k] = forbidden_place;  // 9.5 … 11
  problem.variables[1].greatest = 14.6;
  const Settled refined = refine(problem, std::get<Settled>(settle(problem)));
  CHECK(refined.positions[0] == 9.0);
  CHECK(refined.positions[1] == Approx(14.6).epsilon(0).margin(1e-9));
}

TEST_CASE("refinement makes nothing worse, breaks nothing and keeps the orders") {
  int better = 0;
  for (std::uint64_t seed = 5001; seed <= 5150; ++seed) {
    Style style;
    style.length_grain = 0.07;
    const SettleProblem problem = Maker(seed, style).problem();
    const auto result = settle(problem);
    if (!std::holds_alternative<Settled>(result)) continue;
    INFO("seed " << seed);
    const Settled& settled = std::get<Settled>(result);
    const Settled refined = refine(problem, settled);
    CHECK(refined.cost <= settled.cost + 1e-12);
    CHECK(keeps(problem, refined.positions));
    CHECK(refined.a_first == settled.a_first);
    const Places places = places_of(problem);
    for (std::size_t i = 0; i < places.size(); ++i) {
      CHECK(std::any_of(places[i].begin(), places[i].end(), [&](const Stretch& s) {
        return refined.positions[i] >= s.from - 1e-9 && refined.positions[i] <= s.to + 1e-9;
      }));
    }
    if (refined.cost < settled.cost - 1e-6) ++better;
  }
  CHECK(better > 30);
}
