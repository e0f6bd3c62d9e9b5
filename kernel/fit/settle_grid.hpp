#pragma once
/// The optimum over finite lists of places, every order fixed (fit/settle.hpp). Internal to settling.
#include <limits>
#include <utility>
#include <vector>

#include "fit/settle.hpp"

namespace culmwright {

/// The search misses a demand by no more than half of what it may be missed by, so that rounding in the sums
/// never eats the whole.
constexpr double search_grain = 0.5 * settle_grain;

/// Where one variable may go: places from low to high, each with its cost.
struct Choices {
  std::vector<double> places;
  std::vector<double> costs;
  std::vector<int> values;  ///< index of each among the variable's values; −1 between them
  double origin = 0.0;      ///< of those values
  double step = 0.0;
};

/// Everything between two variables i < j: least ≤ z_j − z_i ≤ greatest, and the costs of that gap.
struct GapTerm {
  int i = 0;
  int j = 0;
  double least = -std::numeric_limits<double>::infinity();
  double greatest = std::numeric_limits<double>::infinity();
  std::vector<std::pair<const PairCost*, bool>> costs;  ///< true: its gap is z_i − z_j

  double cost(double gap) const;
  bool kept(double gap) const { return gap >= least - search_grain && gap <= greatest + search_grain; }
};

/// Each place of each variable has partners: the lists are cut back to the least and greatest feasible
/// points, which are among them. With that there is always a solution.
struct GridProblem {
  std::vector<Choices> variables;
  std::vector<GapTerm> terms;  ///< at most one for each two variables
};

/// The index of the place that each variable takes, at the least sum of costs.
std::vector<int> solve_grid(const GridProblem& problem, SettleMethod method);

/// Costs of a term for every two places: row = place of i, column = place of j; regardless of its limits.
class GapCosts {
 public:
  GapCosts(const GridProblem& problem, const GapTerm& term);
  double operator()(int row, int column) const {
    return costs_[static_cast<std::size_t>(row) * columns_ + column];
  }
  const double* row(int of_i) const { return costs_.data() + static_cast<std::size_t>(of_i) * columns_; }
  double range() const;

 private:
  int columns_;
  std::vector<double> costs_;
};

/// Takes away the places at either end of each list that have no partner, for lists of which some places keep
/// every demand; how many at the low end of each.
std::vector<int> cut_back(GridProblem& problem);

/// Takes away values that are in no optimum (kernel/fit/settle_prune.cpp). Which ones remain of each
/// variable.
std::vector<std::vector<int>> prune(GridProblem& problem);

/// The two methods, on the variables listed: a connected part of the problem, with the terms listed. A tree
/// has one term less than variables.
void solve_tree(const GridProblem& problem, const std::vector<int>& variables, const std::vector<int>& terms,
                std::vector<int>& chosen);
void solve_cut(const GridProblem& problem, const std::vector<int>& variables, const std::vector<int>& terms,
               std::vector<int>& chosen);

}  // namespace culmwright
