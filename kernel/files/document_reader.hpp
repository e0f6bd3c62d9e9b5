#pragma once
/// What reading any document has in common: its text, its heading, its CSV table, its places.
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "files/csv.hpp"
#include "files/documents.hpp"
#include "files/table.hpp"

namespace culmwright::files {

/// A list that may be given as a CSV table instead.
struct CsvList {
  std::string name_key;  ///< "stations_csv"
  std::string list_key;  ///< "stations"
  std::function<std::unique_ptr<CsvColumns>(const CsvTable&)> columns;
};

struct DocumentTraits {
  DocumentKind kind = DocumentKind::tube;
  bool comments = true;
  bool units = false;  ///< may say "units"
  std::vector<CsvList> csv;
};

struct Source {
  std::string name;
  std::string_view text;
  std::filesystem::path folder;
};

/// The document's body: heading checked and taken off, CSV table put in its place.
struct Body {
  JsonNode node;
  double length_unit = 1.0;
  bool unit_may_be_meant = false;   ///< none was stated where one could be
  std::vector<std::string> unread;  ///< pointers of what is there but could not be read
};

/// None when there is nothing to read a value from; the problems then say why.
std::optional<Body> read_body(const Source& source, const DocumentTraits& traits, Problems& problems);
Locations locations_of(const JsonNode& body, const std::string& file);
/// In the order of files and lines, as one mends them.
void sort_by_place(Problems& problems);
JsonValue heading(DocumentKind kind);
/// The whole schema around that of the fields, `fields(length_unit)`.
std::string document_schema(const DocumentTraits& traits, const std::string& description,
                            const std::function<JsonValue(double)>& fields);

/// The value of a body; `problems`: what reading the body has found already.
template <class T>
Loaded<T> read_fields(const std::optional<Body>& body, const std::string& name, Problems problems,
                      const Table<T>& table, Problems (*check)(const T&)) {
  Loaded<T> loaded;
  if (body) {
    Reading reading(problems, body->length_unit);
    if (body->unit_may_be_meant) reading.no_unit_stated();
    for (const std::string& pointer : body->unread) reading.mark_unread(pointer);
    table.read(body->node, "", reading, loaded.value);
    loaded.locations = locations_of(body->node, name);
    if (!reading.full()) {
      for (const Problem& problem : located(check(loaded.value), loaded.locations)) {
        if (!reading.is_spoiled(problem.where.pointer)) problems.push_back(problem);
      }
    }
  }
  sort_by_place(problems);
  if (!problems.empty()) throw InputError(std::move(problems));
  return loaded;
}

template <class T>
Loaded<T> read_document(const Source& source, const DocumentTraits& traits, const Table<T>& table,
                        Problems (*check)(const T&)) {
  Problems problems;
  const std::optional<Body> body = read_body(source, traits, problems);
  return read_fields(body, source.name, std::move(problems), table, check);
}

template <class T>
std::string write_document(const T& value, DocumentKind kind, const Table<T>& table) {
  JsonValue out = heading(kind);
  table.write(value, out);
  return to_text(out);
}

}  // namespace culmwright::files
