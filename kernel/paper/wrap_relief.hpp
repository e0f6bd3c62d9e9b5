#pragma once
/// Relief cuts: slits along the tube by which a wrapped paper passes over the ridge of a node.
///
/// A ridge is a ring of greater girth than the paper, which is cut for the skin without it: a ridge of height
/// r is 2πr longer around. n slits across the band each open by 2πr / n; the strips between them arch over
/// the ridge and lose along the tube what their way over it is longer than straight: ∫ √(1 + h_s²) − √(1 +
/// h₀_s²) ds, h with and h₀ without the ridge.
#include <vector>

#include "paper/net.hpp"
#include "paper/wrap_features.hpp"

namespace culmwright {

/// Where slits go, as straight lines (θ const) on the net; they reach a little beyond the band on both sides,
/// or to the edge of the run. Evenly around, at most `spacing` apart, but away from the upright lines and
/// from all features. None for a node whose ridge is sanded off (lower than 0.1 mm), and none off the net.
std::vector<SkinCurve> relief_cuts(const Net& net, const Node& node, const std::vector<Feature>& features,
                                   const std::vector<Angle>& upright_lines, double spacing = 12.0);

/// How much a strip over the ridge draws the paper together along the tube: the greatest over all directions,
/// of the part of the band between the two places. Accuracy 1e-3 of itself.
double ridge_shortening(const Tube& tube, const Node& node, double at_from, double at_to);

}  // namespace culmwright
