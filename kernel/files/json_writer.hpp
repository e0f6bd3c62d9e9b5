#pragma once
/// JSON (RFC 8259) as the program writes it: the same value always gives the same bytes.
///
/// Numbers are printed with the fewest digits that read back as the same double. Keys keep the order in which
/// they were set. A list or object that fits on one line of 100 columns is written on one line, so that a
/// hole or a station is one line; everything else is indented by two. UTF-8; ill-formed bytes become U+FFFD.
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace culmwright {

class JsonValue {
 public:
  enum class Kind { null, boolean, number, string, array, object };

  JsonValue() = default;
  /// From bool, any integer or any floating number; a number must be finite, or the program stops.
  template <class N, class = std::enable_if_t<std::is_arithmetic_v<N>>>
  JsonValue(N value) {
    if constexpr (std::is_same_v<N, bool>) {
      kind_ = Kind::boolean;
      number_ = value ? 1.0 : 0.0;
    } else {
      kind_ = Kind::number;
      number_ = finite(static_cast<double>(value));
    }
  }
  JsonValue(std::string value) : kind_(Kind::string), text_(std::move(value)) {}
  JsonValue(std::string_view value) : JsonValue(std::string(value)) {}
  JsonValue(const char* value) : JsonValue(std::string(value)) {}

  static JsonValue array() { return JsonValue(Kind::array); }
  static JsonValue array(std::vector<JsonValue> items);
  static JsonValue object() { return JsonValue(Kind::object); }

  /// Appends to an array. Precondition: this is an array.
  JsonValue& push(JsonValue value);
  /// Appends a member. Precondition: this is an object without that key.
  JsonValue& set(std::string key, JsonValue value);

  Kind kind() const { return kind_; }
  bool boolean() const { return number_ != 0.0; }
  double number() const { return number_; }
  const std::string& text() const { return text_; }
  const std::vector<JsonValue>& items() const { return items_; }
  /// Keys of an object, in the order of `items`.
  const std::vector<std::string>& keys() const { return keys_; }

 private:
  explicit JsonValue(Kind kind) : kind_(kind) {}
  static double finite(double value);

  Kind kind_ = Kind::null;
  double number_ = 0.0;
  std::string text_;
  std::vector<JsonValue> items_;
  std::vector<std::string> keys_;
};

/// The document, indented, with a newline at its end.
std::string to_text(const JsonValue& value);
/// The value on one line, without a newline.
std::string to_one_line(const JsonValue& value);

}  // namespace culmwright
