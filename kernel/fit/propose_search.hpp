#pragma once
/// The search over ends, cuts, facings and hand marks: bounds, and the candidates in their order. Internal to
/// proposing.
#include <vector>

#include "fit/propose_model.hpp"
#include "fit/settle_lattice.hpp"

namespace culmwright {

/// A demand with everything around used to the best: never more than what is really needed.
struct LooseNeed {
  int a = 0;
  int b = 0;
  double distance = 0.0;
  int order = 0;  ///< +1 a nearer to the mouth, −1 b, 0 either
};
std::vector<LooseNeed> loose_needs(const Model& model, const Stand& stand);

/// Lower bounds of the cost of one hand, for every mark at full millimetres.
struct HandBounds {
  double y0 = 0.0;              ///< of the first mark
  std::vector<double> cost;     ///< infinite: the hand cannot be placed there
  std::vector<int> internode;   ///< in which the middle of its fingers then lies, from the mouth
  double mouth_reach = -1e300;  ///< mark − mouth cut at least
  double foot_reach = -1e300;   ///< foot cut − mark at least
  double y(int i) const { return y0 + i; }
};

struct Candidate {
  Stand stand;
  Setting setting;
  int internode[2] = {0, 0};
  double bound = 0.0;
};

class StandSearch {
 public:
  /// `extra_leeway`: for every item; for looking what comes nearest when nothing can be placed.
  StandSearch(const Model& model, const std::vector<LooseNeed>& needs, Stand stand,
              double extra_leeway = 0.0);

  /// The best of each combination of internodes, over cuts in coarse steps.
  std::vector<Candidate> candidates();
  /// The candidate with cuts and marks settled to 1 mm.
  Candidate polished(const Candidate& candidate);

  const HandBounds& hand(int which) const { return hands_[which]; }
  long long marks_judged() const { return marks_judged_; }
  long long pairs_judged() const { return pairs_judged_; }

 private:
  struct Window {
    int from = 0;
    int to = -1;
    bool empty() const { return from > to; }
  };
  void bound_hand(int which, double extra_leeway);
  double shift_points(int which, double mark, double extra_leeway, bool& moved) const;
  std::vector<LooseNeed> needs_within(int which) const;
  bool own_places_serve(const std::vector<LooseNeed>& within) const;
  bool hand_has_a_way(int which, double mark, const std::vector<LooseNeed>& within);
  void find_distance();
  std::vector<double> mouth_cuts(double from, double to, double step) const;
  std::vector<double> foot_cuts(double mouth, double from, double to, double step) const;
  Window window(int which, double mouth, double foot, int internode) const;
  double mark_cost(int which, double mark, double mouth) const;
  double fixed_cost(const Setting& setting) const;
  double torque(const Setting& setting) const;
  void judge_cuts(double mouth, double foot, std::vector<Candidate>& best, const Candidate* only);
  void judge_pair(Setting setting, int a, int b, Candidate& best);
  /// Whether everything together has a way, with everything around used to the best; true once too many have
  /// been asked for in vain.
  bool has_a_way(const Setting& setting);
  void add_places(int variable, std::size_t item, double nominal, double low, double high);

  const Model& model_;
  const std::vector<LooseNeed>& needs_;
  Stand stand_;
  std::vector<std::vector<Stretch>> kept_out_;  ///< of each item, merged
  HandBounds hands_[2];
  std::vector<int> members_[2];
  double hands_distance_ = -1e300;  ///< lower mark − upper mark at least
  double stand_cost_ = 0.0;
  double low_ = 0.0;  ///< y of the tube's ends
  double high_ = 0.0;
  // Mass of what is fitted, less the holes: by anchor, and its moment about the anchor.
  double mass_[4] = {0, 0, 0, 0};
  double moment_[4] = {0, 0, 0, 0};
  double front_moment_ = 0.0;
  const Item* rest_ = nullptr;
  double extra_leeway_;
  Lattice lattice_;
  int vain_ = 0;  ///< settings without a way
  long long marks_judged_ = 0;
  long long pairs_judged_ = 0;
};

}  // namespace culmwright
