/// The optimum and the lattice against trying everything, seed printed.
#include <catch2/catch.hpp>

#include "fit/settle_lattice.hpp"
#include "settle_cases.hpp"

using namespace culmwright;
using namespace settle_cases;

namespace {

void agrees_with_trying_everything(const SettleProblem& problem, SettleMethod method) {
  const Exhaustive truth = try_everything(problem);
  const auto result = settle(problem, method);
  if (!truth.feasible()) {
    REQUIRE_FALSE((std::holds_alternative<Settled>(result) && std::get<Settled>(result).on_values));
    return;
  }
  REQUIRE(std::holds_alternative<Settled>(result));
  const Settled& settled = std::get<Settled>(result);
  CHECK(settled.on_values);
  CHECK(settled.cost == Approx(truth.least_cost).epsilon(0).margin(1e-9));
  REQUIRE(keeps(problem, settled.positions));
  double sum = 0.0;
  for (const double c : settled.unary_costs) sum += c;
  for (const double c : settled.pair_costs) sum += c;
  CHECK(sum == Approx(settled.cost).epsilon(0).margin(1e-12));
  for (std::size_t r = 0; r < problem.reversible.size(); ++r) {
    const ReversibleDemand& d = problem.reversible[r];
    const double gap = settled.positions[d.b] - settled.positions[d.a];
    CHECK((settled.a_first[r] ? gap >= d.distance_a_first - 1e-9 : -gap >= d.distance_b_first - 1e-9));
  }
}

struct Count {
  int feasible = 0;
  int blocked = 0;
};

}  // namespace

TEST_CASE("the optimum on the values is the one found by trying everything") {
  const double crowding = GENERATE(0.7, 1.2, 2.0);
  Count count;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    Style style;
    style.crowding = crowding;
    SettleProblem problem = Maker(seed, style).problem();
    problem.between_values = seed % 2 == 0;
    INFO("seed " << seed << ", crowding " << crowding);
    agrees_with_trying_everything(problem, SettleMethod::automatic);
    agrees_with_trying_everything(problem, SettleMethod::cut);
    ++(try_everything(problem).feasible() ? count.feasible : count.blocked);
  }
  CHECK(count.feasible > 60);
  CHECK(count.blocked > 10);
}

TEST_CASE("the optimum on the values is exact for lengths off the grid and steps that differ") {
  for (std::uint64_t seed = 1001; seed <= 1300; ++seed) {
    Style style;
    style.length_grain = 0.07;
    style.one_step = false;
    SettleProblem problem = Maker(seed, style).problem();
    problem.between_values = false;
    INFO("seed " << seed);
    agrees_with_trying_everything(problem, SettleMethod::automatic);
    agrees_with_trying_everything(problem, SettleMethod::cut);
  }
}

TEST_CASE("there is a way between the values exactly where stretches and orders, all tried, leave one") {
  Count count;
  int only_between = 0;
  for (std::uint64_t seed = 2001; seed <= 2600; ++seed) {
    Style style;
    style.length_grain = 0.07;
    style.one_step = seed % 2 == 0;
    style.crowding = 1.3;
    const SettleProblem problem = Maker(seed, style).problem();
    INFO("seed " << seed);
    const bool truth = way_between(problem);
    REQUIRE(feasible(problem) == truth);
    const auto result = settle(problem);
    REQUIRE(std::holds_alternative<Settled>(result) == truth);
    ++(truth ? count.feasible : count.blocked);
    if (!truth) continue;
    const Settled& settled = std::get<Settled>(result);
    CHECK(keeps(problem, settled.positions));
    CHECK(value(problem, settled.positions).kept);
    if (!settled.on_values) ++only_between;
  }
  CHECK(count.feasible > 60);
  CHECK(count.blocked > 60);
  CHECK(only_between > 5);
}

TEST_CASE("the least and the greatest point are those of all feasible points") {
  int compared = 0;
  for (std::uint64_t seed = 3001; seed <= 3300; ++seed) {
    SettleProblem problem = Maker(seed, {}).problem();
    problem.reversible.clear();
    INFO("seed " << seed);
    const Exhaustive truth = try_everything(problem);
    Lattice lattice;
    lattice.assign(problem, true);
    REQUIRE(lattice.settle_bounds() == truth.feasible());
    if (!truth.feasible()) continue;
    ++compared;
    for (std::size_t i = 0; i < problem.variables.size(); ++i) {
      CHECK(lattice.least()[i] == Approx(truth.low[i]).epsilon(0).margin(1e-9));
      CHECK(lattice.greatest()[i] == Approx(truth.high[i]).epsilon(0).margin(1e-9));
    }
  }
  CHECK(compared > 150);
}

TEST_CASE("a chain and a tree settle to the same places by dynamic programming and by cut") {
  for (std::uint64_t seed = 4001; seed <= 4040; ++seed) {
    Maker maker(seed, {});
    SettleProblem problem;
    for (int i = 0; i < 14; ++i) {
      SettleVariable v;
      v.origin = 2.0 * i;
      for (int k = 0; k < 40; ++k)
        v.costs.push_back(maker.whole(0, 12) == 0 ? forbidden_place : maker.real(0.0, 9.0));
      problem.variables.push_back(v);
      if (i == 0) continue;
      const int parent = seed % 2 == 0 ? i - 1 : maker.whole(0, i - 1);
      const double wanted = maker.real(2.0, 4.0);
      problem.demands.push_back({parent, i, maker.length(0.0, 2.0)});
      problem.pair_costs.push_back(
          {parent, i, [wanted](double gap) { return 0.3 * (gap - wanted) * (gap - wanted); }});
    }
    INFO("seed " << seed);
    const auto tree = settle(problem);
    const auto cut = settle(problem, SettleMethod::cut);
    REQUIRE(std::holds_alternative<Settled>(tree) == std::holds_alternative<Settled>(cut));
    if (!std::holds_alternative<Settled>(tree)) continue;
    CHECK(std::get<Settled>(tree).cost == Approx(std::get<Settled>(cut).cost).epsilon(0).margin(1e-9));
    CHECK(std::get<Settled>(tree).positions == std::get<Settled>(cut).positions);
  }
}

TEST_CASE("leaving out values that no optimum takes leaves the optimum") {
  int compared = 0;
  for (std::uint64_t seed = 6001; seed <= 6080; ++seed) {
    Maker maker(seed, {});
    SettleProblem problem;
    const int n = maker.whole(4, 9);
    for (int i = 0; i < n; ++i) {
      SettleVariable v;
      v.origin = maker.length(0.0, 4.0 * i);
      const double wanted = v.origin + maker.real(0.0, 15.0);
      const double weight = maker.real(0.0, 2.0);
      for (int k = 0; k < 30; ++k) {
        const double z = v.origin + 0.5 * k;
        v.costs.push_back(maker.whole(0, 12) == 0 ? forbidden_place
                                                  : weight * std::abs(z - wanted) + maker.real(0.0, 3.0));
      }
      problem.variables.push_back(v);
      for (int j = 0; j < i; ++j) {
        const double wanted_gap = maker.real(0.0, 6.0);
        if (maker.whole(0, 2) == 0) problem.demands.push_back({j, i, maker.length(-2.0, 3.0)});
        if (maker.whole(0, 2) == 0)
          problem.pair_costs.push_back(
              {i, j, [=](double gap) { return weight * (gap + wanted_gap) * (gap + wanted_gap); }});
        if (maker.whole(0, 4) == 0) problem.reversible.push_back({j, i, 2.0, 1.0});
      }
    }
    INFO("seed " << seed);
    const auto pruned = settle(problem);
    const auto whole = settle(problem, SettleMethod::cut);
    REQUIRE(std::holds_alternative<Settled>(pruned) == std::holds_alternative<Settled>(whole));
    if (!std::holds_alternative<Settled>(pruned)) continue;
    ++compared;
    CHECK(std::get<Settled>(pruned).cost ==
          Approx(std::get<Settled>(whole).cost).epsilon(1e-12).margin(1e-9));
  }
  CHECK(compared > 40);
}

TEST_CASE("a locked key stays, and its neighbours make room") {
  SettleProblem problem;
  for (const double at : {10.0, 20.0, 30.0}) {
    SettleVariable v;
    v.origin = at - 10.0;
    for (int k = 0; k <= 40; ++k) v.costs.push_back(std::abs(v.origin + 0.5 * k - at));
    problem.variables.push_back(v);
  }
  problem.variables[1].origin = 17.5;
  problem.variables[1].costs = {0.0};
  problem.demands = {{0, 1, 10.0}, {1, 2, 14.0}};
  const Settled settled = std::get<Settled>(settle(problem));
  CHECK(settled.positions == std::vector<double>{7.5, 17.5, 31.5});
  CHECK(settled.cost == Approx(4.0));
}

TEST_CASE("demands that fit the line but not the grid settle between the values") {
  // 3 gaps of 3.3 on a line of 9.9: every place is forced.
  SettleProblem problem;
  for (int i = 0; i < 4; ++i) {
    SettleVariable v;
    v.costs.assign(21, 1.0);
    v.greatest = 9.9;
    problem.variables.push_back(v);
    if (i > 0) problem.demands.push_back({i - 1, i, 3.3});
  }
  const Settled settled = std::get<Settled>(settle(problem));
  CHECK_FALSE(settled.on_values);
  for (int i = 0; i < 4; ++i) CHECK(settled.positions[i] == Approx(3.3 * i).margin(1e-9));
  problem.between_values = false;
  CHECK(std::holds_alternative<Blocked>(settle(problem)));
}

TEST_CASE("a problem without variables, and one without demands, settle") {
  CHECK(std::get<Settled>(settle(SettleProblem{})).positions.empty());
  SettleProblem problem;
  problem.variables.resize(2);
  problem.variables[0].costs = {3.0, 1.0, 2.0};
  problem.variables[1].costs = {forbidden_place, 5.0};
  const Settled settled = std::get<Settled>(settle(problem));
  CHECK(settled.positions == std::vector<double>{0.5, 0.5});
  CHECK(settled.cost == 6.0);
}

TEST_CASE("pairs that may pass each other are settled in the cheaper order") {
  // Wanted at 10 and 11, 6 apart either way: the cost of moving decides.
  SettleProblem problem;
  const auto wanted_at = [](double at, double weight) {
    SettleVariable v;
    for (int k = 0; k <= 40; ++k) v.costs.push_back(weight * std::abs(0.5 * k - at));
    return v;
  };
  problem.variables = {wanted_at(10.0, 1.0), wanted_at(11.0, 3.0)};
  problem.reversible = {{0, 1, 6.0, 6.0}};
  const Settled settled = std::get<Settled>(settle(problem));
  CHECK(settled.a_first == std::vector<bool>{true});
  CHECK(settled.positions == std::vector<double>{5.0, 11.0});
  problem.reversible = {{0, 1, 6.0, 2.0}};
  CHECK(std::get<Settled>(settle(problem)).a_first == std::vector<bool>{false});
}
