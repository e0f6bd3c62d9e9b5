#pragma once
/// Whether a piece is still what was surveyed. Wood and bamboo move with moisture: before anything is drilled
/// two girths are measured again and held against the fitted tube.
#include <string>
#include <vector>

#include "tube/survey_fit.hpp"

namespace culmwright {

/// More than this share of the girth, and the piece is measured again. Common practice.
constexpr double greatest_movement = 0.005;
/// One girth sees a change of moisture, two see a slip of the tape as well.
constexpr std::size_t check_girths_wanted = 2;

/// A check girth against the fitted tube.
struct GirthMovement {
  double at = 0.0;
  double read = 0.0;      ///< as the tape said
  double expected = 0.0;  ///< as the tape should say: girth of the smooth skin, and π times its own thickness
  double sigma = 0.0;     ///< standard deviation of the difference: the tape's and the survey's
  bool on_node = false;   ///< taken in the band of a node's ridge, where it tells nothing
  double share() const { return (read - expected) / expected; }
  bool moved() const { return !on_node && (share() > greatest_movement || share() < -greatest_movement); }
};

/// One for each check girth of the survey, in its order.
std::vector<GirthMovement> girth_movements(const TubeFit& fit);

/// "The girth at 110 is 94.3, 0.8 % more than the survey's 93.5 ± 0.3: …", for the maker.
std::string movement_sentence(const GirthMovement& movement);
/// What is still to be measured before drilling; empty when enough was.
std::string check_girth_reminder(const std::vector<GirthMovement>& movements);

}  // namespace culmwright
