#include "files/documents.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "files/csv_tables.hpp"
#include "files/document_reader.hpp"
#include "files/file_text.hpp"
#include "files/tables.hpp"
#include "layout/check_values.hpp"
#include "tube/survey_check.hpp"

namespace culmwright {

namespace {

using files::CsvList;
using files::DocumentTraits;
using files::Source;

DocumentTraits traits_of(DocumentKind kind) {
  DocumentTraits traits;
  traits.kind = kind;
  traits.comments = kind != DocumentKind::placement;  // the one the program writes
  traits.units =
      kind == DocumentKind::tube || kind == DocumentKind::mock_up || kind == DocumentKind::as_drilled;
  if (kind == DocumentKind::tube) traits.csv = {CsvList{"stations_csv", "stations", files::station_columns}};
  if (kind == DocumentKind::key_layout) traits.csv = {CsvList{"keys_csv", "keys", files::key_columns}};
  if (kind == DocumentKind::mock_up) {
    traits.csv = {CsvList{"readings_csv", "readings", files::reading_columns},
                  CsvList{"marks_csv", "marks", files::mark_columns}};
  }
  if (kind == DocumentKind::as_drilled) {
    traits.csv = {CsvList{"holes_csv", "holes", files::drilled_columns}};
  }
  return traits;
}

std::string text_of(const std::filesystem::path& file) {
  Problem problem;
  const std::optional<std::string> text = files::file_bytes(file, files::largest_file, problem);
  if (text) return *text;
  problem.where.file = file.string();
  throw InputError({std::move(problem)});
}

/// Reads a document that another one names, or keeps its problems.
template <class T>
std::optional<Loaded<T>> read_named(Loaded<T> (*read)(const std::filesystem::path&),
                                    const std::filesystem::path& file, const Place& named_at,
                                    Problems& problems) {
  try {
    return read(file);
  } catch (const InputError& error) {
    for (Problem problem : error.problems()) {
      // A file that is not there is a slip in the document that names it.
      if (problem.code == "no-file" && problem.where.line == 0) problem.where = named_at;
      problems.push_back(std::move(problem));
    }
    return std::nullopt;
  }
}

template <class T>
void check_unique(const std::vector<Loaded<T>>& documents, const char* what, Problems& problems) {
  for (std::size_t i = 0; i < documents.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (documents[i].value.id != documents[k].value.id) continue;
      Problem problem{"duplicate-id",
                      {"", 0, 0, "/id"},
                      std::string("the ") + what + " \"" + documents[i].value.id + "\" again (first in " +
                          documents[k].locations.file + ")",
                      std::string("each ") + what + " with an id of its own",
                      ""};
      problems.push_back(located({std::move(problem)}, documents[i].locations).front());
    }
  }
}

/// The place of the document with that id, or none and a problem.
template <class T>
std::optional<std::size_t> find_id(const std::vector<Loaded<T>>& documents, const std::string& id,
                                   const char* key, const char* what, const Locations& locations,
                                   Problems& problems) {
  std::vector<std::string> ids;
  for (const Loaded<T>& document : documents) ids.push_back(document.value.id);
  const auto found = std::find(ids.begin(), ids.end(), id);
  if (found != ids.end()) return static_cast<std::size_t>(found - ids.begin());
  const std::optional<std::string> nearest = nearest_word(id, ids);
  Problem problem{"unknown-id",
                  {"", 0, 0, key},
                  std::string("the ") + what + " \"" + id + "\"",
                  std::string("the id of a ") + what + " of the workshop: " + listed(ids),
                  nearest ? "Did you mean \"" + *nearest + "\"?" : ""};
  problems.push_back(located({std::move(problem)}, locations).front());
  return std::nullopt;
}

/// Reads the documents of a workshop, one list after the other, keeping every problem.
class WorkshopReader {
 public:
  explicit WorkshopReader(const std::filesystem::path& file) : folder_(file.parent_path()) {
    whole_.workshop = read_workshop(file);
  }

  LoadedWorkshop take() {
    const Workshop& workshop = whole_.workshop.value;
    whole_.tubes = list(read_tube, workshop.tubes, "/tubes");
    whole_.key_layouts = list(read_key_layout, workshop.key_layouts, "/key_layouts");
    const bool all_there = problems_.empty();
    if (auto shop = read_named(read_shop, folder_ / workshop.shop, place("/shop"), problems_)) {
      whole_.shop = std::move(*shop);
    }
    check_unique(whole_.tubes, "tube", problems_);
    check_unique(whole_.key_layouts, "key layout", problems_);
    std::vector<Loaded<Placement>> placements = list(read_placement, workshop.placements, "/placements");
    check_unique(placements, "placement", problems_);
    // A placement whose tube could not be read would only be told that it does not exist.
    if (all_there) {
      for (Loaded<Placement>& placement : placements) add_job(std::move(placement));
    }
    std::vector<Loaded<AsDrilled>> drilled = list(read_as_drilled, workshop.as_drilled, "/as_drilled");
    if (problems_.empty()) {
      for (Loaded<AsDrilled>& one : drilled) add_as_drilled(std::move(one));
    }
    if (!problems_.empty()) throw InputError(std::move(problems_));
    return std::move(whole_);
  }

 private:
  Place place(const std::string& pointer) const {
    return located({Problem{"", {"", 0, 0, pointer}, "", "", ""}}, whole_.workshop.locations).front().where;
  }

  template <class T>
  std::vector<Loaded<T>> list(Loaded<T> (*read)(const std::filesystem::path&),
                              const std::vector<std::string>& names, const std::string& pointer) {
    std::vector<Loaded<T>> documents;
    for (std::size_t i = 0; i < names.size(); ++i) {
      const Place named_at = place(pointer + "/" + std::to_string(i));
      auto loaded = read_named(read, folder_ / names[i], named_at, problems_);
      if (loaded) documents.push_back(std::move(*loaded));
    }
    return documents;
  }

  void add_job(Loaded<Placement> placement) {
    const Locations& where = placement.locations;
    const auto tube = find_id(whole_.tubes, placement.value.tube_id, "/tube", "tube", where, problems_);
    const auto layout =
        find_id(whole_.key_layouts, placement.value.layout_id, "/key_layout", "key layout", where, problems_);
    if (!tube || !layout) return;
    const Problems found = located(
        check_placement_on(placement.value, whole_.tubes[*tube].value, whole_.key_layouts[*layout].value),
        where);
    problems_.insert(problems_.end(), found.begin(), found.end());
    whole_.jobs.push_back({std::move(placement), *tube, *layout});
  }

  void add_as_drilled(Loaded<AsDrilled> drilled) {
    std::vector<Loaded<Placement>> placements;
    for (const LoadedWorkshop::Job& job : whole_.jobs) placements.push_back(job.placement);
    const auto found = find_id(placements, drilled.value.placement_id, "/placement", "placement",
                               drilled.locations, problems_);
    if (!found) return;
    const auto& [placement, tube, layout] = whole_.jobs[*found];
    for (const Loaded<AsDrilled>& other : whole_.as_drilled) {
      if (other.value.placement_id != drilled.value.placement_id) continue;
      const Problems twice = located({twice_drilled(drilled.value, other.locations.file)}, drilled.locations);
      problems_.insert(problems_.end(), twice.begin(), twice.end());
    }
    const Problems wrong =
        located(check_as_drilled_on(drilled.value, placement.value, whole_.tubes[tube].value,
                                    whole_.key_layouts[layout].value),
                drilled.locations);
    problems_.insert(problems_.end(), wrong.begin(), wrong.end());
    whole_.as_drilled.push_back(std::move(drilled));
  }

  std::filesystem::path folder_;
  LoadedWorkshop whole_;
  Problems problems_;
};

}  // namespace

const char* name_of(DocumentKind kind) {
  switch (kind) {
    case DocumentKind::tube:
      return "tube";
    case DocumentKind::key_layout:
      return "key layout";
    case DocumentKind::shop:
      return "shop";
    case DocumentKind::placement:
      return "placement";
    case DocumentKind::workshop:
      return "workshop";
    case DocumentKind::mock_up:
      return "mock-up";
    case DocumentKind::as_drilled:
      return "as-drilled";
  }
  return "";
}

const char* file_stem_of(DocumentKind kind) {
  if (kind == DocumentKind::key_layout) return "key_layout";
  if (kind == DocumentKind::as_drilled) return "as_drilled";
  return kind == DocumentKind::mock_up ? "mock_up" : name_of(kind);
}

Loaded<Survey> read_tube_text(std::string_view text, const std::string& name,
                              const std::filesystem::path& folder) {
  return files::read_document(Source{name, text, folder}, traits_of(DocumentKind::tube), files::tube_table(),
                              check_survey);
}
Loaded<KeyLayout> read_key_layout_text(std::string_view text, const std::string& name,
                                       const std::filesystem::path& folder) {
  return files::read_document(Source{name, text, folder}, traits_of(DocumentKind::key_layout),
                              files::key_layout_table(), check_key_layout);
}
Loaded<Shop> read_shop_text(std::string_view text, const std::string& name) {
  return files::read_document(Source{name, text, {}}, traits_of(DocumentKind::shop), files::shop_table(),
                              check_shop);
}
Loaded<Placement> read_placement_text(std::string_view text, const std::string& name) {
  return files::read_document(Source{name, text, {}}, traits_of(DocumentKind::placement),
                              files::placement_table(), check_placement);
}
Loaded<Workshop> read_workshop_text(std::string_view text, const std::string& name) {
  return files::read_document(Source{name, text, {}}, traits_of(DocumentKind::workshop),
                              files::workshop_table(), check_workshop);
}
Loaded<MeasuredMockUp> read_mock_up_text(std::string_view text, const std::string& name,
                                         const std::filesystem::path& folder) {
  return files::read_document(Source{name, text, folder}, traits_of(DocumentKind::mock_up),
                              files::mock_up_table(), check_measured_mock_up);
}
Loaded<AsDrilled> read_as_drilled_text(std::string_view text, const std::string& name,
                                       const std::filesystem::path& folder) {
  return files::read_document(Source{name, text, folder}, traits_of(DocumentKind::as_drilled),
                              files::as_drilled_table(), check_as_drilled);
}

Loaded<Survey> read_tube(const std::filesystem::path& file) {
  return read_tube_text(text_of(file), file.string(), file.parent_path());
}
Loaded<KeyLayout> read_key_layout(const std::filesystem::path& file) {
  return read_key_layout_text(text_of(file), file.string(), file.parent_path());
}
Loaded<Shop> read_shop(const std::filesystem::path& file) {
  return read_shop_text(text_of(file), file.string());
}
Loaded<Placement> read_placement(const std::filesystem::path& file) {
  return read_placement_text(text_of(file), file.string());
}
Loaded<Workshop> read_workshop(const std::filesystem::path& file) {
  return read_workshop_text(text_of(file), file.string());
}
Loaded<MeasuredMockUp> read_mock_up(const std::filesystem::path& file) {
  return read_mock_up_text(text_of(file), file.string(), file.parent_path());
}
Loaded<AsDrilled> read_as_drilled(const std::filesystem::path& file) {
  return read_as_drilled_text(text_of(file), file.string(), file.parent_path());
}

Loaded<MeasuredMockUp> read_mock_up_table(const std::filesystem::path& file, bool inches) {
  Problems problems;
  std::optional<files::Body> body;
  if (const auto table = files::parse_csv(text_of(file), file.string(), problems)) {
    const bool readings = files::holds_readings(*table);
    const auto columns = readings ? files::reading_columns(*table) : files::mark_columns(*table);
    if (auto list = files::rows_as_list(*table, *columns, problems)) {
      body.emplace();
      body->node.kind = files::JsonNode::Kind::object;
      body->node.spot = list->spot;
      body->node.members.push_back({readings ? "readings" : "marks", list->spot, std::move(*list)});
      if (inches) body->length_unit = files::inch;
    }
  }
  return files::read_fields(body, file.string(), std::move(problems), files::mock_up_table(),
                            check_measured_mock_up);
}

Loaded<AsDrilled> read_as_drilled_table(const std::filesystem::path& file, const AsDrilled& of, bool inches) {
  Problems problems;
  // Ids and whole numbers: the same in every unit, and nothing in them has to be escaped.
  const std::string ids = "{\"tube\": \"" + of.tube_id + "\", \"placement\": \"" + of.placement_id +
                          "\", \"revision\": " + std::to_string(of.revision) + "}";
  std::optional<files::Body> body;
  if (const auto table = files::parse_csv(text_of(file), file.string(), problems)) {
    const auto columns = files::drilled_columns(*table);
    if (auto list = files::rows_as_list(*table, *columns, problems)) {
      body.emplace();
      body->node = *files::parse_json(ids, file.string(), false, problems);
      body->node.members.push_back({"holes", list->spot, std::move(*list)});
      if (inches) body->length_unit = files::inch;
    }
  }
  return files::read_fields(body, file.string(), std::move(problems), files::as_drilled_table(),
                            check_as_drilled);
}

std::string tube_to_json(const Survey& survey) {
  return files::write_document(survey, DocumentKind::tube, files::tube_table());
}
std::string key_layout_to_json(const KeyLayout& layout) {
  return files::write_document(layout, DocumentKind::key_layout, files::key_layout_table());
}
std::string shop_to_json(const Shop& shop) {
  return files::write_document(shop, DocumentKind::shop, files::shop_table());
}
std::string placement_to_json(const Placement& placement) {
  return files::write_document(placement, DocumentKind::placement, files::placement_table());
}
std::string workshop_to_json(const Workshop& workshop) {
  return files::write_document(workshop, DocumentKind::workshop, files::workshop_table());
}
std::string mock_up_to_json(const MeasuredMockUp& mock_up) {
  return files::write_document(mock_up, DocumentKind::mock_up, files::mock_up_table());
}

std::string as_drilled_to_json(const AsDrilled& as_drilled) {
  return files::write_document(as_drilled, DocumentKind::as_drilled, files::as_drilled_table());
}

DocumentKind kind_of_file(const std::filesystem::path& file) {
  Problems problems;
  const std::string text = text_of(file);
  const std::optional<files::JsonNode> node = files::parse_json(text, file.string(), true, problems);
  if (!node) throw InputError(std::move(problems));
  const files::JsonMember* format = node->find("format");
  std::vector<std::string> formats;
  for (DocumentKind kind : all_document_kinds) {
    formats.push_back(std::string("\"culmwright ") + name_of(kind) + "\"");
    if (format != nullptr && files::in_quotes(format->value.text) == formats.back()) return kind;
  }
  files::Reading reading(problems, 1.0);
  const std::string allowed = "\"format\": " + listed(formats);
  if (format != nullptr) {
    reading.refuse("format", format->value, "/format", allowed);
  } else {
    reading.add("missing-key", node->spot, "", "a document without \"format\"", allowed);
  }
  throw InputError(std::move(problems));
}

std::string schema_text(DocumentKind kind) {
  const auto schema = [&](const auto& table, const char* description) {
    return files::document_schema(traits_of(kind), description,
                                  [&](double unit) { return table.schema(unit); });
  };
  switch (kind) {
    case DocumentKind::tube:
      return schema(files::tube_table(), "One piece as measured");
    case DocumentKind::key_layout:
      return schema(files::key_layout_table(), "One instrument's keys and parts");
    case DocumentKind::shop:
      return schema(files::shop_table(), "Printer, fits, drills, bushes, paper and filament");
    case DocumentKind::placement:
      return schema(files::placement_table(), "A key layout on a tube");
    case DocumentKind::workshop:
      return schema(files::workshop_table(), "Which documents belong together");
    case DocumentKind::mock_up:
      return schema(files::mock_up_table(), "What was measured on a mock-up");
    case DocumentKind::as_drilled:
      return schema(files::as_drilled_table(), "Holes as they came out");
  }
  return "";
}

LoadedWorkshop read_whole_workshop(const std::filesystem::path& file) {
  return WorkshopReader(file).take();
}

}  // namespace culmwright
