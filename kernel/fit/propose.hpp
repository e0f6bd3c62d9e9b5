#pragma once
/// Proposals: where the keys and parts of a key layout go on a tube, for the maker to choose from.
///
/// Tried: both ends as mouth end × cuts × facings (5° steps) × marks of the hands (1 mm steps along) × shifts
/// of every key and part within its leeway, along and around.
///
/// How it is done
///   search    For each end and facing every mark of each hand gets a lower bound of its cost from the node
///             bands, blemishes and widths that its keys would meet, and a fixpoint (fit/settle_lattice.hpp)
///             whether they can be kept apart at all. The hands are then paired over the cuts, with their
///             distance and the balance. Bounds are calculated with the leeway around used to the best for
///             every pair alone: nothing that could be placed is lost by them. For each end, facing and pair
///             of internodes the best setting is kept that has a way for everything together, by the same
///             fixpoint. Cuts in steps of 5 and 10 mm, then of 1 mm near the best. The torque in a bound is
///             that of a straight tube.
///   settling  In order of the bounds, all keys and parts together (fit/settle.hpp): exactly along for given
///             places around, then exactly around for the places along, in turn until nothing is gained; not
///             jointly. Then off the grid.
///   checking  Every proposal is assembled and held against all the rules (fit/rules.hpp). Where one is
///             broken by a little its demand is tightened and the settling repeated; a proposal that breaks a
///             hard rule is never returned, but for what drilled or locked places break among themselves.
///
/// A refusal is proven where no hand mark has a way; otherwise it says why the nearest of the candidates
/// that were settled (100 at most) failed. Demands are asked for with 0.03 mm to spare.
///
/// The score is the sum of its terms, fewer points are better (KeyLayout::weights).
///
/// Where the key layout knows the player's hand, searching and settling still go by the keys' distance from
/// where the hand has them, but three times as many different placements are settled as are wanted. On each
/// the hands are laid (hand/comfort.hpp); their discomfort takes the place of that distance in the score, and
/// the best by it are returned. A key out of a finger's reach breaks a rule.
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "fit/balance.hpp"
#include "fit/rules.hpp"
#include "layout/placement.hpp"
#include "tube/survey_fit.hpp"

namespace culmwright {

/// One term of a score: `value` in its natural unit, times `weight`, is its points.
struct ScoreTerm {
  std::string name;  ///< "keys shifted"
  double value = 0.0;
  std::string unit;  ///< "mm²"
  double weight = 0.0;
  double points() const { return value * weight; }
};

struct Proposal {
  Placement placement;  ///< every key and part listed; what was locked or drilled as it was
  Instrument instrument;
  std::vector<Finding> findings;
  std::optional<Balance> balance;  ///< none where the piece was not weighed
  std::vector<ScoreTerm> terms;
  double score = 0.0;                ///< the sum of the terms' points, in their order
  std::string character;             ///< one line in plain words
  std::vector<std::string> remarks;  ///< rules that holes drilled or locked break among themselves; warnings
};

/// Why there is no placement.
struct Refusal {
  std::string sentence;                  ///< the whole in one sentence
  std::vector<std::string> demands;      ///< what cannot all be kept, for the placement that comes nearest
  std::vector<std::string> relaxations;  ///< each alone would do, by so much at the least
};

/// What is known of the piece beside its shape.
struct PieceFacts {
  std::optional<End> butt;
  std::optional<Angle> handsome;
  double mass_sigma_g = 0.0;
  double centre_sigma = 0.0;
};
PieceFacts facts_of(const Survey& survey);

/// What the search did.
struct ProposeFigures {
  long long marks_judged = 0;  ///< hand marks bounded, each for one end and facing
  long long pairs_judged = 0;  ///< pairs of hands with their cuts
  int settled = 0;             ///< placements settled
  int checked = 0;             ///< placements held against the rules
  int hands_judged = 0;        ///< hands whose comfort was judged, where their size is known
};

struct ProposeOptions {
  int count = 5;
  Angle facing_step = Angle::from_degrees(5.0);
  // What is not to be chosen. Cuts are `at`.
  std::optional<End> mouth_end;
  std::optional<Angle> facing;
  std::optional<double> mouth_cut_at;
  std::optional<double> foot_cut_at;
  /// A placement to start from: its locked and drilled numbers stay as they are. With any locked or drilled
  /// place, its mouth end and facing stay too; with any drilled one its cuts as well.
  std::optional<Placement> placement;
  /// Whether the comfort of a hand whose size is known takes the place of the keys' distance in the score.
  bool judge_comfort = true;
  std::string placement_id;  ///< of a new placement; empty: KEYLAYOUT-on-TUBE
  std::string date;          ///< of the new revision
  ProposeFigures* figures = nullptr;
};

/// Two proposals are different when the other end is the mouth end, they face more than this apart, or a hand
/// is in another internode.
constexpr double different_facing_degrees = 20.0;

/// The best different placements, best first, at least one and at most options.count; or why there is none.
/// Throws InputError when options.placement does not belong to this tube and key layout.
std::variant<std::vector<Proposal>, Refusal> propose(const TubeFit& fit, const KeyLayout& layout,
                                                     const ProposeOptions& options = {});
std::variant<std::vector<Proposal>, Refusal> propose(const Tube& tube, const PieceFacts& facts,
                                                     const KeyLayout& layout,
                                                     const ProposeOptions& options = {});

}  // namespace culmwright
