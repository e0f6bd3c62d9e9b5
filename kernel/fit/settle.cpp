#include "fit/settle.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/problem.hpp"
#include "fit/settle_search.hpp"

namespace culmwright {

namespace {

/// The allowed places of one variable between its bounds: values, and the bounds themselves where they are
/// none.
Choices choices_of(const SettleVariable& v, double least, double greatest) {
  Choices choices;
  choices.origin = v.origin;
  choices.step = v.step;
  const auto add = [&](double place, int value) {
    const double cost = cost_of_place(v, place);
    if (cost == forbidden_place) return;
    choices.places.push_back(place);
    choices.costs.push_back(cost);
    choices.values.push_back(value);
  };
  const int last = static_cast<int>(v.costs.size()) - 1;
  const int first_value =
      std::max(0, static_cast<int>(std::ceil((least - settle_grain - v.origin) / v.step)));
  const int last_value =
      std::min(last, static_cast<int>(std::floor((greatest + settle_grain - v.origin) / v.step)));
  const auto place_of = [&v](int k) { return v.origin + v.step * k; };
  if (first_value > last_value || least < place_of(first_value) - settle_grain) add(least, -1);
  for (int k = first_value; k <= last_value; ++k) add(place_of(k), k);
  const bool more = choices.places.empty() || greatest > choices.places.back() + settle_grain;
  if (more) add(greatest, -1);
  require(!choices.places.empty(), "a variable with a feasible bound has a place");
  return choices;
}

/// Branch and bound on the orders, deepest first. The bound of a branch is its optimum with the open pairs
/// left out; where that keeps them by itself nothing is left to branch on.
class OrderSearch {
 public:
  OrderSearch(const SettleProblem& problem, SettleMethod method, bool on_values)
      : problem_(problem), method_(method) {
    lattice_.assign(problem, on_values);
  }

  bool run() {
    if (lattice_.settle_bounds()) explore();
    return std::isfinite(best_cost_);
  }
  const std::vector<double>& best() const { return best_; }

 private:
  GridProblem grid() const {
    GridProblem grid;
    for (std::size_t i = 0; i < problem_.variables.size(); ++i) {
      grid.variables.push_back(
          choices_of(problem_.variables[i], lattice_.least()[i], lattice_.greatest()[i]));
    }
    grid.terms = gap_terms(problem_, lattice_.orders());
    return grid;
  }

  /// Costs of gaps are not negative, so the cheapest place of each variable is a bound.
  static double unary_bound(const GridProblem& grid) {
    double sum = 0.0;
    for (const Choices& choices : grid.variables)
      sum += *std::min_element(choices.costs.begin(), choices.costs.end());
    return sum;
  }

  bool cannot_beat_best(double bound) const {
    return bound >= best_cost_ - 1e-12 * std::max(1.0, std::abs(best_cost_));
  }

  /// The open pair that the places miss by the most.
  int worst_pair(const std::vector<double>& z) const {
    int worst = -1;
    double most = settle_grain;
    for (std::size_t p = 0; p < lattice_.pairs().size(); ++p) {
      if (lattice_.orders()[p] != Lattice::Order::open) continue;
      const Lattice::Pair& pair = lattice_.pairs()[p];
      const auto missing = [&z](const Lattice::Arc& arc) {
        return arc.distance - (z[arc.upper] - z[arc.lower]);
      };
      const double missed = std::min(missing(pair.a_first), missing(pair.b_first));
      if (missed > most) {
        most = missed;
        worst = static_cast<int>(p);
      }
    }
    return worst;
  }

  void explore() {
    const GridProblem problem = grid();
    if (cannot_beat_best(unary_bound(problem))) return;
    const std::vector<int> chosen = solve_grid(problem, method_);
    std::vector<double> z;
    double cost = 0.0;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
      z.push_back(problem.variables[i].places[chosen[i]]);
      cost += problem.variables[i].costs[chosen[i]];
    }
    for (const GapTerm& term : problem.terms) {
      if (!term.costs.empty()) cost += term.cost(z[term.j] - z[term.i]);
    }
    if (cannot_beat_best(cost)) return;
    const int pair = worst_pair(z);
    if (pair < 0) {
      best_ = z;
      best_cost_ = cost;
      return;
    }
    const Lattice::Arc& arc = lattice_.pairs()[pair].a_first;
    branch(pair, z[arc.lower] <= z[arc.upper]);
  }

  void branch(int pair, bool a_first) {
    const Lattice::State before = lattice_.state();
    for (const bool order : {a_first, !a_first}) {
      if (lattice_.decide(pair, order ? Lattice::Order::a_first : Lattice::Order::b_first)) explore();
      lattice_.restore(before);
    }
  }

  const SettleProblem& problem_;
  SettleMethod method_;
  Lattice lattice_;
  std::vector<double> best_;
  double best_cost_ = std::numeric_limits<double>::infinity();
};

}  // namespace

std::variant<Settled, Blocked> settle(const SettleProblem& problem, SettleMethod method) {
  for (const bool on_values : {true, false}) {
    if (!on_values && !problem.between_values) break;
    OrderSearch search(problem, method, on_values);
    if (!search.run()) continue;
    Settled settled = settled_at(problem, search.best());
    settled.on_values = on_values;
    return settled;
  }
  return blocked(problem);
}

}  // namespace culmwright
