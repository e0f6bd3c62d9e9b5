#include "files/survey_draft.hpp"

#include <algorithm>
#include <cmath>

#include "files/csv_tables.hpp"
#include "files/document_reader.hpp"
#include "files/file_text.hpp"
#include "files/tables.hpp"
#include "tube/survey_check.hpp"

namespace culmwright {

namespace {

bool is_missing(const Problem& problem) {
  const bool lacks_key = problem.code == "missing-key" && problem.where.pointer.empty();
  return lacks_key || (problem.code == "missing" && problem.where.pointer == "/stations");
}

files::DocumentTraits draft_traits() {
  files::DocumentTraits traits;
  traits.kind = DocumentKind::tube;
  traits.units = true;
  traits.csv = {files::CsvList{"stations_csv", "stations", files::station_columns}};
  return traits;
}

}  // namespace

Loaded<Survey> read_tube_draft_text(std::string_view text, const std::string& name,
                                    const std::filesystem::path& folder) {
  Problems problems;
  Loaded<Survey> loaded;
  if (const auto body = files::read_body({name, text, folder}, draft_traits(), problems)) {
    files::Reading reading(problems, body->length_unit);
    files::tube_table().read(body->node, "", reading, loaded.value);
    loaded.locations = files::locations_of(body->node, name);
    for (const Problem& problem : located(check_survey(loaded.value), loaded.locations)) {
      if (!reading.is_spoiled(problem.where.pointer)) problems.push_back(problem);
    }
    problems.erase(std::remove_if(problems.begin(), problems.end(), is_missing), problems.end());
  }
  files::sort_by_place(problems);
  if (!problems.empty()) throw InputError(std::move(problems));
  if (std::isnan(loaded.value.length)) loaded.value.length = 0.0;
  return loaded;
}

Loaded<Survey> read_tube_draft(const std::filesystem::path& file) {
  Problem problem;
  const std::optional<std::string> text = files::file_bytes(file, files::largest_file, problem);
  if (text) return read_tube_draft_text(*text, file.string(), file.parent_path());
  problem.where.file = file.string();
  throw InputError({std::move(problem)});
}

std::string tube_draft_to_json(const Survey& survey) {
  const bool no_length = !(survey.length > 0.0);
  JsonValue all = files::heading(DocumentKind::tube);
  files::tube_table().write(survey, all);
  JsonValue out = JsonValue::object();
  for (std::size_t i = 0; i < all.keys().size(); ++i) {
    const std::string& key = all.keys()[i];
    const bool left_out = (key == "id" && survey.id.empty()) || (key == "length" && no_length) ||
                          (key == "material" && no_length && survey.material == Material::other);
    if (!left_out) out.set(key, all.items()[i]);
  }
  return to_text(out);
}

Problems check_tube_draft(const Survey& survey) {
  try {
    read_tube_draft_text(tube_draft_to_json(survey), "");
  } catch (const InputError& error) {
    return error.problems();
  }
  return {};
}

}  // namespace culmwright
