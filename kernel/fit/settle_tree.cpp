/// Dynamic programming over a tree of gap terms: from the leaves each variable tells its parent what its
/// branch costs at the best for every place of the parent's.
#include <cmath>
#include <limits>

#include "base/problem.hpp"
#include "fit/settle_grid.hpp"

namespace culmwright {

namespace {

struct Branch {
  int variable;
  int parent;  // −1 at the root
  int term;    // to the parent
};

/// The variables from the root outward.
std::vector<Branch> from_root(const GridProblem& problem, const std::vector<int>& variables,
                              const std::vector<int>& terms) {
  std::vector<Branch> order = {{variables.front(), -1, -1}};
  std::vector<char> used(terms.size(), 0);
  for (std::size_t k = 0; k < order.size(); ++k) {
    const int here = order[k].variable;
    for (std::size_t t = 0; t < terms.size(); ++t) {
      const GapTerm& term = problem.terms[terms[t]];
      if (used[t] || (term.i != here && term.j != here)) continue;
      used[t] = 1;
      order.push_back({term.i == here ? term.j : term.i, here, terms[t]});
    }
  }
  require(order.size() == variables.size(), "a tree reaches each of its variables once");
  return order;
}

/// For every place of the parent the child's best place, and its branch's cost there added to the parent's.
std::vector<int> tell_parent(const GridProblem& problem, const Branch& branch,
                             const std::vector<double>& child_costs, std::vector<double>& parent_costs) {
  const GapTerm& term = problem.terms[branch.term];
  const bool child_is_i = term.i == branch.variable;
  const GapCosts gap_costs(problem, term);
  const std::vector<double>& child = problem.variables[branch.variable].places;
  const std::vector<double>& parent = problem.variables[branch.parent].places;
  std::vector<int> best(parent.size(), -1);
  for (std::size_t b = 0; b < parent.size(); ++b) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t a = 0; a < child.size(); ++a) {
      if (!term.kept(child_is_i ? parent[b] - child[a] : child[a] - parent[b])) continue;
      const int row = static_cast<int>(child_is_i ? a : b);
      const int column = static_cast<int>(child_is_i ? b : a);
      const double cost = child_costs[a] + gap_costs(row, column);
      if (cost < least) {
        least = cost;
        best[b] = static_cast<int>(a);
      }
    }
    parent_costs[b] += least;
  }
  return best;
}

}  // namespace

void solve_tree(const GridProblem& problem, const std::vector<int>& variables, const std::vector<int>& terms,
                std::vector<int>& chosen) {
  const std::vector<Branch> order = from_root(problem, variables, terms);
  std::vector<std::vector<double>> costs(problem.variables.size());
  for (const int i : variables) costs[i] = problem.variables[i].costs;
  std::vector<std::vector<int>> best(order.size());
  for (std::size_t k = order.size() - 1; k > 0; --k) {
    best[k] = tell_parent(problem, order[k], costs[order[k].variable], costs[order[k].parent]);
  }
  const std::vector<double>& root = costs[order.front().variable];
  int least = 0;
  for (std::size_t a = 1; a < root.size(); ++a) {
    if (root[a] < root[least]) least = static_cast<int>(a);
  }
  require(std::isfinite(root[least]), "a problem cut back to its bounds has a solution");
  chosen[order.front().variable] = least;
  for (std::size_t k = 1; k < order.size(); ++k) {
    chosen[order[k].variable] = best[k][chosen[order[k].parent]];
    require(chosen[order[k].variable] >= 0, "a place that can be reached was chosen from a place");
  }
}

}  // namespace culmwright
