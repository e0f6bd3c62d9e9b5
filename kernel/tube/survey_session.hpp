#pragma once
/// A survey asked for one reading at a time. Lines in, words out; no terminal and no files, so that any of
/// both can stand around it.
///
/// Every line is an answer, or one of the words back, done, ?, mm, inch. An empty line skips the question, or
/// takes what the question proposes. A reading that stands farther from what the others say than three
/// standard deviations is read back before it is taken: an empty line or "y" keeps it, "n" asks again,
/// another number is taken in its place (and kept if it says the same).
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/problem.hpp"
#include "tube/reading_entry.hpp"
#include "tube/survey_questions.hpp"

namespace culmwright {

class SurveySession {
 public:
  /// What cannot stand in the document of a survey that is half done; the ranges of the field table.
  using Check = std::function<Problems(const Survey&)>;

  /// Goes on after the last question whose answer `so_far` holds.
  SurveySession(Survey so_far, LengthUnit unit, Check check);

  const Survey& survey() const { return survey_; }
  /// The words before the cursor; empty when there is nothing more to ask.
  std::string prompt() const;
  bool finished() const { return done_ || !question_; }

  struct Reply {
    std::vector<std::string> said;
    bool changed = false;  ///< the survey is another than before: keep it safe
  };
  Reply answer(const std::string& line);

 private:
  struct Before {
    Survey survey;
    std::set<std::string> passed;
  };

  void next();
  std::string shown(double value) const;
  Reply step_back();
  Reply explained() const;
  Reply skipped();
  Reply judged(const Entry& entry);
  Reply taken(const Entry& entry);
  Reply confirmed(const std::string& text);
  std::optional<Entry> entry_of(const std::string& text, std::string& complaint) const;
  std::optional<Entry> chosen(const std::string& text, std::string& complaint) const;

  Survey survey_;
  LengthUnit unit_;
  Check check_;
  std::set<std::string> passed_;
  std::vector<Before> history_;
  std::optional<Question> question_;
  std::optional<Entry> doubted_;  ///< read back, not yet taken
  bool done_ = false;
};

}  // namespace culmwright
