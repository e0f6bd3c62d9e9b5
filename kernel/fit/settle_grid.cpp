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

// Shorter lists are not worth the bounds.
constexpr std::size_t places_worth_pruning = 8;

/// A connected part as a problem of its own, pruned, then cut.
void solve_pruned(const GridProblem& problem, const std::vector<int>& variables,
                  const std::vector<int>& terms, std::vector<int>& chosen) {
  std::vector<int> number(problem.variables.size(), -1);
  GridProblem part;
  for (const int i : variables) {
    number[i] = static_cast<int>(part.variables.size());
    part.variables.push_back(problem.variables[i]);
  }
  for (const int t : terms) {
    part.terms.push_back(problem.terms[t]);
    part.terms.back().i = number[part.terms.back().i];
    part.terms.back().j = number[part.terms.back().j];
  }
  const std::vector<std::vector<int>> kept = prune(part);
  std::vector<int> all_variables(part.variables.size());
  std::vector<int> all_terms(part.terms.size());
  std::iota(all_variables.begin(), all_variables.end(), 0);
  std::iota(all_terms.begin(), all_terms.end(), 0);
  std::vector<int> chosen_here(part.variables.size(), 0);
  solve_cut(part, all_variables, all_terms, chosen_here);
  for (const int i : variables) chosen[i] = kept[number[i]][chosen_here[number[i]]];
}

bool is_worth_pruning(const GridProblem& problem, const std::vector<int>& variables) {
  return std::any_of(variables.begin(), variables.end(),
                     [&](int i) { return problem.variables[i].places.size() > places_worth_pruning; });
}

}  // namespace

std::vector<int> solve_grid(const GridProblem& problem, SettleMethod method) {
  std::vector<int> chosen(problem.variables.size(), 0);
  const Parts parts = connected_parts(problem);
  for (std::size_t p = 0; p < parts.variables.size(); ++p) {
    const bool is_tree = parts.terms[p].size() + 1 == parts.variables[p].size();
    if (is_tree && method == SettleMethod::automatic) {
      solve_tree(problem, parts.variables[p], parts.terms[p], chosen);
    } else if (method == SettleMethod::automatic && is_worth_pruning(problem, parts.variables[p])) {
      solve_pruned(problem, parts.variables[p], parts.terms[p], chosen);
    } else {
      solve_cut(problem, parts.variables[p], parts.terms[p], chosen);
    }
  }
  return chosen;
}

}  // namespace culmwright
