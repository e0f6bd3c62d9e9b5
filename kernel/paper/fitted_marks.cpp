#include "paper/fitted_marks.hpp"

#include <algorithm>

#include "base/words.hpp"

namespace culmwright {

namespace {

constexpr int rim_points = 36;

std::string wide(const Drilling& hole, int decimals) {
  return "\u00D8" + fixed_text(2.0 * hole.radius, decimals);
}

void add_holes(Feature& feature, const Tube& tube, const FittedHoles& holes) {
  for (const Drilling& screw : holes.screws)
    feature.small_holes.push_back(rim_curve(tube, screw, rim_points));
  if (!holes.screws.empty()) {
    feature.details.push_back("screw " + wide(holes.screws.front(), 1) + ", " + fixed_text(holes.depth, 1) +
                              " deep");
  }
  if (!holes.wires) return;
  feature.small_holes.push_back(rim_curve(tube, *holes.wires, rim_points));
  feature.details.push_back("wires " + wide(*holes.wires, 1));
}

}  // namespace

void add_fitted_marks(std::vector<Feature>& features, const Tube& tube,
                      const std::vector<FittedHoles>& parts) {
  for (const FittedHoles& part : parts) {
    const auto feature = std::find_if(features.begin(), features.end(), [&](const Feature& one) {
      return one.kind == Feature::Kind::footprint && !one.details.empty() && one.details.front() == part.id;
    });
    if (feature != features.end()) add_holes(*feature, tube, part);
  }
}

}  // namespace culmwright
