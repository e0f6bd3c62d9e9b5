/// Why there is no way: the deletion filter (Chinneck & Dravnieks 1991, ORSA J. Computing 3(2):157, from
/// memory) for an irreducible set of demands, the pushes in it as chains, and relaxations by halving.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <set>

#include "base/problem.hpp"
#include "fit/settle_search.hpp"

namespace culmwright {

namespace {

bool way(Lattice& lattice, const SettleProblem& problem, const Give& give = {}) {
  lattice.assign(problem, !problem.between_values, give);
  return lattice.search();
}

/// A problem's places with some of its demands, each with its index there.
struct Reason {
  SettleProblem problem;
  std::vector<int> demands;
  std::vector<int> reversible;
};

/// Takes away each element of `list` without which there is still no way.
template <class Element>
void filter(Lattice& lattice, const SettleProblem& problem, std::vector<Element>& list,
            std::vector<int>& index) {
  for (std::size_t k = list.size(); k-- > 0;) {
    const Element element = list[k];
    const auto at = static_cast<std::ptrdiff_t>(k);
    list.erase(list.begin() + at);
    if (way(lattice, problem)) {
      list.insert(list.begin() + at, element);
    } else {
      index.erase(index.begin() + at);
    }
  }
}

Reason irreducible_reason(Lattice& lattice, const SettleProblem& problem) {
  Reason reason;
  reason.problem = problem;
  reason.problem.pair_costs.clear();
  for (std::size_t k = 0; k < problem.demands.size(); ++k) reason.demands.push_back(static_cast<int>(k));
  for (std::size_t k = 0; k < problem.reversible.size(); ++k)
    reason.reversible.push_back(static_cast<int>(k));
  // Reversible ones first: a reason with fewer orders to go through is easier to read.
  filter(lattice, reason.problem, reason.problem.reversible, reason.reversible);
  filter(lattice, reason.problem, reason.problem.demands, reason.demands);
  return reason;
}

/// A push as it appears in a chain.
struct Push {
  Lattice::Arc arc;
  int demand;
  bool is_reversible;
};

/// The pushes of one order, cut down to what it takes, and the chain that they form.
class ChainFinder {
 public:
  ChainFinder(const SettleProblem& problem, std::vector<Push> pushes)
      : problem_(problem), pushes_(std::move(pushes)) {
    lattice_.assign_places(problem, !problem.between_values);
    drop_idle();
  }

  /// Lets the pushes work until one finds no room, or until they go round without end.
  BlockingChain chain() {
    const int n = static_cast<int>(problem_.variables.size());
    latest_.assign(n, -1);
    for (int rounds_without_jump = 0; rounds_without_jump <= n; ++rounds_without_jump) {
      for (std::size_t k = 0; k < pushes_.size(); ++k) {
        const Lattice::Arc& arc = pushes_[k].arc;
        const double to = least(arc.lower) + arc.distance;
        const double before = least(arc.upper);
        if (to <= before + search_grain) continue;
        const Stretch* s = stretch_for(arc.upper, to);
        const bool no_room = s == lattice_.stretches_end(arc.upper);
        events_.push_back(
            {static_cast<int>(k), latest_[arc.lower], to, no_room ? to : std::max(to, s->from)});
        if (no_room) return told(steps_to_last(), false);
        latest_[arc.upper] = static_cast<int>(events_.size()) - 1;
        if (s != stretch_for(arc.upper, before)) rounds_without_jump = 0;
      }
    }
    return told(last_circle(), true);
  }

 private:
  bool blocks(const std::vector<Push>& pushes) const {
    Lattice trial = lattice_;
    for (const Push& push : pushes) trial.add(push.arc);
    return !trial.settle_bounds();
  }

  void drop_idle() {
    for (std::size_t k = pushes_.size(); k-- > 0;) {
      std::vector<Push> fewer = pushes_;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(k));
      if (blocks(fewer)) pushes_ = std::move(fewer);
    }
  }

  const Stretch* stretch_for(int variable, double to) const {
    return std::find_if(lattice_.stretches_begin(variable), lattice_.stretches_end(variable),
                        [to](const Stretch& s) { return s.to >= to - search_grain; });
  }

  /// One push as it happened; `cause` is the event that had moved the pushing variable, −1 where it was at
  /// its least place.
  struct Event {
    int push;
    int cause;
    double to;
    double least;
  };

  double least(int variable) const {
    return latest_[variable] < 0 ? lattice_.stretches_begin(variable)->from
                                 : events_[latest_[variable]].least;
  }

  std::vector<int> steps_to_last() const {
    std::vector<int> steps;
    for (int e = static_cast<int>(events_.size()) - 1; e >= 0; e = events_[e].cause) steps.push_back(e);
    std::reverse(steps.begin(), steps.end());
    return steps;
  }

  /// The last events, from one on a variable to the next one on it.
  std::vector<int> last_circle() const {
    std::vector<int> steps = steps_to_last();
    std::vector<int> seen_at(problem_.variables.size(), -1);
    for (int k = static_cast<int>(steps.size()) - 1; k >= 0; --k) {
      int& seen = seen_at[pushes_[events_[steps[k]].push].arc.upper];
      if (seen >= 0) return {steps.begin() + k, steps.begin() + seen + 1};
      seen = k;
    }
    require(false, "pushes without end go round in a circle");
    return {};
  }

  /// Forbidden stretches between a place and the next allowed one; steps between values do not count.
  std::vector<Stretch> skipped_from(int variable, double place) const {
    std::vector<Stretch> skipped;
    const SettleVariable& v = problem_.variables[variable];
    const double last_value = v.origin + v.step * (static_cast<double>(v.costs.size()) - 1.0);
    double from = std::max(v.origin, v.least);
    const double end = std::min(last_value, v.greatest);
    const double shortest = problem_.between_values ? search_grain : v.step + search_grain;
    for (const Stretch* s = lattice_.stretches_begin(variable); s != lattice_.stretches_end(variable); ++s) {
      if (s->from - from > shortest && s->from > place + search_grain) skipped.push_back({from, s->from});
      if (s->to >= place - search_grain) return skipped;
      from = s->to;
    }
    if (end - from > shortest) skipped.push_back({from, end});
    return skipped;
  }

  ChainLink first_link(int event, bool circular) const {
    const Push& push = pushes_[events_[event].push];
    ChainLink link;
    link.variable = circular ? push.arc.upper : push.arc.lower;
    const SettleVariable& first = problem_.variables[link.variable];
    link.pushed_to = circular ? events_[event].least : std::max(first.origin, first.least);
    link.at_least = circular ? link.pushed_to : lattice_.stretches_begin(link.variable)->from;
    if (!circular) link.skipped = skipped_from(link.variable, link.pushed_to);
    return link;
  }

  BlockingChain told(const std::vector<int>& steps, bool circular) const {
    BlockingChain chain;
    chain.circular = circular;
    chain.links.push_back(first_link(steps.front(), circular));
    for (std::size_t k = circular ? 1 : 0; k < steps.size(); ++k) {
      const Event& event = events_[steps[k]];
      const Push& push = pushes_[event.push];
      chain.links.push_back({push.arc.upper, push.demand, push.is_reversible, push.arc.distance, event.to,
                             skipped_from(push.arc.upper, event.to), event.least});
    }
    const ChainLink& last = chain.links.back();
    chain.greatest = (lattice_.stretches_end(last.variable) - 1)->to;
    chain.lack = last.pushed_to - (circular ? chain.links.front().at_least : chain.greatest);
    return chain;
  }

  const SettleProblem& problem_;
  std::vector<Push> pushes_;
  Lattice lattice_;
  std::vector<Event> events_;
  std::vector<int> latest_;  // event on each variable
};

/// Goes through the orders of the reason's pairs, leaving off as soon as those chosen so far block.
class ChainLister {
 public:
  ChainLister(const SettleProblem& whole, const Reason& reason) : reason_(reason) {
    orders_.assign(whole.reversible.size(), 0);
    places_.assign_places(reason.problem, !reason.problem.between_values);
    for (std::size_t k = 0; k < reason.demands.size(); ++k) {
      const Demand& d = reason.problem.demands[k];
      pushes_.push_back({{d.lower, d.upper, d.distance}, reason.demands[k], false});
    }
    list(0);
    std::stable_sort(chains_.begin(), chains_.end(),
                     [](const auto& a, const auto& b) { return a.lack < b.lack; });
  }

  std::vector<BlockingChain> chains() { return std::move(chains_); }
  bool all() const { return all_; }

 private:
  bool blocks() const {
    Lattice trial = places_;
    for (const Push& push : pushes_) trial.add(push.arc);
    return !trial.settle_bounds();
  }

  void list(std::size_t pair) {
    if (static_cast<int>(chains_.size()) == settle_most_chains) {
      all_ = false;
      return;
    }
    if (blocks()) {
      chains_.push_back(ChainFinder(reason_.problem, pushes_).chain());
      chains_.back().orders = orders_;
      return;
    }
    const ReversibleDemand& d = reason_.problem.reversible[pair];
    const int index = reason_.reversible[pair];
    const Lattice::Arc ways[2] = {{d.a, d.b, d.distance_a_first}, {d.b, d.a, d.distance_b_first}};
    for (int k = 0; k < 2; ++k) {
      pushes_.push_back({ways[k], index, true});
      orders_[index] = k == 0 ? 1 : -1;
      list(pair + 1);
      pushes_.pop_back();
    }
    orders_[index] = 0;
  }

  const Reason& reason_;
  Lattice places_;
  std::vector<Push> pushes_;
  std::vector<int> orders_;
  std::vector<BlockingChain> chains_;
  bool all_ = true;
};

/// A chain of one link for each variable that has no allowed place at all.
std::vector<BlockingChain> without_place(const SettleProblem& problem) {
  std::vector<BlockingChain> chains;
  for (std::size_t i = 0; i < problem.variables.size(); ++i) {
    const SettleVariable& v = problem.variables[i];
    std::vector<Stretch> stretches;
    append_stretches(v, !problem.between_values, {}, stretches);
    if (!stretches.empty()) continue;
    const double from = std::max(v.origin, v.least);
    const double to = std::min(v.origin + v.step * (static_cast<double>(v.costs.size()) - 1.0), v.greatest);
    BlockingChain chain;
    chain.links.push_back({static_cast<int>(i), -1, false, 0.0, from, {{from, to}}, to});
    chain.greatest = to;
    chain.orders.assign(problem.reversible.size(), 0);
    chains.push_back(chain);
  }
  return chains;
}

/// Enough of anything, were it to help at all: everything laid end to end.
double generous_amount(const SettleProblem& problem) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const SettleVariable& v : problem.variables) {
    low = std::min(low, v.origin);
    high = std::max(high, v.origin + v.step * static_cast<double>(v.costs.size()));
    if (std::isfinite(v.least)) high = std::max(high, v.least);
    if (std::isfinite(v.greatest)) low = std::min(low, v.greatest);
  }
  double sum = high - low;
  for (const Demand& d : problem.demands) sum += std::abs(d.distance);
  for (const ReversibleDemand& d : problem.reversible)
    sum += std::abs(d.distance_a_first) + std::abs(d.distance_b_first);
  return sum;
}

using What = Relaxation::What;

Give give_of(What what, int kind, double amount) {
  Give give;
  switch (what) {
    case What::leeway:
      give.leeway = amount;
      break;
    case What::low_room:
      give.low_room = amount;
      break;
    case What::high_room:
      give.high_room = amount;
      break;
    case What::forbidden:
      give.forbidden = amount;
      break;
    case What::demands:
      give.distance = amount;
      give.kind = kind;
      break;
  }
  return give;
}

/// The least amount that opens a way, to 1e-7; nothing where none does.
std::optional<double> least_amount(Lattice& lattice, const SettleProblem& problem, What what, int kind) {
  const auto opens = [&](double amount) { return way(lattice, problem, give_of(what, kind, amount)); };
  double enough = generous_amount(problem);
  if (!opens(enough)) return std::nullopt;
  double too_little = 0.0;
  while (enough - too_little > 1e-7) {
    const double middle = 0.5 * (too_little + enough);
    (opens(middle) ? enough : too_little) = middle;
  }
  // Lengths are round numbers more often than not.
  const double round = std::round(enough * 1e6) / 1e6;
  return round < enough && opens(round) ? round : enough;
}

std::vector<Relaxation> relaxations(Lattice& lattice, const SettleProblem& problem,
                                    const SettleProblem& reason) {
  std::vector<std::pair<What, int>> trials = {
      {What::leeway, 0}, {What::low_room, 0}, {What::high_room, 0}, {What::forbidden, 0}};
  std::set<int> kinds;
  for (const Demand& d : reason.demands) kinds.insert(d.kind);
  for (const ReversibleDemand& d : reason.reversible) kinds.insert(d.kind);
  for (const int kind : kinds) trials.emplace_back(What::demands, kind);
  std::vector<Relaxation> list;
  for (const auto& [what, kind] : trials) {
    if (const auto amount = least_amount(lattice, problem, what, kind)) {
      list.push_back({what, kind, *amount, true});
    } else if (const auto part = least_amount(lattice, reason, what, kind)) {
      list.push_back({what, kind, *part, false});
    }
  }
  return list;
}

}  // namespace

Blocked blocked(const SettleProblem& problem) {
  Lattice lattice;
  require(!way(lattice, problem), "a reason is asked for only where there is no way");
  const Reason reason = irreducible_reason(lattice, problem);
  Blocked blocked;
  blocked.demands = reason.demands;
  blocked.reversible = reason.reversible;
  blocked.chains = without_place(problem);
  if (blocked.chains.empty()) {
    ChainLister lister(problem, reason);
    blocked.chains = lister.chains();
    blocked.all_chains = lister.all();
  }
  blocked.relaxations = relaxations(lattice, problem, reason.problem);
  return blocked;
}

}  // namespace culmwright
