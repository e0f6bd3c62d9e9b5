#include <catch2/catch.hpp>
#include <cstdlib>
#include <random>
#include <set>

#include "files/json_tree.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

namespace {

const std::vector<std::pair<std::string, DocumentKind>>& starters() {
  static const std::vector<std::pair<std::string, DocumentKind>> all = {
      {"tube.json", DocumentKind::tube},
      {"tube_quick.json", DocumentKind::tube},
      {"tube_on_plates.json", DocumentKind::tube},
      {"key_layout.json", DocumentKind::key_layout},
      {"key_layout_from_table.json", DocumentKind::key_layout},
      {"shop.json", DocumentKind::shop},
      {"placement.json", DocumentKind::placement},
      {"workshop.json", DocumentKind::workshop},
      {"mock_up.json", DocumentKind::mock_up},
      {"as_drilled.json", DocumentKind::as_drilled}};
  return all;
}

std::filesystem::path schema_file(DocumentKind kind) {
  return templates_folder() / "schema" / (std::string(file_stem_of(kind)) + ".schema.json");
}

files::JsonNode tree_of(const std::string& file) {
  Problems problems;
  auto node = files::parse_json(bytes_of(templates_folder() / file), file, true, problems);
  require(node.has_value(), "a starter document is JSON");
  return *node;
}

Problems read_problems(DocumentKind kind, const std::string& text) {
  return problems_of([&] {
    switch (kind) {
      case DocumentKind::tube:
        read_tube_text(text, "d", templates_folder());
        break;
      case DocumentKind::key_layout:
        read_key_layout_text(text, "d", templates_folder());
        break;
      case DocumentKind::shop:
        read_shop_text(text, "d");
        break;
      case DocumentKind::placement:
        read_placement_text(text, "d");
        break;
      case DocumentKind::workshop:
        read_workshop_text(text, "d");
        break;
      case DocumentKind::mock_up:
        read_mock_up_text(text, "d", templates_folder());
        break;
      case DocumentKind::as_drilled:
        read_as_drilled_text(text, "d", templates_folder());
        break;
    }
  });
}

/// The independent validator's verdicts, or none when it is not installed.
std::optional<std::string> verdicts(DocumentKind kind, const std::vector<std::string>& documents) {
  TemporaryFolder folder;
  std::string lines;
  for (const std::string& document : documents) lines += document + "\n";
  write(folder.path() / "list", lines);
  const std::string command = std::string("python3 '") + CULMWRIGHT_SOURCE_DIR +
                              "/tests/files/validate.py' '" + schema_file(kind).string() + "' '" +
                              (folder.path() / "list").string() + "' > '" +
                              (folder.path() / "verdicts").string() + "'";
  const int status = std::system(command.c_str());
  if (status == 77 * 256 || status == 127 * 256) return std::nullopt;
  REQUIRE(status == 0);
  std::string found = bytes_of(folder.path() / "verdicts");
  while (!found.empty() && found.back() == '\n') found.pop_back();
  REQUIRE(found.size() == documents.size());
  return found;
}

void say_skipped() {
  WARN(
      "SKIPPED: no python3 with jsonschema here (Debian: python3-jsonschema); schemas were not judged from "
      "outside");
}

// Every value of a tree, the root excepted.
void all_values(files::JsonNode& node, std::vector<files::JsonNode*>& values) {
  for (files::JsonNode& item : node.items) {
    values.push_back(&item);
    all_values(item, values);
  }
  for (files::JsonMember& member : node.members) {
    values.push_back(&member.value);
    all_values(member.value, values);
  }
}

void set_number(files::JsonNode& node, double number) {
  node = {};
  node.kind = files::JsonNode::Kind::number;
  node.number = number;
}

/// One slip somewhere in the document.
void mutate(files::JsonNode& root, std::mt19937& random) {
  std::vector<files::JsonNode*> values;
  all_values(root, values);
  files::JsonNode& node = *values[random() % values.size()];
  switch (random() % 8) {
    case 0:
      set_number(node, -1e6);
      break;
    case 1:
      set_number(node, 1e6);
      break;
    case 2:
      set_number(node, 3.5);
      break;
    case 3:
      node.kind = files::JsonNode::Kind::null;
      break;
    case 4:
      node = {};
      node.kind = files::JsonNode::Kind::string;
      node.text = "no such word!";
      break;
    case 5:
      node = {};
      node.kind = files::JsonNode::Kind::array;
      break;
    case 6:
      if (!node.members.empty()) node.members.erase(node.members.begin() + random() % node.members.size());
      break;
    default:
      if (!node.members.empty()) node.members[random() % node.members.size()].key += "_";
      break;
  }
}

}  // namespace

// Set CULMWRIGHT_WRITE_SCHEMAS=1 to write the files anew after a field table was changed.
TEST_CASE("the schemas in templates are those of the field tables") {
  for (DocumentKind kind : all_document_kinds) {
    const char* renew = std::getenv("CULMWRIGHT_WRITE_SCHEMAS");
    if (renew != nullptr && std::string(renew) == "1") write(schema_file(kind), schema_text(kind));
    INFO(schema_file(kind));
    CHECK(bytes_of(schema_file(kind)) == schema_text(kind));
  }
}

TEST_CASE("every starter document loads, says its kind and carries a note") {
  for (const auto& [file, kind] : starters()) {
    INFO(file);
    const Problems problems = read_problems(kind, bytes_of(templates_folder() / file));
    INFO(all_lines(problems));
    CHECK(problems.empty());
    CHECK(kind_of_file(templates_folder() / file) == kind);
    const files::JsonNode node = tree_of(file);
    REQUIRE(node.find("note") != nullptr);
    CHECK(node.find("note")->value.text.size() > 20);
  }
  CHECK(read_whole_workshop(templates_folder() / "workshop.json").jobs.size() == 1);
}

TEST_CASE("no starter document or schema is left out of these tests") {
  std::set<std::string> known;
  for (const auto& starter : starters()) known.insert(starter.first);
  for (const auto& entry : std::filesystem::directory_iterator(templates_folder())) {
    if (entry.path().extension() == ".json") CHECK(known.count(entry.path().filename().string()) == 1);
  }
  std::size_t schemas = 0;
  for (const auto& entry : std::filesystem::directory_iterator(templates_folder() / "schema")) {
    schemas += entry.path().extension() == ".json" ? 1 : 0;
  }
  CHECK(schemas == std::size(all_document_kinds));
}

TEST_CASE("an independent validator takes the schemas and finds the starter documents valid") {
  for (const auto& [file, kind] : starters()) {
    INFO(file);
    const auto found = verdicts(kind, {to_one_line(files::to_value(tree_of(file)))});
    if (!found) return say_skipped();
    CHECK(*found == "1");
  }
}

TEST_CASE("reader and independent validator agree on documents with a slip in them") {
  // What a schema cannot say: order, places on the tube, sums over several values.
  const std::set<std::string> schema_codes = {"type", "range",    "unknown-key", "missing-key", "choice",
                                              "size", "conflict", "text",        "format",      "version"};
  const unsigned seed = 20240917;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  std::size_t refused = 0;
  std::size_t taken = 0;
  for (const auto& [file, kind] : starters()) {
    std::vector<std::string> documents;
    for (int i = 0; i < 250; ++i) {
      files::JsonNode node = tree_of(file);
      mutate(node, random);
      documents.push_back(to_one_line(files::to_value(node)));
    }
    const auto found = verdicts(kind, documents);
    if (!found) return say_skipped();
    for (std::size_t i = 0; i < documents.size(); ++i) {
      // A CSV table's cells are no part of what the schema sees.
      const Problems problems = read_problems(kind, documents[i]);
      const bool by_form = std::any_of(problems.begin(), problems.end(), [&](const Problem& problem) {
        return schema_codes.count(problem.code) == 1 && problem.where.file == "d";
      });
      INFO(documents[i] << "\n" << all_lines(problems));
      CHECK((*found)[i] == (by_form ? '0' : '1'));
      (by_form ? refused : taken) += 1;
    }
  }
  CHECK(refused > 500);
  CHECK(taken > 100);
}
