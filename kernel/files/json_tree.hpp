#pragma once
/// A JSON document as a tree that knows where each of its values stands. Reading is strict: RFC 8259, UTF-8,
/// and the limits below; comments only where the caller allows them. Duplicate keys are kept for the reader
/// to refuse by name.
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.hpp"
#include "files/json_writer.hpp"

namespace culmwright::files {

/// No document of a workshop comes near these; a file that does is not one.
constexpr std::size_t largest_file = 4u << 20;  ///< bytes
constexpr std::size_t most_values = 200'000;
constexpr std::size_t deepest_nesting = 24;

/// Line and column of a value, and the file they are counted in.
struct TextSpot {
  std::shared_ptr<const std::string> file;
  int line = 0;
  int column = 0;
};

struct JsonMember;

struct JsonNode {
  using Kind = JsonValue::Kind;
  Kind kind = Kind::null;
  bool boolean = false;
  double number = 0.0;
  std::string text;  ///< of a string; of a number, as it is written
  std::vector<JsonNode> items;
  std::vector<JsonMember> members;
  TextSpot spot;
  std::string column_name;  ///< of a value out of a CSV table

  const JsonMember* find(std::string_view key) const;
};

struct JsonMember {
  std::string key;
  TextSpot spot;
  JsonNode value;
};

/// The value in words, for "found …": `the text "abc"`, `the number 12`, `a list of 3`.
std::string in_words(const JsonNode& node);
/// A text as a message quotes it: shortened, without line breaks.
std::string in_quotes(std::string_view text);
/// `pointer` + "/" + key, escaped by RFC 6901.
std::string joined(const std::string& pointer, std::string_view key);

/// What is wrong with a text as a whole, before it is parsed: its size or its encoding.
std::optional<Problem> unreadable_text(std::string_view text, const std::string& file);

/// The document's tree, or none and one more problem.
std::optional<JsonNode> parse_json(std::string_view text, const std::string& file, bool comments_allowed,
                                   Problems& problems);

/// The tree as a value, to be written again.
JsonValue to_value(const JsonNode& node);

}  // namespace culmwright::files
