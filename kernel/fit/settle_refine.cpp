/// Refinement off the given values: each variable may stay or move by one or two of the present step, the
/// best joint move is one optimum over five places each, and the step is halved when there is none. With
/// convex costs a placing that no such move betters is optimal for that step (Murota 2003, from memory).
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "fit/settle_search.hpp"

namespace culmwright {

namespace {

constexpr double last_step = 0.5e-6;
// A gain below this share of the cost is rounding.
constexpr double least_gain = 1e-14;

class Refinement {
 public:
  Refinement(const SettleProblem& problem, const Settled& settled)
      : problem_(problem), places_(settled.positions) {
    std::vector<Lattice::Order> orders;
    for (const bool a_first : settled.a_first) {
      orders.push_back(a_first ? Lattice::Order::a_first : Lattice::Order::b_first);
    }
    terms_ = gap_terms(problem, orders);
    for (GapTerm& term : terms_) {
      // Staying must be allowed, whatever the rounding of the places given.
      const double gap = places_[term.j] - places_[term.i];
      require(gap >= term.least - 2.0 * settle_grain && gap <= term.greatest + 2.0 * settle_grain,
              "a settled placing keeps every demand");
      term.least = std::min(term.least, gap);
      term.greatest = std::max(term.greatest, gap);
    }
    for (std::size_t i = 0; i < places_.size(); ++i) stretches_.push_back(stretch_around(i));
    cost_ = value(problem, places_).cost;
  }

  std::vector<double> run() {
    double step = 0.0;
    for (const SettleVariable& v : problem_.variables) step = std::max(step, 0.5 * v.step);
    for (; step > last_step; step *= 0.5) {
      while (improve(step)) {
      }
    }
    return places_;
  }

 private:
  /// The allowed stretch in which the variable is.
  Stretch stretch_around(std::size_t i) const {
    std::vector<Stretch> stretches;
    append_stretches(problem_.variables[i], false, {}, stretches);
    for (const Stretch& s : stretches) {
      if (places_[i] >= s.from - settle_grain && places_[i] <= s.to + settle_grain) return s;
    }
    require(false, "a settled variable is at an allowed place");
    return {};
  }

  Choices moves(std::size_t i, double step) const {
    Choices choices;
    const Stretch& stretch = stretches_[i];
    for (int k = -2; k <= 2; ++k) {
      const double place = k == 0 ? places_[i] : std::clamp(places_[i] + k * step, stretch.from, stretch.to);
      if (!choices.places.empty() && place <= choices.places.back()) {
        if (k == 0) choices.places.back() = place;
        continue;
      }
      choices.places.push_back(place);
    }
    for (const double place : choices.places)
      choices.costs.push_back(cost_of_place(problem_.variables[i], place));
    choices.values.assign(choices.places.size(), -1);
    return choices;
  }

  bool improve(double step) {
    GridProblem grid;
    for (std::size_t i = 0; i < places_.size(); ++i) grid.variables.push_back(moves(i, step));
    grid.terms = terms_;
    cut_back(grid);
    const std::vector<int> chosen = solve_grid(grid, SettleMethod::automatic);
    std::vector<double> moved;
    for (std::size_t i = 0; i < chosen.size(); ++i) moved.push_back(grid.variables[i].places[chosen[i]]);
    const Valuation valuation = value(problem_, moved);
    if (!valuation.kept || valuation.cost >= cost_ - least_gain * (1.0 + std::abs(cost_))) return false;
    places_ = moved;
    cost_ = valuation.cost;
    return true;
  }

  const SettleProblem& problem_;
  std::vector<double> places_;
  std::vector<GapTerm> terms_;
  std::vector<Stretch> stretches_;
  double cost_ = 0.0;
};

}  // namespace

Settled refine(const SettleProblem& problem, const Settled& settled) {
  Settled refined = settled_at(problem, Refinement(problem, settled).run());
  refined.a_first = settled.a_first;
  refined.on_values = false;
  return refined;
}

}  // namespace culmwright
