#pragma once
/// The lattice of placings that keep a set of demands (fit/settle.hpp): its least and its greatest point, and
/// the search for a way round of the reversible pairs. A workspace to be kept and filled again: after the
/// first use it allocates nothing. About a microsecond for 17 variables.
#include <vector>

#include "fit/settle.hpp"

namespace culmwright {

/// What gives way, in a trial of a relaxation.
struct Give {
  double leeway = 0.0;
  double low_room = 0.0;
  double high_room = 0.0;
  double forbidden = 0.0;
  double distance = 0.0;  ///< of the demands of `kind`
  int kind = 0;
};

class Lattice {
 public:
  struct Arc {
    int lower, upper;
    double distance;
  };
  /// Each way round, as an arc.
  struct Pair {
    Arc a_first, b_first;
  };
  enum class Order : signed char { b_first = -1, open = 0, a_first = 1 };

  /// Begins anew, with variables that have no place yet and no demands.
  void reset(int variables);
  /// Adds a stretch of places to the variable added last or the next one. Stretches come variable by
  /// variable, and from low to high.
  void add_stretch(int variable, Stretch stretch);
  void add(Arc arc) { arcs_.push_back(arc); }
  void add(Pair pair) { pairs_.push_back(pair); }

  /// Takes over a problem. `on_values`: only its values are places, nothing between them.
  void assign(const SettleProblem& problem, bool on_values, const Give& give = {});
  /// Places only, no demands.
  void assign_places(const SettleProblem& problem, bool on_values, const Give& give = {});

  /// Sets least() and greatest() for the demands and the decided pairs; decides pairs that can go only one
  /// way. False where there is no way; open pairs may still hide that.
  bool settle_bounds();
  /// Continues after a further decision.
  bool decide(int pair, Order order);
  /// Searches the open pairs; true leaves a point that keeps everything in least(), with all pairs that
  /// matter decided.
  bool search();

  /// Marks and restores for a search from outside: everything that settle_bounds and decide change.
  struct State {
    std::vector<double> least, greatest;
    std::vector<int> low_stretch, high_stretch;
    std::vector<Order> orders;
  };
  const State& state() const { return state_; }
  void restore(const State& state) { state_ = state; }

  const std::vector<double>& least() const { return state_.least; }
  const std::vector<double>& greatest() const { return state_.greatest; }
  const std::vector<Order>& orders() const { return state_.orders; }
  const std::vector<Arc>& arcs() const { return arcs_; }
  const std::vector<Pair>& pairs() const { return pairs_; }
  const Stretch* stretches_begin(int variable) const { return stretches_.data() + first_[variable]; }
  const Stretch* stretches_end(int variable) const { return stretches_.data() + first_[variable + 1]; }

 private:
  enum class Push { none, moved, jumped, no_room };

  int size() const { return static_cast<int>(first_.size()) - 1; }
  void begin();
  Push raise(int variable, double to);
  Push lower(int variable, double to);
  template <class Visit>
  bool until_still(const Visit& visit);
  bool raise_all();
  bool lower_all();
  bool keeps(const std::vector<double>& point, const Arc& arc) const;
  bool possible(const Arc& arc) const;
  int first_broken_pair() const;
  bool search_from(std::size_t depth);

  std::vector<Stretch> stretches_;
  std::vector<int> first_;  // of each variable, in stretches_; one more at the end
  std::vector<Arc> arcs_;
  std::vector<Pair> pairs_;
  State state_;
  std::vector<State> saved_;  // one for each depth of the search
};

/// Places of one variable as stretches, from low to high: with `on_values` each value is one of its own.
void append_stretches(const SettleVariable& variable, bool on_values, const Give& give,
                      std::vector<Stretch>& stretches);

}  // namespace culmwright
