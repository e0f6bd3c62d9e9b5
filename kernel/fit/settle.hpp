#pragma once
/// Settling: where each of several things goes along one line, kept apart, as near as can be to where it is
/// wanted. The line is the tube, the things are keys and parts; nothing here knows either. Any unit of length
/// serves, millimetres are meant; costs are in any one unit.
///
/// A variable i takes one place z_i out of evenly spaced values, some of them forbidden (at a node, on a
/// blemish). To be kept, always:
///     demands             z_upper − z_lower ≥ distance (a negative distance is a greatest gap the other way)
///     reversible demands  the same one way round or the other
/// To be made least:
///     Σ cost_i(z_i) + Σ g(z_upper − z_lower)     any costs of places, convex costs g ≥ 0 of gaps
///
/// How it is done
///   feasible     With every order fixed, the places that keep all demands form a lattice: raising each
///                variable from its least value until nothing pushes any more gives the least such point, or
///                runs out of room (difference constraints: Dechter, Meiri & Pearl 1991, from memory).
///   optimum      One minimum cut (Ishikawa 2003, IEEE PAMI 25(10):1333; fit/cut.hpp), or dynamic
///                programming for those parts of the conflict graph that are trees. Both are exact on the
///                given values; rounding: 1e-12 of the sum of all cost ranges for 60 values, 1e-10 for 400.
///                Before a cut, values that provably no optimum takes are left out.
///   order        Branch and bound, only on pairs that the optimum without them leaves too close. Many pairs
///                that may all pass each other in too little room cost time as their orders grow in number:
///                to refuse 7 such keys takes milliseconds, 9 take 0.3 s.
///   refinement   Steepest descent by minimum cuts with halved steps (Murota 2003, Discrete Convex Analysis,
///                ch. 10, from memory): off the given values, to the nearest local optimum.
///
/// Broken preconditions (an index out of range, a cost that is NaN, a g that is not convex or is negative)
/// stop the program: they are never the maker's.
#include <functional>
#include <limits>
#include <string>
#include <variant>
#include <vector>

namespace culmwright {

/// The cost of a value that must not be taken.
constexpr double forbidden_place = std::numeric_limits<double>::infinity();

/// By so much a demand may be missed: rounding of sums of places, far below anything that can be measured.
constexpr double settle_grain = 1e-9;

/// One thing to place. A variable with a single value is locked.
struct SettleVariable {
  double origin = 0.0;        ///< the first value
  double step = 0.5;          ///< between values, > 0
  std::vector<double> costs;  ///< of each value, finite or forbidden_place; 1 … 400 of them

  /// The leeway: values outside are not taken. A relaxation may ask for more of it, so the values above
  /// should reach farther than these limits where the tube does.
  double least = -std::numeric_limits<double>::infinity();
  double greatest = std::numeric_limits<double>::infinity();

  /// The cost between values. Without it: straight lines between neighbours.
  std::function<double(double)> cost_at;
};

/// z_upper − z_lower ≥ distance. `kind` is the caller's own number for what asks for it (web, touch, …);
/// demands of one kind are relaxed together, each by no more than `can_give`.
struct Demand {
  int lower = 0;
  int upper = 0;
  double distance = 0.0;
  int kind = 0;
  double can_give = std::numeric_limits<double>::infinity();
};

/// Either z_b − z_a ≥ distance_a_first, or z_a − z_b ≥ distance_b_first.
struct ReversibleDemand {
  int a = 0;
  int b = 0;
  double distance_a_first = 0.0;
  double distance_b_first = 0.0;
  int kind = 0;
  double can_give = std::numeric_limits<double>::infinity();
};

/// cost(z_upper − z_lower), convex and not negative.
struct PairCost {
  int lower = 0;
  int upper = 0;
  std::function<double(double)> cost;
};

struct SettleProblem {
  std::vector<SettleVariable> variables;
  std::vector<Demand> demands;
  std::vector<ReversibleDemand> reversible;
  std::vector<PairCost> pair_costs;

  /// Whether places between two neighbouring allowed values may be taken where the values themselves leave
  /// no way: a tube is not refused for the grid's sake.
  bool between_values = true;
};

/// A placing that keeps every demand within settle_grain.
struct Settled {
  std::vector<double> positions;
  double cost = 0.0;                ///< sum of the two lists
  std::vector<double> unary_costs;  ///< of each variable
  std::vector<double> pair_costs;   ///< of each PairCost
  std::vector<bool> a_first;        ///< of each ReversibleDemand: which way round it is kept
  bool on_values = true;            ///< false: only between the given values there was a way
};

struct Stretch {
  double from = 0.0;
  double to = 0.0;
};

/// One step of a blocking chain: what pushes the variable, and to where at least.
struct ChainLink {
  int variable = 0;
  int demand = -1;               ///< index in demands (or in reversible); −1 at the chain's beginning
  bool is_reversible = false;    ///< the demand is a reversible one, in the order of this chain
  double distance = 0.0;         ///< that the demand asks for from the link before
  double pushed_to = 0.0;        ///< by the demand; at the beginning, the variable's least value
  std::vector<Stretch> skipped;  ///< forbidden stretches that push it farther
  double at_least = 0.0;         ///< where it must be at least, because of all this
};

/// Why there is no way with every pair in one certain order: starting from the least place of the first
/// variable, each pushes the next, until the last has no place left.
struct BlockingChain {
  std::vector<ChainLink> links;
  bool circular = false;  ///< the last pushes the first: the demands contradict each other whatever the room
  double greatest = 0.0;  ///< the greatest place that the last variable has
  double lack = 0.0;      ///< how far beyond it is pushed (or, circular, gained on each round)
  std::vector<int> orders;  ///< +1 a first, −1 b first, 0 does not matter here; of each ReversibleDemand
};

/// What alone would do, and by how much at the least.
struct Relaxation {
  enum class What {
    leeway,     ///< every variable's leeway, on either side
    demands,    ///< every demand of the kind, shorter
    low_room,   ///< room at the low end for every variable that is not locked; the forbidden stretch there
                ///< moves along
    high_room,  ///< the same at the high end
    forbidden   ///< every forbidden stretch within, narrower on either side
  };
  What what = What::leeway;
  int kind = 0;           ///< of demands
  double amount = 0.0;    ///< enough, and within 1e-6 the least that is
  bool cures_all = true;  ///< false: it removes this reason, but others remain
};

/// There is no way. The demands listed cannot be kept together; without any one of them the rest of the list
/// can. Of several such reasons, one with few reversible demands and those demands that come first in the
/// problem. Both lists are empty where a variable has no allowed place at all (chains then names it).
struct Blocked {
  std::vector<int> demands;
  std::vector<int> reversible;
  std::vector<BlockingChain> chains;  ///< one for each order of the pairs above, the least lack first
  bool all_chains = true;             ///< false: there are more orders than settle_most_chains
  std::vector<Relaxation> relaxations;
};

constexpr int settle_most_chains = 24;

/// How the optimum is found: `automatic` takes trees by dynamic programming and the rest by cut, after
/// leaving out values that no optimum takes; `cut` takes everything by cut.
enum class SettleMethod { automatic, cut };

/// The least cost over the given values; where these leave no way, a good placing between them; or the
/// reason.
std::variant<Settled, Blocked> settle(const SettleProblem& problem,
                                      SettleMethod method = SettleMethod::automatic);

/// Whether there is a way (between values too, if the problem allows that). For many questions of one
/// kind use Lattice (fit/settle_lattice.hpp) directly.
bool feasible(const SettleProblem& problem);

/// Why there is none. Precondition: !feasible(problem).
Blocked blocked(const SettleProblem& problem);

/// Moves a placing off the values to the nearest local optimum: no variable or group of variables can gain
/// by moving 1e-6 together. Orders, demands and forbidden stretches are kept; no cost is made worse.
/// Convex costs: the optimum itself, within some 1e-6 in place.
Settled refine(const SettleProblem& problem, const Settled& settled);

/// The costs of `positions`, each demand checked; empty where one is not kept or a place is forbidden.
struct Valuation {
  bool kept = false;
  double cost = 0.0;
  std::vector<double> unary_costs;
  std::vector<double> pair_costs;
};
Valuation value(const SettleProblem& problem, const std::vector<double>& positions);

}  // namespace culmwright
