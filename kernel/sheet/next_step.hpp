#pragma once
/// What is next for a piece, from its documents alone.
#include <string>
#include <vector>

#include "fit/rank.hpp"

namespace culmwright {

enum class NextStep {
  put_aside,     ///< the maker's verdict
  measure_more,  ///< the survey is too coarse to drill by
  propose,       ///< no placement yet
  mend,          ///< the placement breaks a hard rule
  mock_up,       ///< a draft that no hand has touched
  sign,          ///< a draft moved or measured on a mock-up
  drill,         ///< signed; holes are still to come
  fit,           ///< every hole measured as drilled
};
/// "mock up".
const char* step_words(NextStep step);

struct Next {
  NextStep step = NextStep::propose;
  std::string why;  ///< a sentence
};

/// `instrument`: null where nothing is placed on the piece; `findings` of it.
Next next_for(const PieceFigures& figures, const Instrument* instrument,
              const std::vector<Finding>& findings);

}  // namespace culmwright
