#include "fit/settle_grid.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/problem.hpp"

namespace culmwright {

double GapTerm::cost(double gap) const {
  double sum = 0.0;
  for (const auto& [pair_cost, turned] : costs) {
    const double g = pair_cost->cost(turned ? -gap : gap);
    require(std::isfinite(g) && g >= 0.0, "the cost of a gap is finite and not negative");
    sum += g;
  }
  return sum;
}

namespace {

/// Asks for each gap once where the gap depends on the difference of two indices only: on one step, and for
/// places that are values.
class GapMemory {
 public:
  GapMemory(const GapTerm& term, const Choices& i, const Choices& j)
      : term_(term),
        one_step_(i.step == j.step),
        offset_(*std::max_element(i.values.begin(), i.values.end())),
        known_(static_cast<std::size_t>(offset_ + *std::max_element(j.values.begin(), j.values.end()) + 2),
               -1.0) {}

  double cost(double gap, int value_i, int value_j) {
    if (!one_step_ || value_i < 0 || value_j < 0) return term_.cost(gap);
    double& known = known_[static_cast<std::size_t>(value_j - value_i + offset_)];
    if (known < 0.0) known = term_.cost(gap);
    return known;
  }

 private:
  const GapTerm& term_;
  bool one_step_;
  int offset_;
  std::vector<double> known_;
};

}  // namespace

GapCosts::GapCosts(const GridProblem& problem, const GapTerm& term)
    : columns_(static_cast<int>(problem.variables[term.j].places.size())) {
  const Choices& i = problem.variables[term.i];
  const Choices& j = problem.variables[term.j];
  if (term.costs.empty()) {
    costs_.assign(i.places.size() * j.places.size(), 0.0);
    return;
  }
  costs_.reserve(i.places.size() * j.places.size());
  GapMemory memory(term, i, j);
  for (std::size_t a = 0; a < i.places.size(); ++a) {
    for (std::size_t b = 0; b < j.places.size(); ++b) {
      costs_.push_back(memory.cost(j.places[b] - i.places[a], i.values[a], j.values[b]));
    }
  }
}

double GapCosts::range() const {
  const auto [least, greatest] = std::minmax_element(costs_.begin(), costs_.end());
  return *greatest - *least;
}

namespace {

/// The connected parts, each with its terms.
struct Parts {
  std::vector<std::vector<int>> variables;
  std::vector<std::vector<int>> terms;
};

int root_of(std::vector<int>& root, int i) {
  while (root[i] != i) i = root[i] = root[root[i]];
  return i;
}

Parts connected_parts(const GridProblem& problem) {
  const int n = static_cast<int>(problem.variables.size());
  std::vector<int> root(n);
  std::iota(root.begin(), root.end(), 0);
  for (const GapTerm& term : problem.terms) root[root_of(root, term.i)] = root_of(root, term.j);
  Parts parts;
  std::vector<int> number(n, -1);
  for (int i = 0; i < n; ++i) {
    int& part = number[root_of(root, i)];
    if (part < 0) {
      part = static_cast<int>(parts.variables.size());
      parts.variables.emplace_back();
      parts.terms.emplace_back();
    }
    parts.variables[part].push_back(i);
  }
  for (std::size_t t = 0; t < problem.terms.size(); ++t) {
    parts.terms[number[root_of(root, problem.terms[t].i)]].push_back(static_cast<int>(t));
  }
  return parts;
}

}  // namespace

std::vector<int> solve_grid(const GridProblem& problem, SettleMethod method) {
  std::vector<int> chosen(problem.variables.size(), 0);
  const Parts parts = connected_parts(problem);
  for (std::size_t p = 0; p < parts.variables.size(); ++p) {
    const bool is_tree = parts.terms[p].size() + 1 == parts.variables[p].size();
    if (is_tree && method == SettleMethod::automatic) {
      solve_tree(problem, parts.variables[p], parts.terms[p], chosen);
    } else {
      solve_cut(problem, parts.variables[p], parts.terms[p], chosen);
    }
  }
  return chosen;
}

}  // namespace culmwright
