/// Values that no optimum takes are left out before the cut is built, which is what its time goes with.
/// Exact:
///   bound    For each value, the least cost of the terms of a spanning forest with that value fixed; terms
///            left out cost nothing or more. Min-marginals, by messages from the leaves and back.
///   against  A placing found by descent: each variable may move by up to three strides, the best joint move
///   is
///            taken, the stride halved when there is none.
/// A value whose bound exceeds the cost of a placing that exists is in no optimum.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/problem.hpp"
#include "fit/settle_grid.hpp"
#include "fit/settle_lattice.hpp"

namespace culmwright {

namespace {

// Rounding of the two sums that are compared, as a share of them.
constexpr double bound_grain = 1e-10;

Choices subset(const Choices& choices, const std::vector<int>& kept) {
  Choices fewer;
  fewer.origin = choices.origin;
  fewer.step = choices.step;
  for (const int k : kept) {
    fewer.places.push_back(choices.places[k]);
    fewer.costs.push_back(choices.costs[k]);
    fewer.values.push_back(choices.values[k]);
  }
  return fewer;
}

double cost_of(const GridProblem& problem, const std::vector<int>& chosen) {
  double cost = 0.0;
  for (std::size_t i = 0; i < chosen.size(); ++i) cost += problem.variables[i].costs[chosen[i]];
  for (const GapTerm& term : problem.terms) {
    if (term.costs.empty()) continue;
    cost += term.cost(problem.variables[term.j].places[chosen[term.j]] -
                      problem.variables[term.i].places[chosen[term.i]]);
  }
  return cost;
}

std::vector<int> all_of(std::size_t count) {
  std::vector<int> list(count);
  std::iota(list.begin(), list.end(), 0);
  return list;
}

/// The best joint move by up to three strides each; where nothing is better, the same.
std::vector<int> best_move(const GridProblem& problem, const std::vector<int>& at, int stride) {
  GridProblem near;
  near.terms = problem.terms;
  std::vector<std::vector<int>> kept(at.size());
  for (std::size_t i = 0; i < at.size(); ++i) {
    const int last = static_cast<int>(problem.variables[i].places.size()) - 1;
    for (int k = -3; k <= 3; ++k) {
      const int to = std::clamp(at[i] + k * stride, 0, last);
      if (kept[i].empty() || to > kept[i].back()) kept[i].push_back(to);
    }
    near.variables.push_back(subset(problem.variables[i], kept[i]));
  }
  const std::vector<int> dropped = cut_back(near);
  std::vector<int> chosen(at.size(), 0);
  solve_cut(near, all_of(at.size()), all_of(near.terms.size()), chosen);
  for (std::size_t i = 0; i < at.size(); ++i) chosen[i] = kept[i][chosen[i] + dropped[i]];
  return chosen;
}

double cost_by_descent(const GridProblem& problem) {
  // The least places keep every demand together: the lists begin there.
  std::vector<int> at(problem.variables.size(), 0);
  double cost = cost_of(problem, at);
  std::size_t most = 1;
  for (const Choices& choices : problem.variables) most = std::max(most, choices.places.size());
  for (int stride = std::max(1, static_cast<int>(most) / 4); stride > 0; stride /= 2) {
    for (;;) {
      const std::vector<int> moved = best_move(problem, at, stride);
      const double moved_cost = cost_of(problem, moved);
      if (!(moved_cost < cost - bound_grain * std::abs(cost))) break;
      at = moved;
      cost = moved_cost;
    }
  }
  return cost;
}

/// The terms of a spanning forest: those with costs first, then demands that the cheapest places miss most.
std::vector<int> forest_of(const GridProblem& problem) {
  std::vector<double> cheapest;
  for (const Choices& c : problem.variables) {
    cheapest.push_back(c.places[std::min_element(c.costs.begin(), c.costs.end()) - c.costs.begin()]);
  }
  const auto slack = [&](const GapTerm& term) {
    const double gap = cheapest[term.j] - cheapest[term.i];
    return std::min(gap - term.least, term.greatest - gap);
  };
  std::vector<int> order = all_of(problem.terms.size());
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    const GapTerm& x = problem.terms[a];
    const GapTerm& y = problem.terms[b];
    if (x.costs.empty() != y.costs.empty()) return y.costs.empty();
    return slack(x) < slack(y);
  });
  std::vector<int> tree_of = all_of(problem.variables.size());
  std::vector<int> forest;
  for (const int t : order) {
    const int from = tree_of[problem.terms[t].i];
    const int to = tree_of[problem.terms[t].j];
    if (from == to) continue;
    std::replace(tree_of.begin(), tree_of.end(), from, to);
    forest.push_back(t);
  }
  return forest;
}

/// Messages over a forest: what the branch behind a term costs at the best, for every place of the variable
/// in front of it.
class Forest {
 public:
  Forest(const GridProblem& problem, const std::vector<int>& terms)
      : problem_(problem), around_(problem.variables.size()) {
    for (const int t : terms) {
      costs_.emplace_back(problem, problem.terms[t]);
      const int edge = static_cast<int>(terms_.size());
      terms_.push_back(&problem.terms[t]);
      around_[problem.terms[t].i].push_back(edge);
      around_[problem.terms[t].j].push_back(edge);
    }
    messages_.resize(2 * terms_.size());
  }

  /// The least cost with each value fixed, the other trees at their best.
  std::vector<std::vector<double>> bounds() {
    std::vector<std::vector<double>> bounds;
    std::vector<int> root(problem_.variables.size(), -1);
    for (std::size_t i = 0; i < root.size(); ++i) {
      if (root[i] < 0) mark(static_cast<int>(i), static_cast<int>(i), root);
      bounds.push_back(costs_without(static_cast<int>(i), -1));
    }
    double all_trees = 0.0;
    std::vector<double> least(root.size(), 0.0);
    for (std::size_t i = 0; i < root.size(); ++i) {
      if (root[i] != static_cast<int>(i)) continue;
      least[i] = *std::min_element(bounds[i].begin(), bounds[i].end());
      all_trees += least[i];
    }
    for (std::size_t i = 0; i < root.size(); ++i) {
      for (double& bound : bounds[i]) bound += all_trees - least[root[i]];
    }
    return bounds;
  }

 private:
  void mark(int variable, int root, std::vector<int>& roots) const {
    roots[variable] = root;
    for (const int edge : around_[variable]) {
      const int other = terms_[edge]->i == variable ? terms_[edge]->j : terms_[edge]->i;
      if (roots[other] < 0) mark(other, root, roots);
    }
  }

  /// The variable's own costs and all that is said to it, save by one edge.
  std::vector<double> costs_without(int variable, int left_out) {
    std::vector<double> sum = problem_.variables[variable].costs;
    for (const int edge : around_[variable]) {
      if (edge == left_out) continue;
      const std::vector<double>& message = message_to(variable, edge);
      for (std::size_t k = 0; k < sum.size(); ++k) sum[k] += message[k];
    }
    return sum;
  }

  const std::vector<double>& message_to(int variable, int edge) {
    const GapTerm& term = *terms_[edge];
    const bool to_j = term.j == variable;
    std::vector<double>& message = messages_[2 * edge + (to_j ? 1 : 0)];
    if (message.empty()) message = best_over(edge, costs_without(to_j ? term.i : term.j, edge), to_j);
    return message;
  }

  std::vector<double> best_over(int edge, const std::vector<double>& behind, bool to_j) const {
    const GapTerm& term = *terms_[edge];
    const GapCosts& gap_costs = costs_[edge];
    const std::vector<double>& zi = problem_.variables[term.i].places;
    const std::vector<double>& zj = problem_.variables[term.j].places;
    std::vector<double> best((to_j ? zj : zi).size(), std::numeric_limits<double>::infinity());
    // For each place of i, those of j that keep the term lie together, and move up with it.
    std::size_t first = 0;
    std::size_t end = 0;
    for (std::size_t a = 0; a < zi.size(); ++a) {
      while (first < zj.size() && zj[first] - zi[a] < term.least - search_grain) ++first;
      while (end < zj.size() && zj[end] - zi[a] <= term.greatest + search_grain) ++end;
      const double* row = gap_costs.row(static_cast<int>(a));
      if (to_j) {
        for (std::size_t b = first; b < end; ++b) best[b] = std::min(best[b], behind[a] + row[b]);
      } else {
        double least = best[a];
        for (std::size_t b = first; b < end; ++b) least = std::min(least, behind[b] + row[b]);
        best[a] = least;
      }
    }
    return best;
  }

  const GridProblem& problem_;
  std::vector<const GapTerm*> terms_;
  std::vector<GapCosts> costs_;
  std::vector<std::vector<int>> around_;  // edges of each variable
  std::vector<std::vector<double>> messages_;
};

}  // namespace

std::vector<int> cut_back(GridProblem& problem) {
  Lattice lattice;
  const int n = static_cast<int>(problem.variables.size());
  lattice.reset(n);
  for (int i = 0; i < n; ++i) {
    for (const double place : problem.variables[i].places) lattice.add_stretch(i, {place, place});
  }
  for (const GapTerm& term : problem.terms) {
    if (std::isfinite(term.least)) lattice.add(Lattice::Arc{term.i, term.j, term.least});
    if (std::isfinite(term.greatest)) lattice.add(Lattice::Arc{term.j, term.i, -term.greatest});
  }
  require(lattice.settle_bounds(), "some of the places keep every demand");
  std::vector<int> dropped;
  for (int i = 0; i < n; ++i) {
    std::vector<int> kept;
    const std::vector<double>& places = problem.variables[i].places;
    for (std::size_t k = 0; k < places.size(); ++k) {
      if (places[k] >= lattice.least()[i] && places[k] <= lattice.greatest()[i])
        kept.push_back(static_cast<int>(k));
    }
    dropped.push_back(kept.front());
    if (kept.size() < places.size()) problem.variables[i] = subset(problem.variables[i], kept);
  }
  return dropped;
}

std::vector<std::vector<int>> prune(GridProblem& problem) {
  const double cost = cost_by_descent(problem);
  const double limit = cost + bound_grain * (1.0 + std::abs(cost));
  const std::vector<std::vector<double>> bounds = Forest(problem, forest_of(problem)).bounds();
  std::vector<std::vector<int>> kept(bounds.size());
  for (std::size_t i = 0; i < bounds.size(); ++i) {
    for (std::size_t k = 0; k < bounds[i].size(); ++k) {
      if (bounds[i][k] <= limit) kept[i].push_back(static_cast<int>(k));
    }
    problem.variables[i] = subset(problem.variables[i], kept[i]);
  }
  const std::vector<int> dropped = cut_back(problem);
  for (std::size_t i = 0; i < kept.size(); ++i) {
    kept[i].erase(kept[i].begin(), kept[i].begin() + dropped[i]);
    kept[i].resize(problem.variables[i].places.size());
  }
  return kept;
}

}  // namespace culmwright
