#pragma once
/// The questions of a prompting survey: which reading is asked for next, what its answer becomes. The order
/// is that of the bench (tube/survey_order.hpp), the quick survey first.
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "tube/expected_reading.hpp"
#include "tube/survey_order.hpp"

namespace culmwright {

/// A line from the maker as its question wants it: lengths in millimetres.
struct Entry {
  std::string text;
  std::vector<double> numbers;
};

struct Question {
  enum class Kind { words, choice, lengths, numbers, yes_or_no };

  std::string key;    ///< unique among the questions of one survey
  std::string asked;  ///< "girth at 30"
  std::string named;  ///< what it becomes in the document: "stations, girth"
  std::string help;
  Kind kind = Kind::words;
  std::vector<std::string> choices;
  std::size_t fewest = 1;  ///< numbers on the line
  std::size_t most = 1;
  const char* unit = "";           ///< of numbers that are no lengths
  bool needed = false;             ///< cannot be skipped
  std::optional<double> proposal;  ///< a length that Enter takes
  std::string enter = "skips";     ///< what Enter does otherwise, in a word
  bool answered = false;           ///< the survey holds its answer already
  std::function<void(Survey&, const Entry&)> put;
  /// What the reading should say; empty for what is no reading.
  std::function<std::optional<ExpectedReading>(const Survey&)> expected;
};

/// Every question that follows from what the survey holds, in order. `passed`: keys of those answered or
/// skipped; some questions follow from these. The stations of the full survey are asked for once the question
/// "more" was passed.
std::vector<Question> survey_questions(const Survey& so_far, const std::set<std::string>& passed);

/// The question that stands between the quick survey and the full one.
constexpr const char* more_question = "more";

}  // namespace culmwright
