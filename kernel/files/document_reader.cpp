#include "files/document_reader.hpp"

#include <algorithm>

#include "files/file_text.hpp"

namespace culmwright::files {

namespace {

constexpr int version = 1;

std::string format_of(DocumentKind kind) {
  return std::string("culmwright ") + name_of(kind);
}

Codec<std::string> unit_name() {
  return choice<std::string>({{"mm", "mm"}, {"inch", "inch"}});
}

/// Takes a member out of the node, so that the field table does not see it.
std::optional<JsonMember> taken(JsonNode& node, std::string_view key) {
  const auto found = std::find_if(node.members.begin(), node.members.end(),
                                  [&](const JsonMember& member) { return member.key == key; });
  if (found == node.members.end()) return std::nullopt;
  JsonMember member = std::move(*found);
  node.members.erase(found);
  return member;
}

/// True when this is a document of the kind wanted, in a version that can be read.
bool check_heading(JsonNode& node, DocumentKind kind, Reading& reading) {
  const std::string allowed = in_quotes(format_of(kind));
  const std::optional<JsonMember> format = taken(node, "format");
  if (!format) {
    reading.add("missing-key", node.spot, "", "a document without \"format\"", "\"format\": " + allowed,
                "It says which kind of document this is");
    return false;
  }
  if (format->value.kind != JsonNode::Kind::string || format->value.text != format_of(kind)) {
    reading.refuse("format", format->value, "/format", allowed,
                   std::string("A ") + name_of(kind) + " is wanted here");
    return false;
  }
  const std::optional<JsonMember> number = taken(node, "version");
  if (!number) {
    reading.add("missing-key", node.spot, "", "a document without \"version\"",
                "\"version\": " + std::to_string(version));
    return false;
  }
  if (number->value.kind != JsonNode::Kind::number || number->value.number != version) {
    reading.refuse("version", number->value, "/version", "version " + std::to_string(version),
                   "A newer program may have written it");
    return false;
  }
  return true;
}

/// The CSV table as the list it stands for, or none and problems.
std::optional<JsonNode> list_from_csv(const JsonNode& name, const CsvList& csv, const Source& source,
                                      Problems& problems) {
  const std::string pointer = "/" + csv.name_key;
  const std::size_t before = problems.size();
  std::string file;
  Reading reading(problems, 1.0);
  file_name().read(name, pointer, reading, file);
  if (problems.size() > before) return std::nullopt;
  const std::filesystem::path path = source.folder / file;
  Problem problem;
  const std::optional<std::string> text = file_bytes(path, largest_file, problem);
  if (!text) {
    problem.where = {source.name, name.spot.line, name.spot.column, pointer};
    problems.push_back(std::move(problem));
    return std::nullopt;
  }
  const std::optional<CsvTable> table = parse_csv(*text, path.string(), problems);
  if (!table) return std::nullopt;
  const std::unique_ptr<CsvColumns> columns = csv.columns(*table);
  return rows_as_list(*table, *columns, problems);
}

/// Puts the table's rows in the place of its name. A table that cannot be read leaves its name there.
void put_csv_in(Body& body, const CsvList& csv, const Source& source, Problems& problems) {
  JsonNode& node = body.node;
  if (node.find(csv.list_key) != nullptr) return;  // both: the table's rule says so
  const JsonMember* name = node.find(csv.name_key);
  if (name == nullptr) return;
  std::optional<JsonNode> list = list_from_csv(name->value, csv, source, problems);
  if (!list) {
    body.unread.push_back("/" + csv.list_key);
    return;
  }
  const TextSpot spot = name->spot;
  taken(node, csv.name_key);
  node.members.push_back({csv.list_key, spot, std::move(*list)});
}

void add_locations(const JsonNode& node, const std::string& pointer, Locations& locations) {
  locations.spots.emplace(
      pointer, Locations::Spot{node.spot.file ? *node.spot.file : "", node.spot.line, node.spot.column});
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    add_locations(node.items[i], pointer + "/" + std::to_string(i), locations);
  }
  for (const JsonMember& member : node.members) {
    add_locations(member.value, joined(pointer, member.key), locations);
  }
}

JsonValue constant(JsonValue value, const char* description) {
  JsonValue schema = JsonValue::object();
  return schema.set("description", description).set("const", std::move(value));
}

/// The fields' schema with the heading's keys before its own.
JsonValue with_heading(const JsonValue& fields, const DocumentTraits& traits) {
  JsonValue properties = JsonValue::object();
  JsonValue any_text = JsonValue::object();
  any_text.set("description", "Where an editor finds this schema; not read by the program")
      .set("type", "string");
  properties.set("$schema", any_text);
  properties.set("format", constant(format_of(traits.kind), "The kind of document"));
  properties.set("version", constant(version, "Version of the format"));
  if (traits.units) {
    properties.set(
        "units", described(unit_name().schema(1.0), "What lengths are given in; mm when left out", nullptr));
  }
  JsonValue result = JsonValue::object();
  JsonValue required = JsonValue::array({"format", "version"});
  for (std::size_t i = 0; i < fields.keys().size(); ++i) {
    const std::string& key = fields.keys()[i];
    const JsonValue& value = fields.items()[i];
    if (key == "properties") {
      for (std::size_t k = 0; k < value.keys().size(); ++k) properties.set(value.keys()[k], value.items()[k]);
      result.set(key, properties);
    } else if (key == "required") {
      for (const JsonValue& name : value.items()) required.push(name);
      result.set(key, required);
    } else {
      result.set(key, value);
    }
  }
  return result;
}

JsonValue reference(const char* target) {
  JsonValue value = JsonValue::object();
  return value.set("$ref", target);
}

/// Lengths in inches have other limits: one schema for each unit, chosen by "units".
void choose_by_units(JsonValue& schema, const JsonValue& in_mm, const JsonValue& in_inch) {
  JsonValue units = JsonValue::object();
  units.set("units", constant("inch", "Lengths in inches"));
  JsonValue condition = JsonValue::object();
  condition.set("properties", units).set("required", JsonValue::array({"units"}));
  JsonValue definitions = JsonValue::object();
  definitions.set("in_mm", in_mm).set("in_inch", in_inch);
  schema.set("if", condition)
      .set("then", reference("#/$defs/in_inch"))
      .set("else", reference("#/$defs/in_mm"))
      .set("$defs", definitions);
}

}  // namespace

std::optional<Body> read_body(const Source& source, const DocumentTraits& traits, Problems& problems) {
  std::optional<JsonNode> node = parse_json(source.text, source.name, traits.comments, problems);
  if (!node) return std::nullopt;
  Reading reading(problems, 1.0);
  if (node->kind != JsonNode::Kind::object) {
    reading.refuse("type", *node, "", std::string("a ") + name_of(traits.kind) + ": an object in { }");
    return std::nullopt;
  }
  if (!check_heading(*node, traits.kind, reading)) return std::nullopt;
  Body body;
  if (const std::optional<JsonMember> schema = taken(*node, "$schema")) {
    if (schema->value.kind != JsonNode::Kind::string)
      reading.refuse("type", schema->value, "/$schema", "text");
  }
  if (traits.units) {
    if (const std::optional<JsonMember> units = taken(*node, "units")) {
      std::string unit = "mm";
      unit_name().read(units->value, "/units", reading, unit);
      if (unit == "inch") body.length_unit = inch;
    } else {
      body.unit_may_be_meant = true;
    }
  }
  body.node = std::move(*node);
  for (const CsvList& csv : traits.csv) put_csv_in(body, csv, source, problems);
  return body;
}

Locations locations_of(const JsonNode& body, const std::string& file) {
  Locations locations;
  locations.file = file;
  add_locations(body, "", locations);
  return locations;
}

void sort_by_place(Problems& problems) {
  std::vector<std::string> files;  // in the order of their first problem
  for (const Problem& problem : problems) {
    if (std::find(files.begin(), files.end(), problem.where.file) == files.end())
      files.push_back(problem.where.file);
  }
  const auto rank = [&](const Problem& problem) {
    return std::make_tuple(std::find(files.begin(), files.end(), problem.where.file) - files.begin(),
                           problem.where.line, problem.where.column);
  };
  std::stable_sort(problems.begin(), problems.end(),
                   [&](const Problem& a, const Problem& b) { return rank(a) < rank(b); });
}

JsonValue heading(DocumentKind kind) {
  JsonValue out = JsonValue::object();
  return out.set("format", format_of(kind)).set("version", version);
}

std::string document_schema(const DocumentTraits& traits, const std::string& description,
                            const std::function<JsonValue(double)>& fields) {
  JsonValue schema = JsonValue::object();
  schema.set("$schema", "https://json-schema.org/draft/2020-12/schema")
      .set("$id", std::string("urn:culmwright:") + file_stem_of(traits.kind) + ":" + std::to_string(version))
      .set("title", format_of(traits.kind))
      .set("description", description);
  const JsonValue in_mm = with_heading(fields(1.0), traits);
  if (traits.units) {
    choose_by_units(schema, in_mm, with_heading(fields(inch), traits));
  } else {
    for (std::size_t i = 0; i < in_mm.keys().size(); ++i) schema.set(in_mm.keys()[i], in_mm.items()[i]);
  }
  return to_text(schema);
}

}  // namespace culmwright::files
