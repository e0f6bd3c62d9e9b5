#include "tube/check_girth.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "tube/fit_readings.hpp"

namespace culmwright {

std::vector<GirthMovement> girth_movements(const TubeFit& fit) {
  const Survey& survey = fit.survey();
  std::vector<GirthMovement> movements;
  for (const CheckGirth& check : survey.check_girths) {
    const double skin = 2.0 * pi * fit.tube().shape().skin.section(check.at).mean();
    movements.push_back({check.at, check.girth, skin + pi * survey.tape_thickness,
                         std::hypot(survey.errors.tape, fit.girth_sigma(check.at)),
                         in_node_band(survey, check.at)});
  }
  return movements;
}

std::string movement_sentence(const GirthMovement& movement) {
  const std::string place = "The check girth at " + fixed_text(movement.at, 1);
  if (movement.on_node)
    return place + " lies on a node's ridge and tells nothing. Take it clear of the ridge.";
  const double percent = 100.0 * std::abs(movement.share());
  const std::string figures = place + " reads " + fixed_text(movement.read, 1) + ", " +
                              fixed_text(percent, 1) + " % " + (movement.share() < 0.0 ? "less" : "more") +
                              " than the " + fixed_text(movement.expected, 1) + " ± " +
                              fixed_text(movement.sigma, 1) + " that the survey expects";
  if (!movement.moved()) return figures + ": the piece has not moved.";
  return figures + ". More than " + fixed_text(100.0 * greatest_movement, 1) +
         " %: the piece has moved, or the survey is off there. Measure again before anything is drilled.";
}

std::string check_girth_reminder(const std::vector<GirthMovement>& movements) {
  const auto useful = static_cast<std::size_t>(
      std::count_if(movements.begin(), movements.end(), [](const auto& m) { return !m.on_node; }));
  if (useful >= check_girths_wanted) return "";
  return std::string("Before drilling, measure ") + (useful == 0 ? "two girths" : "one more girth") +
         " again, one near each end and clear of the nodes, and enter them as \"check_girths\": they show "
         "whether the piece has moved since its survey.";
}

}  // namespace culmwright
