/// The optimum as one minimum cut.
///
///   n(i, p)   node: variable i takes place p or a higher one; p = 1 … K−1. Source's side: yes.
///   u_i(p)    cost of place p:  u_i(0) + Σ_{q ≤ p} [u_i(q) − u_i(q−1)],  one terminal edge for each node
///   θ(p, q)   cost of a gap, from place p of i to place q of j
///   D(p, q)   θ(p,q) − θ(p−1,q) − θ(p,q−1) + θ(p−1,q−1) ≤ 0, since the cost is convex in the gap
///   θ(p, q) = θ(p, 0) + θ(0, q) − θ(0, 0) + Σ_{p′ ≤ p, q′ ≤ q} D(p′, q′)
///   and D · n(i,p) · n(j,q) = |D| · n(i,p) · [1 − n(j,q)] − |D| · n(i,p): an edge and a terminal edge; or
///   the same with i and j exchanged, whichever leaves less at the terminals.
///
/// Ishikawa 2003; in this form Schlesinger & Flach 2006 (from memory). Demands are edges that cannot be cut.
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "fit/cut.hpp"
#include "fit/settle_grid.hpp"

namespace culmwright {

namespace {

// Room for the sum of everything at the terminals below MinimumCut::unlimited / 2.
constexpr double greatest_sum = 0x1p59;

// Rounding of θ may leave D above zero by so much of the costs' size.
constexpr double convexity_grain = 1e-9;

struct WeightedEdge {
  int from, to;
  double weight;
};

class CutBuilder {
 public:
  CutBuilder(const GridProblem& problem, const std::vector<int>& variables) : problem_(problem) {
    first_node_.assign(problem.variables.size(), 0);
    int nodes = 0;
    for (const int i : variables) {
      first_node_[i] = nodes;
      nodes += places(i) - 1;
    }
    terminal_.assign(nodes, 0.0);
    for (const int i : variables) add_variable(i);
  }

  void add_term(const GapTerm& term) {
    if (!term.costs.empty()) add_costs(term);
    add_limit(term.i, term.j, term.least);
    add_limit(term.j, term.i, -term.greatest);
  }

  void solve(const std::vector<int>& variables, std::vector<int>& chosen) const {
    MinimumCut cut(static_cast<int>(terminal_.size()));
    double sum = 0.0;
    for (const double t : terminal_) sum += std::abs(t);
    for (const WeightedEdge& edge : weighted_) sum = std::max(sum, edge.weight);
    const double scale = sum > 0.0 ? std::exp2(std::floor(std::log2(greatest_sum / sum))) : 1.0;
    const auto whole = [scale](double weight) {
      return static_cast<MinimumCut::Capacity>(std::llround(weight * scale));
    };
    for (std::size_t node = 0; node < terminal_.size(); ++node) {
      // A node on the source's side pays what it costs to be there: the edge to the sink.
      const double t = terminal_[node];
      cut.add_terminal(static_cast<int>(node), whole(std::max(-t, 0.0)), whole(std::max(t, 0.0)));
    }
    for (const WeightedEdge& edge : weighted_) cut.add_edge(edge.from, edge.to, whole(edge.weight));
    for (const auto& [from, to] : unlimited_) cut.add_edge(from, to, MinimumCut::unlimited);
    cut.solve();
    for (const int i : variables) {
      chosen[i] = 0;
      while (chosen[i] + 1 < places(i) && cut.on_source_side(node_of(i, chosen[i] + 1))) ++chosen[i];
    }
  }

 private:
  int places(int i) const { return static_cast<int>(problem_.variables[i].places.size()); }
  int node_of(int i, int place) const { return first_node_[i] + place - 1; }

  void add_variable(int i) {
    const std::vector<double>& costs = problem_.variables[i].costs;
    for (int p = 1; p < places(i); ++p) {
      terminal_[node_of(i, p)] += costs[p] - costs[p - 1];
      if (p > 1) unlimited_.emplace_back(node_of(i, p), node_of(i, p - 1));
    }
  }

  void add_costs(const GapTerm& term) {
    const GapCosts theta(problem_, term);
    const double grain = convexity_grain * (1.0 + theta.range());
    for (int p = 1; p < places(term.i); ++p) terminal_[node_of(term.i, p)] += theta(p, 0) - theta(p - 1, 0);
    for (int q = 1; q < places(term.j); ++q) terminal_[node_of(term.j, q)] += theta(0, q) - theta(0, q - 1);
    for (int p = 1; p < places(term.i); ++p) {
      for (int q = 1; q < places(term.j); ++q) {
        const double d = (theta(p, q) - theta(p - 1, q)) - (theta(p, q - 1) - theta(p - 1, q - 1));
        require(d <= grain, "the cost of a gap is convex");
        if (d >= 0.0) continue;
        // Where the cost falls as the gap grows, i must not run ahead of j; else j not ahead of i.
        const bool falls = theta(p - 1, q) < theta(p, q - 1);
        const int from = falls ? node_of(term.i, p) : node_of(term.j, q);
        const int to = falls ? node_of(term.j, q) : node_of(term.i, p);
        weighted_.push_back({from, to, -d});
        terminal_[from] += d;
      }
    }
  }

  /// z_upper − z_lower ≥ distance.
  void add_limit(int lower, int upper, double distance) {
    const std::vector<double>& from = problem_.variables[lower].places;
    const std::vector<double>& to = problem_.variables[upper].places;
    int q = 0;
    for (int p = 0; p < places(lower); ++p) {
      while (q < places(upper) && to[q] - from[p] < distance - search_grain) ++q;
      require(q < places(upper) && (p > 0 || q == 0), "places are cut back to those that have partners");
      if (p > 0 && q > 0) unlimited_.emplace_back(node_of(lower, p), node_of(upper, q));
    }
  }

  const GridProblem& problem_;
  std::vector<int> first_node_;
  std::vector<double> terminal_;  // cost of being on the source's side
  std::vector<WeightedEdge> weighted_;
  std::vector<std::pair<int, int>> unlimited_;
};

}  // namespace

void solve_cut(const GridProblem& problem, const std::vector<int>& variables, const std::vector<int>& terms,
               std::vector<int>& chosen) {
  CutBuilder builder(problem, variables);
  for (const int t : terms) builder.add_term(problem.terms[t]);
  builder.solve(variables, chosen);
}

}  // namespace culmwright
