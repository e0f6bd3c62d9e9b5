#include "fit/settle_lattice.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "fit/settle_grid.hpp"

namespace culmwright {

namespace {

constexpr double grain = search_grain;

/// Runs of neighbouring allowed values.
void append_runs(const SettleVariable& v, std::vector<Stretch>& stretches) {
  const std::size_t count = v.costs.size();
  for (std::size_t k = 0; k < count; ++k) {
    if (v.costs[k] == forbidden_place) continue;
    const double place = v.origin + v.step * static_cast<double>(k);
    if (k > 0 && v.costs[k - 1] != forbidden_place) {
      stretches.back().to = place;
    } else {
      stretches.push_back({place, place});
    }
  }
}

/// A forbidden stretch at an end of the values moves outward with the end; one within is narrowed from either
/// side.
void give_way(const Give& give, std::size_t begin, std::vector<Stretch>& stretches) {
  if (stretches.size() == begin) return;
  std::size_t last = begin;
  for (std::size_t i = begin + 1; i < stretches.size(); ++i) {
    const Stretch run = stretches[i];
    if (run.from - stretches[last].to <= 2.0 * give.forbidden) {
      stretches[last].to = run.to;
    } else {
      stretches[last].to += give.forbidden;
      stretches[++last] = {run.from - give.forbidden, run.to};
    }
  }
  stretches.resize(last + 1);
  stretches[begin].from -= give.low_room;
  stretches[last].to += give.high_room;
}

void clip_to_leeway(const SettleVariable& v, double extra, std::size_t begin,
                    std::vector<Stretch>& stretches) {
  const double least = v.least - extra;
  const double greatest = v.greatest + extra;
  std::size_t kept = begin;
  for (std::size_t i = begin; i < stretches.size(); ++i) {
    const Stretch clipped = {std::max(stretches[i].from, least), std::min(stretches[i].to, greatest)};
    if (clipped.from <= clipped.to + grain)
      stretches[kept++] = {clipped.from, std::max(clipped.from, clipped.to)};
  }
  stretches.resize(kept);
}

/// Each value within a stretch becomes a stretch of its own.
void split_into_values(const SettleVariable& v, std::size_t begin, std::vector<Stretch>& stretches) {
  const std::vector<Stretch> runs(stretches.begin() + static_cast<std::ptrdiff_t>(begin), stretches.end());
  stretches.resize(begin);
  for (const Stretch& run : runs) {
    const int first = static_cast<int>(std::ceil((run.from - v.origin - grain) / v.step));
    const int last = static_cast<int>(std::floor((run.to - v.origin + grain) / v.step));
    for (int k = first; k <= last; ++k) {
      const double place = v.origin + v.step * k;
      stretches.push_back({place, place});
    }
  }
}

}  // namespace

void append_stretches(const SettleVariable& variable, bool on_values, const Give& give,
                      std::vector<Stretch>& stretches) {
  require(variable.step > 0.0 && !variable.costs.empty(), "a variable to settle has values and a step");
  const std::size_t begin = stretches.size();
  append_runs(variable, stretches);
  const bool locked = variable.costs.size() == 1;
  if (!locked) give_way(give, begin, stretches);
  clip_to_leeway(variable, give.leeway, begin, stretches);
  if (on_values) split_into_values(variable, begin, stretches);
}

void Lattice::reset(int variables) {
  stretches_.clear();
  first_.assign(static_cast<std::size_t>(variables) + 1, 0);
  arcs_.clear();
  pairs_.clear();
}

void Lattice::add_stretch(int variable, Stretch stretch) {
  stretches_.push_back(stretch);
  std::fill(first_.begin() + variable + 1, first_.end(), static_cast<int>(stretches_.size()));
}

void Lattice::assign_places(const SettleProblem& problem, bool on_values, const Give& give) {
  stretches_.clear();
  first_.assign(1, 0);
  arcs_.clear();
  pairs_.clear();
  for (const SettleVariable& variable : problem.variables) {
    append_stretches(variable, on_values, give, stretches_);
    first_.push_back(static_cast<int>(stretches_.size()));
  }
}

void Lattice::assign(const SettleProblem& problem, bool on_values, const Give& give) {
  assign_places(problem, on_values, give);
  const int n = size();
  const auto in_range = [n](int i, int j) { return i >= 0 && j >= 0 && i < n && j < n && i != j; };
  const auto given = [&give](const auto& d) {
    return d.kind == give.kind ? std::min(give.distance, d.can_give) : 0.0;
  };
  for (const Demand& d : problem.demands) {
    require(in_range(d.lower, d.upper), "a demand is between two variables");
    add(Arc{d.lower, d.upper, d.distance - given(d)});
  }
  for (const ReversibleDemand& d : problem.reversible) {
    require(in_range(d.a, d.b), "a reversible demand is between two variables");
    add(Pair{{d.a, d.b, d.distance_a_first - given(d)}, {d.b, d.a, d.distance_b_first - given(d)}});
  }
}

bool Lattice::keeps(const std::vector<double>& point, const Arc& arc) const {
  return point[arc.upper] - point[arc.lower] >= arc.distance - grain;
}

bool Lattice::possible(const Arc& arc) const {
  return state_.greatest[arc.upper] - state_.least[arc.lower] >= arc.distance - grain;
}

void Lattice::begin() {
  const int n = size();
  state_.least.resize(n);
  state_.greatest.resize(n);
  state_.low_stretch.resize(n);
  state_.high_stretch.resize(n);
  state_.orders.assign(pairs_.size(), Order::open);
  for (int i = 0; i < n; ++i) {
    state_.low_stretch[i] = first_[i];
    state_.high_stretch[i] = first_[i + 1] - 1;
    state_.least[i] = stretches_[first_[i]].from;
    state_.greatest[i] = stretches_[first_[i + 1] - 1].to;
  }
}

Lattice::Push Lattice::raise(int variable, double to) {
  double& least = state_.least[variable];
  if (to <= least + grain) return Push::none;
  int& s = state_.low_stretch[variable];
  const int end = first_[variable + 1];
  const int before = s;
  while (s < end && stretches_[s].to < to - grain) ++s;
  if (s == end) return Push::no_room;
  const bool jumped = s != before;
  least = std::max(stretches_[s].from, std::min(to, stretches_[s].to));
  if (least > state_.greatest[variable] + grain) return Push::no_room;
  return jumped ? Push::jumped : Push::moved;
}

Lattice::Push Lattice::lower(int variable, double to) {
  double& greatest = state_.greatest[variable];
  if (to >= greatest - grain) return Push::none;
  int& s = state_.high_stretch[variable];
  const int begin = first_[variable];
  const int before = s;
  while (s >= begin && stretches_[s].from > to + grain) --s;
  if (s < begin) return Push::no_room;
  const bool jumped = s != before;
  greatest = std::min(stretches_[s].to, std::max(to, stretches_[s].from));
  if (greatest < state_.least[variable] - grain) return Push::no_room;
  return jumped ? Push::jumped : Push::moved;
}

/// Goes round all arcs until none pushes. Every round without a jump over a forbidden stretch carries a push
/// one arc farther; more such rounds than variables mean that the arcs push in a circle, without end.
template <class Visit>
bool Lattice::until_still(const Visit& visit) {
  int rounds_without_jump = 0;
  for (;;) {
    Push most = Push::none;
    const auto go = [&](const Arc& arc) {
      const Push push = visit(arc);
      most = std::max(most, push);
      return push != Push::no_room;
    };
    for (const Arc& arc : arcs_) {
      if (!go(arc)) return false;
    }
    for (std::size_t p = 0; p < pairs_.size(); ++p) {
      if (state_.orders[p] == Order::open) continue;
      if (!go(state_.orders[p] == Order::a_first ? pairs_[p].a_first : pairs_[p].b_first)) return false;
    }
    if (most == Push::none) return true;
    rounds_without_jump = most == Push::jumped ? 0 : rounds_without_jump + 1;
    if (rounds_without_jump > size()) return false;
  }
}

bool Lattice::raise_all() {
  return until_still(
      [this](const Arc& arc) { return raise(arc.upper, state_.least[arc.lower] + arc.distance); });
}

bool Lattice::lower_all() {
  return until_still(
      [this](const Arc& arc) { return lower(arc.lower, state_.greatest[arc.upper] - arc.distance); });
}

bool Lattice::settle_bounds() {
  for (int i = 0; i < size(); ++i) {
    if (first_[i] == first_[i + 1]) return false;
  }
  begin();
  return decide(-1, Order::open);
}

bool Lattice::decide(int pair, Order order) {
  if (pair >= 0) state_.orders[pair] = order;
  for (;;) {
    if (!raise_all() || !lower_all()) return false;
    bool decided = false;
    for (std::size_t p = 0; p < pairs_.size(); ++p) {
      if (state_.orders[p] != Order::open) continue;
      const bool a_first = possible(pairs_[p].a_first);
      const bool b_first = possible(pairs_[p].b_first);
      if (!a_first && !b_first) return false;
      if (a_first && b_first) continue;
      state_.orders[p] = a_first ? Order::a_first : Order::b_first;
      decided = true;
    }
    if (!decided) return true;
  }
}

int Lattice::first_broken_pair() const {
  for (std::size_t p = 0; p < pairs_.size(); ++p) {
    if (state_.orders[p] == Order::open && !keeps(state_.least, pairs_[p].a_first) &&
        !keeps(state_.least, pairs_[p].b_first)) {
      return static_cast<int>(p);
    }
  }
  return -1;
}

bool Lattice::search_from(std::size_t depth) {
  const int pair = first_broken_pair();
  if (pair < 0) return true;
  if (saved_.size() <= depth) saved_.resize(depth + 1);
  saved_[depth] = state_;
  // First the order in which the two stand now, at their middles.
  const Arc& arc = pairs_[pair].a_first;
  const double a_twice_middle = state_.least[arc.lower] + state_.greatest[arc.lower];
  const double b_twice_middle = state_.least[arc.upper] + state_.greatest[arc.upper];
  const Order first = a_twice_middle <= b_twice_middle ? Order::a_first : Order::b_first;
  const Order second = first == Order::a_first ? Order::b_first : Order::a_first;
  if (decide(pair, first) && search_from(depth + 1)) return true;
  state_ = saved_[depth];
  return decide(pair, second) && search_from(depth + 1);
}

bool Lattice::search() {
  return settle_bounds() && search_from(0);
}

bool feasible(const SettleProblem& problem) {
  Lattice lattice;
  lattice.assign(problem, !problem.between_values);
  return lattice.search();
}

}  // namespace culmwright
