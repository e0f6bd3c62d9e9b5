#include "command/survey_ask.hpp"

#include <istream>
#include <ostream>

#include "command/printed.hpp"
#include "command/terminal.hpp"
#include "files/output_folder.hpp"
#include "files/survey_draft.hpp"
#include "tube/survey_session.hpp"

namespace culmwright::command {

namespace {

namespace fs = std::filesystem;

constexpr int most_names = 100;

/// Keeps the survey on disk. A name is taken once it could be written under; when the piece's own name
/// changes the document follows.
class Keeper {
 public:
  Keeper(fs::path folder, std::ostream& out) : folder_(std::move(folder)), out_(out) {}

  const fs::path& file() const { return file_; }

  void keep(const Survey& survey) {
    if (survey.id.empty()) return;
    const std::string bytes = tube_draft_to_json(survey);
    if (survey.id == id_) return write_output_file(file_, bytes);
    for (int i = 1; i <= most_names; ++i) {
      const fs::path file =
          folder_ / (file_name(survey.id) + (i == 1 ? "" : "-" + std::to_string(i)) + ".json");
      try {
        write_output_file(file, bytes);
      } catch (const InputError& error) {
        const std::string& code = error.problems().front().code;
        if ((code == "not-ours" || code == "changed") && i < most_names) continue;
        throw;
      }
      file_ = file;
      id_ = survey.id;
      out_ << "Kept in " << file_.string() << " after every answer.\n";
      return;
    }
  }

 private:
  fs::path folder_;
  std::ostream& out_;
  fs::path file_;
  std::string id_;
};

bool is_complete(const Survey& survey) {
  try {
    read_tube_text(tube_to_json(survey), "");
    return true;
  } catch (const InputError&) {
    return false;
  }
}

}  // namespace

Asked ask_survey(std::istream& in, std::ostream& out, const fs::path& folder, LengthUnit unit,
                 const std::optional<Survey>& resumed) {
  SurveySession session(resumed.value_or(Survey{}), unit, check_tube_draft);
  Keeper keeper(folder, out);
  if (resumed) keeper.keep(session.survey());
  out << wrapped(
      "Hold the piece with end A up and the reference line facing you. One answer a line; ? explains, "
      "back corrects, done stops and keeps it all.",
      0);
  std::string line;
  while (!session.finished()) {
    out << session.prompt() << std::flush;
    if (!std::getline(in, line)) {
      out << "\n";
      break;
    }
    const SurveySession::Reply reply = session.answer(line);
    for (const std::string& words : reply.said) out << wrapped(words, 2);
    if (reply.changed) keeper.keep(session.survey());
  }
  const Survey& survey = session.survey();
  const bool complete = !survey.id.empty() && survey.length > 0.0 && is_complete(survey);
  return {survey, keeper.file(), complete};
}

}  // namespace culmwright::command
