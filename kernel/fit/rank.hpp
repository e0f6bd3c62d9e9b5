#pragma once
/// The batch: every tube against every key layout, and which tube becomes which instrument.
#include <optional>
#include <string>
#include <vector>

#include "fit/propose.hpp"

namespace culmwright {

/// What a piece is worth by itself.
struct PieceFigures {
  std::string tube_id;
  double length = 0.0;
  double wall_uniformity = 0.0;  ///< least wall over mean wall, over the whole piece; 1 is even
  double ovality = 0.0;          ///< greatest at any station, ISO 19624
  double taper = 0.0;            ///< external, unsigned, ISO 19624
  double bow = 0.0;              ///< greatest offset of the axis over the length
  double hole_error = 0.0;       ///< one standard deviation of a hole's place by this survey, mm
  bool good_enough = false;      ///< the survey, for drilling
  Verdict verdict = Verdict::undecided;
  std::string verdict_note;
};
PieceFigures figures_of(const TubeFit& fit);

/// One tube against one key layout.
struct RankRow {
  std::size_t tube = 0;  ///< index in the lists given
  std::size_t layout = 0;
  std::optional<Proposal> best;
  Refusal refusal;                 ///< where there is no best
  double score_sigma = 0.0;        ///< one standard deviation of the score, from the weighing
  std::optional<Finding> nearest;  ///< the hard rule in millimetres with the least margin
  /// Whether the place would hold with the piece as it may be: the margin is twice the survey's error or
  /// more.
  bool sure = false;
  std::string how_sure;  ///< in words
};
RankRow judge(const TubeFit& fit, const PieceFigures& figures, const KeyLayout& layout,
              const ProposeOptions& options = {});

/// Which tube becomes which instrument.
struct Assignment {
  std::vector<std::optional<std::size_t>> layout_of_tube;  ///< index of its key layout
  std::size_t instruments = 0;
  double score = 0.0;  ///< the sum
};

/// As many instruments as can be made, and of all such ways the one with the least sum of scores: exact
/// (successive shortest augmenting paths; Ahuja, Magnanti & Orlin, Network Flows, 1993, section 9.7, from
/// memory). scores[tube][layout]: none where it cannot be. `wanted`: how many of each key layout at most.
Assignment assign(const std::vector<std::vector<std::optional<double>>>& scores,
                  const std::vector<int>& wanted);

struct Ranking {
  std::vector<PieceFigures> pieces;
  /// By key layout, then by score; refused ones last, among them in the order of the tubes.
  std::vector<RankRow> rows;
  Assignment assignment;  ///< tubes put aside are left out of it
};

struct RankOptions {
  ProposeOptions propose;   ///< count is taken as 1
  std::vector<int> wanted;  ///< of each key layout; empty: one of each
};

/// Throws InputError when two tubes or two key layouts have one id.
Ranking rank(const std::vector<TubeFit>& tubes, const std::vector<KeyLayout>& layouts,
             const RankOptions& options = {});
/// The last steps of it, from rows that were judged in any order.
Ranking ranking_of(std::vector<PieceFigures> pieces, std::vector<RankRow> rows, std::size_t layouts,
                   const std::vector<int>& wanted);

}  // namespace culmwright
