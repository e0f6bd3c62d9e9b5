#pragma once
/// Points and plain words of a proposal. Internal to proposing.
#include "fit/propose_model.hpp"

namespace culmwright {

/// Points that the way of holding the tube costs by itself: handsome side, butt.
double stand_points(const Model& model, const Stand& stand);
/// Points for the cuts: what is cut off, blemishes to hide that stay in sight (openings not considered).
double cut_points(const Model& model, const Stand& stand, const Setting& setting);

/// Every term, from the finished instrument. `placement` holds the marks. `discomfort`: of the hands, in
/// points (hand/comfort.hpp), instead of the keys' distance from the hand's places.
std::vector<ScoreTerm> score_terms(const Model& model, const Placement& placement,
                                   const Instrument& instrument, const std::optional<Balance>& balance,
                                   std::optional<double> discomfort = std::nullopt);

/// Pairs of items, neighbours among the finger keys of one hand, whose spacing is kept even.
std::vector<std::pair<int, int>> neighbours(const Model& model);

/// "mouth at B, facing 120°, both hands in the long internode, slightly mouth-heavy: 38 N·mm".
std::string character_of(const Model& model, const Instrument& instrument, const int internode[2],
                         const std::optional<Balance>& balance);

}  // namespace culmwright
