#include "tube/survey_session.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"

namespace culmwright {

namespace {

using Kind = Question::Kind;

constexpr double millimetres_of_an_inch = 25.4;

std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

bool is_yes(const std::string& word) {
  return word == "y" || word == "yes" || word == "keep";
}
bool is_no(const std::string& word) {
  return word == "n" || word == "no" || word == "again" || word == "-";
}

/// The keys up to the last question whose answer the survey holds. The full survey's questions appear once
/// one of its answers is there.
std::set<std::string> passed_in(const Survey& survey) {
  for (const bool full : {true, false}) {
    std::set<std::string> passed;
    if (full) passed.insert(more_question);
    const std::vector<Question> all = survey_questions(survey, passed);
    const auto more = std::find_if(all.begin(), all.end(),
                                   [](const Question& question) { return question.key == more_question; });
    const auto last =
        std::find_if(all.rbegin(), all.rend(), [](const Question& question) { return question.answered; });
    const auto end = last.base();
    if (full && end <= more) continue;
    for (auto it = all.begin(); it != end; ++it) passed.insert(it->key);
    return passed;
  }
  return {};
}

}  // namespace

SurveySession::SurveySession(Survey so_far, LengthUnit unit, Check check)
    : survey_(std::move(so_far)), unit_(unit), check_(std::move(check)), passed_(passed_in(survey_)) {
  next();
}

void SurveySession::next() {
  doubted_.reset();
  question_.reset();
  for (Question& question : survey_questions(survey_, passed_)) {
    if (passed_.count(question.key) > 0) continue;
    question_ = std::move(question);
    return;
  }
}

std::string SurveySession::shown(double value) const {
  if (!question_ || question_->kind != Kind::lengths) return number_text(value);
  return unit_ == LengthUnit::mm ? number_text(value) : number_text(value / millimetres_of_an_inch, 5);
}

std::string SurveySession::prompt() const {
  if (finished()) return "";
  if (doubted_) return "  Keep it? [Enter keeps, n asks again, or measure once more] ";
  const Question& question = *question_;
  std::string text = question.asked;
  if (question.kind == Kind::lengths) text += unit_ == LengthUnit::mm ? ", mm" : ", inch";
  if (question.kind == Kind::yes_or_no) text += "? y or n";
  if (question.kind == Kind::choice) text += " (" + listed(question.choices) + ")";
  if (question.needed) return text + ": ";
  return text + " [Enter " + (question.proposal ? "takes " + shown(*question.proposal) : question.enter) +
         "]: ";
}

SurveySession::Reply SurveySession::answer(const std::string& line) {
  const std::string text = typed_text(line);
  const std::string word = lower(text);
  if (finished()) return {};
  if (word == "done") {
    done_ = true;
    return {};
  }
  if (word == "back") return step_back();
  if (word == "?") return explained();
  if (word == "mm" || word == "inch") {
    unit_ = word == "mm" ? LengthUnit::mm : LengthUnit::inch;
    return {{"Numbers without a unit are now " + std::string(word == "mm" ? "millimetres." : "inches.")},
            false};
  }
  if (doubted_) return confirmed(text);
  if (text.empty()) return skipped();
  if (question_->proposal && is_no(word)) {
    history_.push_back({survey_, passed_});
    passed_.insert(question_->key);
    next();
    return {};
  }
  std::string complaint;
  const std::optional<Entry> entry = entry_of(text, complaint);
  if (!entry) return {{complaint}, false};
  return judged(*entry);
}

SurveySession::Reply SurveySession::step_back() {
  if (doubted_) {
    doubted_.reset();
    return {};
  }
  if (history_.empty()) return {{"This is the first question."}, false};
  survey_ = std::move(history_.back().survey);
  passed_ = std::move(history_.back().passed);
  history_.pop_back();
  next();
  return {{}, true};
}

SurveySession::Reply SurveySession::explained() const {
  Reply reply;
  if (!question_->help.empty()) reply.said.push_back(question_->help);
  if (!question_->named.empty()) reply.said.push_back("In the document: " + question_->named + ".");
  reply.said.push_back(
      "back corrects the answer before; done stops here and keeps everything; mm or inch "
      "changes the unit.");
  return reply;
}

SurveySession::Reply SurveySession::skipped() {
  if (question_->needed) return {{"This one is needed."}, false};
  if (question_->proposal) return judged({"", {*question_->proposal}});
  if (question_->key == more_question) {
    done_ = true;
    return {};
  }
  history_.push_back({survey_, passed_});
  passed_.insert(question_->key);
  next();
  return {};
}

std::optional<Entry> SurveySession::chosen(const std::string& text, std::string& complaint) const {
  for (const std::string& choice : question_->choices) {
    if (lower(choice) == lower(text)) return Entry{choice, {}};
  }
  const std::optional<std::string> nearest = nearest_word(text, question_->choices);
  complaint = "\"" + text + "\" is none of " + listed(question_->choices) + "." +
              (nearest ? " Did you mean " + *nearest + "?" : "");
  return std::nullopt;
}

std::optional<Entry> SurveySession::entry_of(const std::string& text, std::string& complaint) const {
  const Question& question = *question_;
  if (question.kind == Kind::words) return Entry{text, {}};
  if (question.kind == Kind::choice) return chosen(text, complaint);
  if (question.kind == Kind::yes_or_no) {
    const std::string word = lower(text);
    if (is_yes(word) || is_no(word)) return Entry{is_yes(word) ? "yes" : "no", {}};
    complaint = "y or n?";
    return std::nullopt;
  }
  const auto numbers = question.kind == Kind::lengths ? typed_lengths(text, unit_) : typed_numbers(text);
  if (!numbers) {
    complaint = "\"" + text + "\" is no number.";
    return std::nullopt;
  }
  if (numbers->size() < question.fewest || numbers->size() > question.most) {
    complaint = std::to_string(numbers->size()) + " numbers, where " + std::to_string(question.fewest) +
                (question.fewest == 1 ? " is wanted." : " are wanted.");
    return std::nullopt;
  }
  return Entry{text, *numbers};
}

SurveySession::Reply SurveySession::judged(const Entry& entry) {
  if (question_->expected) {
    const std::optional<ExpectedReading> expected = question_->expected(survey_);
    if (expected && expected->surprised_by(entry.numbers[0])) {
      doubted_ = entry;
      const double unit =
          unit_ == LengthUnit::inch && question_->kind == Kind::lengths ? millimetres_of_an_inch : 1.0;
      const int decimals = unit == 1.0 ? 1 : 3;
      return {{"Read " + fixed_text(entry.numbers[0] / unit, decimals + 1) + ", expected " +
               fixed_text(expected->value / unit, decimals) + " \u00B1 " +
               fixed_text(std::max(expected->sigma / unit, unit == 1.0 ? 0.1 : 0.001), decimals) + "."},
              false};
    }
  }
  return taken(entry);
}

SurveySession::Reply SurveySession::confirmed(const std::string& text) {
  const std::string word = lower(text);
  if (text.empty() || is_yes(word)) return taken(Entry(*doubted_));
  if (is_no(word)) {
    doubted_.reset();
    return {};
  }
  std::string complaint;
  const std::optional<Entry> entry = entry_of(text, complaint);
  if (!entry) return {{complaint}, false};
  // The same again is no slip of the hand.
  const double first = doubted_->numbers[0];
  const bool same = std::abs(entry->numbers[0] - first) <= 0.01 * std::abs(first);
  doubted_.reset();
  return same ? taken(*entry) : judged(*entry);
}

SurveySession::Reply SurveySession::taken(const Entry& entry) {
  doubted_.reset();
  if (question_->key == more_question && entry.text == "no") {
    done_ = true;
    return {};
  }
  Survey after = survey_;
  question_->put(after, entry);
  const Problems problems = check_(after);
  if (!problems.empty()) {
    Reply reply;
    for (const Problem& problem : problems) {
      reply.said.push_back("Found " + problem.found + "; allowed: " + problem.allowed + "." +
                           (problem.advice.empty() ? "" : " " + problem.advice + "."));
    }
    return reply;
  }
  history_.push_back({std::move(survey_), passed_});
  survey_ = std::move(after);
  passed_.insert(question_->key);
  next();
  return {{}, true};
}

}  // namespace culmwright
