#pragma once
/// The field table: one declaration of an object's keys, from which its reader, range checks, writer and JSON
/// Schema all come.
///
///     Table<Groove>("a groove")
///         .required("at", [](auto& g) -> auto& { return g.place.at; }, length(-500, 6000), "Its middle")
///         .optional(...)          a std::optional member; left out when empty
///         .with_default(...)      what the value-initialised object holds; empty text and lists are left out
///         .exactly_one_of({"facing_deg", "around"});
///
/// A member is named by a pointer to member, or by a callable that takes the object by auto& and returns the
/// member by reference.
#include <algorithm>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "files/codec.hpp"

namespace culmwright::files {

/// How many of some keys an object has.
struct KeyRule {
  std::vector<std::string> keys;
  bool at_least_one = false;  ///< otherwise none will do; never more than one
};

/// Keys of an object checked against the known ones: unknown and duplicate keys and broken rules are
/// reported. Returns the known keys that an unknown one was probably meant to be.
std::vector<std::string> check_keys(const JsonNode& node, const std::string& pointer, Reading& reading,
                                    const std::vector<std::string>& known, const std::vector<KeyRule>& rules,
                                    const std::string& of_what);
void report_missing(const JsonNode& node, const std::string& pointer, Reading& reading,
                    const std::string& key, const std::string& of_what, const std::string& description);

/// `schema` with `description` before what it says already, and a default where there is one.
JsonValue described(const JsonValue& schema, const std::string& description, const JsonValue* default_value);
JsonValue object_schema(const std::vector<std::pair<std::string, JsonValue>>& properties,
                        const std::vector<std::string>& required, const std::vector<KeyRule>& rules);

template <class V>
bool is_blank(const V&) {
  return false;
}
inline bool is_blank(const std::string& text) {
  return text.empty();
}
template <class V>
bool is_blank(const std::vector<V>& values) {
  return values.empty();
}

template <class T>
class Table {
 public:
  struct Field {
    std::string key;
    std::string description;
    bool must = false;
    bool has_default = false;
    std::function<void(const JsonNode&, const std::string&, Reading&, T&)> read;
    std::function<void(T&)> missing;  ///< what a missing key leaves behind
    std::function<void(const T&, JsonValue&)> write;
    std::function<JsonValue(double)> schema;
    std::function<JsonValue()> default_value;
  };

  /// `of_what`: the object in words, with its article.
  explicit Table(std::string of_what) : of_what_(std::move(of_what)) {}

  template <class Get, class V>
  Table& required(std::string key, Get get, Codec<V> codec, std::string description) {
    Field field = base(std::move(key), get, codec, std::move(description));
    field.must = true;
    field.missing = [=](T& object) { codec.spoil(std::invoke(get, object)); };
    field.write = [key = field.key, get, codec](const T& object, JsonValue& out) {
      out.set(key, codec.write(std::invoke(get, object)));
    };
    fields_.push_back(std::move(field));
    return *this;
  }

  template <class Get, class V>
  Table& with_default(std::string key, Get get, Codec<V> codec, std::string description) {
    Field field = base(std::move(key), get, codec, std::move(description));
    field.missing = [](T&) {};
    field.has_default = !is_blank(std::invoke(get, std::as_const(blank())));
    field.write = [key = field.key, get, codec](const T& object, JsonValue& out) {
      const V& value = std::invoke(get, object);
      if (!is_blank(value)) out.set(key, codec.write(value));
    };
    fields_.push_back(std::move(field));
    return *this;
  }

  /// A value that is, when its key is missing, what `derive` makes it.
  template <class Get, class V>
  Table& derived(std::string key, Get get, Codec<V> codec, std::function<void(T&)> derive,
                 std::string description) {
    required(std::move(key), get, codec, std::move(description));
    fields_.back().must = false;
    fields_.back().missing = std::move(derive);
    return *this;
  }

  template <class Get, class V>
  Table& optional(std::string key, Get get, Codec<V> codec, std::string description) {
    Field field;
    field.key = std::move(key);
    field.description = std::move(description);
    field.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, T& object) {
      codec.read(node, pointer, reading, std::invoke(get, object).emplace());
    };
    field.missing = [=](T& object) { std::invoke(get, object).reset(); };
    field.write = [key = field.key, get, codec](const T& object, JsonValue& out) {
      const auto& value = std::invoke(get, object);
      if (value) out.set(key, codec.write(*value));
    };
    field.schema = codec.schema;
    fields_.push_back(std::move(field));
    return *this;
  }

  /// A key that is known, described and read by someone else.
  Table& read_elsewhere(std::string key, JsonValue schema, std::string description) {
    Field field;
    field.key = std::move(key);
    field.description = std::move(description);
    field.read = [](const JsonNode&, const std::string&, Reading&, T&) {};
    field.missing = [](T&) {};
    field.write = [](const T&, JsonValue&) {};
    field.schema = [schema = std::move(schema)](double) { return schema; };
    fields_.push_back(std::move(field));
    return *this;
  }

  Table& exactly_one_of(std::vector<std::string> keys) {
    rules_.push_back({std::move(keys), true});
    return *this;
  }
  Table& at_most_one_of(std::vector<std::string> keys) {
    rules_.push_back({std::move(keys), false});
    return *this;
  }

  const std::string& of_what() const { return of_what_; }

  void read(const JsonNode& node, const std::string& pointer, Reading& reading, T& object) const {
    if (node.kind != JsonNode::Kind::object) {
      reading.refuse("type", node, pointer, of_what_ + ": an object in { }");
      spoil(object);
      return;
    }
    const std::vector<std::string> meant = check_keys(node, pointer, reading, keys(), rules_, of_what_);
    for (const Field& field : fields_) {
      if (const JsonMember* member = node.find(field.key)) {
        field.read(member->value, joined(pointer, field.key), reading, object);
        continue;
      }
      field.missing(object);
      const bool misspelt = std::find(meant.begin(), meant.end(), field.key) != meant.end();
      if (misspelt) reading.mark_unread(joined(pointer, field.key));
      if (field.must && !misspelt) {
        report_missing(node, pointer, reading, field.key, of_what_, field.description);
      }
    }
  }

  void write(const T& object, JsonValue& out) const {
    for (const Field& field : fields_) field.write(object, out);
  }

  void spoil(T& object) const {
    for (const Field& field : fields_) field.missing(object);
  }

  std::vector<std::string> keys() const {
    std::vector<std::string> keys;
    for (const Field& field : fields_) keys.push_back(field.key);
    return keys;
  }
  const std::vector<KeyRule>& rules() const { return rules_; }

  JsonValue schema(double length_unit) const {
    std::vector<std::pair<std::string, JsonValue>> properties;
    std::vector<std::string> required;
    for (const Field& field : fields_) {
      // Defaults are millimetres; a schema in another unit leaves them out.
      const bool shown = field.has_default && length_unit == 1.0;
      const JsonValue value = shown ? field.default_value() : JsonValue();
      properties.emplace_back(
          field.key, described(field.schema(length_unit), field.description, shown ? &value : nullptr));
      if (field.must) required.push_back(field.key);
    }
    return object_schema(properties, required, rules_);
  }

 private:
  static T& blank() {
    static T object{};
    return object;
  }

  template <class Get, class V>
  Field base(std::string key, Get get, Codec<V> codec, std::string description) {
    Field field;
    field.key = std::move(key);
    field.description = std::move(description);
    field.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, T& object) {
      codec.read(node, pointer, reading, std::invoke(get, object));
    };
    field.schema = codec.schema;
    field.default_value = [=] { return codec.write(std::invoke(get, std::as_const(blank()))); };
    return field;
  }

  std::string of_what_;
  std::vector<Field> fields_;
  std::vector<KeyRule> rules_;
};

/// An object inside another.
template <class T>
Codec<T> object(Table<T> table) {
  auto shared = std::make_shared<const Table<T>>(std::move(table));
  Codec<T> codec;
  codec.read = [shared](const JsonNode& node, const std::string& pointer, Reading& reading, T& value) {
    shared->read(node, pointer, reading, value);
  };
  codec.write = [shared](const T& value) {
    JsonValue out = JsonValue::object();
    shared->write(value, out);
    return out;
  };
  codec.schema = [shared](double length_unit) { return shared->schema(length_unit); };
  codec.spoil = [shared](T& value) { shared->spoil(value); };
  return codec;
}

}  // namespace culmwright::files
