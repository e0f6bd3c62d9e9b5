#pragma once
/// Readings that could be taken next, as rows of the least squares. For judging which would help, one by one
/// (next_reading.cpp) or together (reading_set.hpp).
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tube/survey_report.hpp"

namespace culmwright {

/// One thing to do at the bench: a reading, or a few that are taken together.
struct CandidateReading {
  std::string text;                                          ///< "the girth at 120"
  std::vector<std::pair<std::vector<double>, double>> rows;  ///< gradient and error of each reading it brings
  std::optional<double> new_station;
  bool on_plates = false;
  ReadingWish wish;
  std::optional<double> bow_at{};  ///< where it tells the bow, in so many directions
  int bow_directions = 1;
};

std::vector<CandidateReading> candidate_readings(const TubeFit& fit);

}  // namespace culmwright
