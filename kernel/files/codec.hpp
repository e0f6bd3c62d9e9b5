#pragma once
/// How one kind of value is read, checked, written and described: the cells of the field tables (table.hpp).
/// A codec that meets a wrong value reports it and leaves something in its place that no later check can
/// trip over: NaN for a number, 0 for a whole number (which counts something), nothing for everything else.
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "files/json_tree.hpp"
#include "files/json_writer.hpp"
#include "files/reading.hpp"

namespace culmwright::files {

template <class V>
struct Codec {
  std::function<void(const JsonNode&, const std::string& pointer, Reading&, V&)> read;
  std::function<JsonValue(const V&)> write;
  /// The JSON Schema of the value, where one unit of length is that many millimetres.
  std::function<JsonValue(double length_unit)> schema;
  std::function<void(V&)> spoil = [](V&) {};
};

/// Inclusive limits, in the unit of the file (millimetres for lengths).
struct Range {
  double least = 0.0;
  double greatest = 0.0;
};

/// A length in the document's unit; millimetres in the value.
Codec<double> length(double least, double greatest);
/// Any other number, kept as it is; `unit` for messages and schema ("g", "%", "" for a ratio).
Codec<double> number(double least, double greatest, const char* unit);
/// A number whose value in code is `factor` times the one in the file.
Codec<double> scaled(double least, double greatest, const char* unit, double factor);
Codec<Angle> degrees(double least, double greatest);
Codec<int> whole_number(int least, int greatest);
Codec<bool> yes_or_no();
/// Text on one line, at most `longest` characters.
Codec<std::string> line_of_text(std::size_t longest);
/// Text that may run over several lines.
Codec<std::string> note_text();
/// A short name that may also be a file's or folder's: letters, digits, and inside also . _ -
Codec<std::string> identifier();
/// The name of another document, relative to the folder of this one.
Codec<std::string> file_name();
/// A day as ISO 8601 writes it.
Codec<std::string> day();

/// Least and greatest as they read in the file's own unit; shared by reader and schema.
Range in_unit(Range range, double length_unit);
JsonValue number_schema(const char* type, Range range, const std::string& unit);

/// The number for a file, of fewest digits, that `to_code` makes into `code` again; where no number does, the
/// nearest that comes out the same when it is read and written once more. `near`: the inverse, to within a
/// few units in the last place. `to_code` does not decrease.
double file_number(double code, double near, const std::function<double(double)>& to_code);

/// One of a few words.
struct Words {
  std::vector<std::string> words;
  /// The index of the node's word, or none and a problem.
  std::optional<std::size_t> read(const JsonNode& node, const std::string& pointer, Reading& reading) const;
  JsonValue schema() const;
};

template <class E>
Codec<E> choice(std::vector<std::pair<std::string, E>> pairs) {
  Words words;
  for (const auto& pair : pairs) words.words.push_back(pair.first);
  Codec<E> codec;
  codec.read = [words, pairs](const JsonNode& node, const std::string& pointer, Reading& reading, E& value) {
    if (const auto index = words.read(node, pointer, reading)) value = pairs[*index].second;
  };
  codec.write = [pairs](const E& value) {
    for (const auto& pair : pairs) {
      if (pair.second == value) return JsonValue(pair.first);
    }
    require(false, "every value of a choice has a word");
    return JsonValue();
  };
  codec.schema = [words](double) { return words.schema(); };
  return codec;
}

/// True when the node is a list of an allowed length; otherwise reports it.
bool is_list(const JsonNode& node, const std::string& pointer, Reading& reading, std::size_t fewest,
             std::size_t most, const char* of_what);

template <class V>
Codec<std::vector<V>> list(Codec<V> item, std::size_t fewest, std::size_t most, const char* of_what) {
  Codec<std::vector<V>> codec;
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading,
                   std::vector<V>& values) {
    values.clear();
    if (!is_list(node, pointer, reading, fewest, most, of_what)) return;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
      values.emplace_back();
      item.read(node.items[i], pointer + "/" + std::to_string(i), reading, values.back());
    }
  };
  codec.write = [=](const std::vector<V>& values) {
    JsonValue array = JsonValue::array();
    for (const V& value : values) array.push(item.write(value));
    return array;
  };
  codec.schema = [=](double length_unit) {
    JsonValue schema = JsonValue::object();
    schema.set("type", "array").set("items", item.schema(length_unit));
    if (fewest > 0) schema.set("minItems", fewest);
    return schema.set("maxItems", most);
  };
  return codec;
}

/// A value of a list that may be skipped: null.
template <class V>
Codec<std::optional<V>> or_null(Codec<V> inner) {
  Codec<std::optional<V>> codec;
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading,
                   std::optional<V>& value) {
    value.reset();
    if (node.kind != JsonNode::Kind::null) inner.read(node, pointer, reading, value.emplace());
  };
  codec.write = [=](const std::optional<V>& value) { return value ? inner.write(*value) : JsonValue(); };
  codec.schema = [=](double length_unit) {
    JsonValue null = JsonValue::object();
    null.set("type", "null");
    JsonValue schema = JsonValue::object();
    return schema.set("anyOf", JsonValue::array({inner.schema(length_unit), null}));
  };
  return codec;
}

}  // namespace culmwright::files
