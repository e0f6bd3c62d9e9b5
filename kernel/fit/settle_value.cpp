#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "base/problem.hpp"
#include "fit/settle_search.hpp"

namespace culmwright {

namespace {

bool is_kept(const Demand& d, const std::vector<double>& z) {
  return z[d.upper] - z[d.lower] >= d.distance - settle_grain;
}
bool is_kept_a_first(const ReversibleDemand& d, const std::vector<double>& z) {
  return z[d.b] - z[d.a] >= d.distance_a_first - settle_grain;
}
bool is_kept_b_first(const ReversibleDemand& d, const std::vector<double>& z) {
  return z[d.a] - z[d.b] >= d.distance_b_first - settle_grain;
}

double checked(double cost) {
  require(!std::isnan(cost) && cost != -forbidden_place, "the cost of a place is a number");
  return cost;
}

}  // namespace

double cost_of_place(const SettleVariable& v, double place) {
  if (place < v.least - settle_grain || place > v.greatest + settle_grain) return forbidden_place;
  const double index = (place - v.origin) / v.step;
  const double nearest = std::round(index);
  const int last = static_cast<int>(v.costs.size()) - 1;
  if (std::abs(index - nearest) * v.step <= settle_grain) {
    return nearest < 0.0 || nearest > last ? forbidden_place
                                           : checked(v.costs[static_cast<std::size_t>(nearest)]);
  }
  if (index < 0.0 || index > last) return forbidden_place;
  const std::size_t below = static_cast<std::size_t>(index);
  if (v.costs[below] == forbidden_place || v.costs[below + 1] == forbidden_place) return forbidden_place;
  if (v.cost_at) return checked(v.cost_at(place));
  const double t = index - static_cast<double>(below);
  return checked(v.costs[below] + t * (v.costs[below + 1] - v.costs[below]));
}

Valuation value(const SettleProblem& problem, const std::vector<double>& z) {
  require(z.size() == problem.variables.size(), "one place for each variable");
  Valuation result;
  for (const Demand& d : problem.demands) {
    if (!is_kept(d, z)) return result;
  }
  for (const ReversibleDemand& d : problem.reversible) {
    if (!is_kept_a_first(d, z) && !is_kept_b_first(d, z)) return result;
  }
  Valuation kept;
  kept.kept = true;
  for (std::size_t i = 0; i < z.size(); ++i) {
    kept.unary_costs.push_back(cost_of_place(problem.variables[i], z[i]));
    if (kept.unary_costs.back() == forbidden_place) return result;
    kept.cost += kept.unary_costs.back();
  }
  for (const PairCost& pair : problem.pair_costs) {
    kept.pair_costs.push_back(pair.cost(z[pair.upper] - z[pair.lower]));
    kept.cost += kept.pair_costs.back();
  }
  return kept;
}

Settled settled_at(const SettleProblem& problem, std::vector<double> positions) {
  Valuation valuation = value(problem, positions);
  require(valuation.kept, "what was settled keeps every demand");
  Settled settled;
  settled.cost = valuation.cost;
  settled.unary_costs = std::move(valuation.unary_costs);
  settled.pair_costs = std::move(valuation.pair_costs);
  for (const ReversibleDemand& d : problem.reversible)
    settled.a_first.push_back(is_kept_a_first(d, positions));
  settled.positions = std::move(positions);
  return settled;
}

std::vector<GapTerm> gap_terms(const SettleProblem& problem, const std::vector<Lattice::Order>& orders) {
  std::map<std::pair<int, int>, GapTerm> terms;
  const auto term_of = [&terms](int i, int j) -> GapTerm& {
    GapTerm& term = terms[std::minmax(i, j)];
    std::tie(term.i, term.j) = std::minmax(i, j);
    return term;
  };
  const auto demand = [&term_of](int lower, int upper, double distance) {
    GapTerm& term = term_of(lower, upper);
    if (lower < upper) {
      term.least = std::max(term.least, distance);
    } else {
      term.greatest = std::min(term.greatest, -distance);
    }
  };
  for (const Demand& d : problem.demands) demand(d.lower, d.upper, d.distance);
  for (std::size_t r = 0; r < orders.size(); ++r) {
    const ReversibleDemand& d = problem.reversible[r];
    if (orders[r] == Lattice::Order::a_first) demand(d.a, d.b, d.distance_a_first);
    if (orders[r] == Lattice::Order::b_first) demand(d.b, d.a, d.distance_b_first);
  }
  const int n = static_cast<int>(problem.variables.size());
  for (const PairCost& pair : problem.pair_costs) {
    require(
        pair.lower >= 0 && pair.upper >= 0 && pair.lower < n && pair.upper < n && pair.lower != pair.upper,
        "a cost of a gap is between two variables");
    term_of(pair.lower, pair.upper).costs.emplace_back(&pair, pair.lower > pair.upper);
  }
  std::vector<GapTerm> list;
  for (auto& [ids, term] : terms) list.push_back(std::move(term));
  return list;
}

}  // namespace culmwright
