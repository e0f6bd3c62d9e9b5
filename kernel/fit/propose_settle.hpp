#pragma once
/// Settling one candidate: every key and part at once, along and around in turn. Internal to proposing.
#include <variant>

#include "fit/propose_search.hpp"
#include "fit/settle.hpp"

namespace culmwright {

/// Places of the items in the played frame.
struct Laid {
  std::vector<double> along;
  std::vector<double> around;
  double cost = 0.0;
};

/// A settling problem with what its numbers mean.
struct AlongProblem {
  SettleProblem problem;
  struct Meaning {
    int a = 0;
    int b = 0;
    DemandKind kind = DemandKind::web;
    double limit = 0.0;   ///< mm, of the rule behind it
    double around = 0.0;  ///< how far the two stand apart around
  };
  std::vector<Meaning> demands;                ///< of each demand
  std::vector<Meaning> reversible;             ///< of each reversible demand
  std::vector<std::vector<Keepout>> keepouts;  ///< of each variable, in `along`
};

class Settler {
 public:
  /// `beyond`: places beyond the leeway that a relaxation may ask for.
  Settler(const Model& model, const Candidate& candidate, double beyond = 6.0);

  /// The places, or why there are none: for the widest use of the leeway around if that is blocked too.
  std::variant<Laid, Blocked> run();
  const AlongProblem& blocked_problem() const { return blocked_problem_; }

  /// Tightens what a broken rule asks for; false where nothing can be tightened.
  bool tighten(const Finding& finding, const Laid& laid);

  /// `loose`: everything around used to the best for each pair and keep-out alone.
  /// `fine`: the finest grid, for edges between the values of the usual one.
  AlongProblem along_problem(const std::vector<double>& around, bool loose, bool fine) const;

 private:
  struct Extra {
    int a, b;
    double distance;
    int order;
  };

  double nominal(std::size_t i) const;
  SettleVariable along_variable(std::size_t i, const std::vector<Stretch>& kept_out, bool fine) const;
  SettleVariable around_variable(std::size_t i, double along) const;
  SettleProblem around_problem(const std::vector<double>& along) const;
  std::vector<Keepout> keepouts_along(std::size_t i, double around) const;
  std::optional<Laid> in_turn(std::vector<double> around, bool loose);
  std::optional<std::size_t> item_named(const std::string& id) const;

  const Model& model_;
  const Candidate& candidate_;
  double beyond_;
  double length_;
  std::vector<Extra> extra_;
  std::vector<std::vector<Keepout>> extra_keepouts_;
  AlongProblem blocked_problem_;
  std::optional<Blocked> blocked_;
};

}  // namespace culmwright
