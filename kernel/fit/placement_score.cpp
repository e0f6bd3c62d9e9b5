#include "fit/placement_score.hpp"

#include "fit/propose_score.hpp"

namespace culmwright {

std::vector<ScoreTerm> placement_score(const TubeFit& fit, const KeyLayout& layout,
                                       const Placement& placement, const Instrument& instrument,
                                       const std::optional<Balance>& balance) {
  const PieceFacts facts = facts_of(fit.survey());
  const ProposeOptions options;
  const Model model(fit.tube(), facts, layout, options);
  return score_terms(model, placement, instrument, balance);
}

double total_points(const std::vector<ScoreTerm>& terms) {
  double points = 0.0;
  for (const ScoreTerm& term : terms) points += term.points();
  return points;
}

}  // namespace culmwright
