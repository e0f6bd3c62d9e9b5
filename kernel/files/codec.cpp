#include "files/codec.hpp"

#include <algorithm>
#include <charconv>

#include "base/words.hpp"
#include "files/utf8.hpp"

namespace culmwright::files {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

std::string with_unit(double value, const std::string& unit) {
  return number_text(value) + (unit.empty() || unit == "%" || unit == "°" ? unit : " " + unit);
}

std::string range_text(Range range, const std::string& unit) {
  return "a number from " + number_text(range.least) + " to " + with_unit(range.greatest, unit);
}

const char* number_advice(const JsonNode& node) {
  if (node.kind != JsonNode::Kind::string) return "";
  if (node.text.find(',') != std::string::npos) return "Numbers have a decimal point, no comma";
  return node.column_name.empty() ? "Write the number without quotes and without its unit" : "";
}

/// The node's number in the file's own unit, or NaN and a problem.
double read_number(const JsonNode& node, const std::string& pointer, Reading& reading, Range range,
                   const std::string& unit, const char* range_advice = "") {
  if (node.kind != JsonNode::Kind::number) {
    reading.refuse("type", node, pointer, range_text(range, unit), number_advice(node));
    return nan;
  }
  if (node.number < range.least || node.number > range.greatest) {
    reading.refuse("range", node, pointer, range_text(range, unit), range_advice);
    return nan;
  }
  return node.number;
}

/// A length too small for millimetres that inches would explain.
const char* unit_advice(const JsonNode& node, const Reading& reading, Range range) {
  const double in_mm = std::abs(node.number) * inch;
  const bool explained = reading.unit_may_be_meant() && node.number < range.least && node.number > 0.0 &&
                         in_mm >= range.least && in_mm <= range.greatest;
  return explained ? "If the document is in inches, say so: \"units\": \"inch\"" : "";
}

double rounded(double value, int digits) {
  char text[40];
  const auto end = std::to_chars(text, text + sizeof text, value, std::chars_format::scientific, digits - 1);
  double result = value;
  std::from_chars(text, end.ptr, result);
  return result;
}

Codec<double> plain_number(Range range, std::string unit, double factor) {
  Codec<double> codec;
  const auto to_code = [factor](double file) { return file * factor; };
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, double& value) {
    value = to_code(read_number(node, pointer, reading, range, unit));
  };
  codec.write = [=](const double& value) {
    return JsonValue(factor == 1.0 ? value : file_number(value, value / factor, to_code));
  };
  codec.schema = [=](double) { return number_schema("number", range, unit); };
  codec.spoil = [](double& value) { value = nan; };
  return codec;
}

bool is_day(const std::string& text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  for (std::size_t i = 0; i < 10; ++i) {
    if (i != 4 && i != 7 && (text[i] < '0' || text[i] > '9')) return false;
  }
  const int year = std::stoi(text.substr(0, 4));
  const int month = std::stoi(text.substr(5, 2));
  const int date = std::stoi(text.substr(8, 2));
  constexpr int days[12] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (month < 1 || month > 12) return false;
  const bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
  return date >= 1 && date <= days[month - 1] + (month == 2 && leap ? 1 : 0);
}

constexpr std::size_t longest_identifier = 40;

bool is_identifier(const std::string& text) {
  const auto letter_or_digit = [](char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
  };
  if (text.empty() || text.size() > longest_identifier) return false;
  if (!letter_or_digit(text.front()) || !letter_or_digit(text.back())) return false;
  return std::all_of(text.begin(), text.end(),
                     [&](char c) { return letter_or_digit(c) || c == '.' || c == '_' || c == '-'; });
}

std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// Text that `accepts`; `allowed` for the message; `constraints` complete the schema.
Codec<std::string> text(std::function<bool(const std::string&)> accepts, std::string allowed,
                        std::function<void(JsonValue&)> constraints) {
  Codec<std::string> codec;
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, std::string& value) {
    if (node.kind != JsonNode::Kind::string) {
      reading.refuse("type", node, pointer, allowed,
                     node.kind == JsonNode::Kind::number ? "Put it in quotes" : "");
    } else if (!accepts(node.text)) {
      reading.refuse("text", node, pointer, allowed);
    } else {
      value = node.text;
    }
  };
  codec.write = [](const std::string& value) { return JsonValue(value); };
  codec.schema = [=](double) {
    JsonValue schema = JsonValue::object();
    schema.set("type", "string");
    constraints(schema);
    return schema;
  };
  return codec;
}

bool has_control(const std::string& text, bool lines) {
  return std::any_of(text.begin(), text.end(), [&](char c) {
    const bool control = static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
    return control && !(lines && (c == '\n' || c == '\t'));
  });
}

}  // namespace

Range in_unit(Range range, double length_unit) {
  return {range.least / length_unit, range.greatest / length_unit};
}

JsonValue number_schema(const char* type, Range range, const std::string& unit) {
  JsonValue schema = JsonValue::object();
  schema.set("type", type).set("minimum", range.least).set("maximum", range.greatest);
  if (!unit.empty()) schema.set("description", "[" + unit + "]");
  return schema;
}

double file_number(double code, double near, const std::function<double(double)>& to_code) {
  if (code == 0.0) return 0.0;  // and not the least number that is lost in the product
  constexpr int neighbours = 4;
  const double infinity = std::numeric_limits<double>::infinity();
  // The least of the neighbours that gives the code's value: it depends on that value alone.
  double exact = near;
  for (int i = 0; i < neighbours; ++i) exact = std::nextafter(exact, -infinity);
  for (int i = 0; i < 2 * neighbours && to_code(exact) < code; ++i) exact = std::nextafter(exact, infinity);
  if (to_code(exact) != code) {
    // No number does: take the nearest one's value instead, which then has one.
    return to_code(near) == code ? near : file_number(to_code(near), near, to_code);
  }
  constexpr int sure_digits = 15;  // with more, neighbouring doubles are no longer told apart by rounding
  for (int digits = 1; digits <= sure_digits; ++digits) {
    const double shorter = rounded(exact, digits);
    if (to_code(shorter) == code) return shorter;
  }
  return exact;
}

Codec<double> length(double least, double greatest) {
  const Range range{least, greatest};
  Codec<double> codec = plain_number(range, "mm", 1.0);
  codec.read = [range](const JsonNode& node, const std::string& pointer, Reading& reading, double& value) {
    const double unit = reading.length_unit();
    value = unit * read_number(node, pointer, reading, in_unit(range, unit), reading.length_unit_name(),
                               unit_advice(node, reading, range));
  };
  codec.schema = [range](double unit) {
    return number_schema("number", in_unit(range, unit), unit == 1.0 ? "mm" : "inch");
  };
  return codec;
}

Codec<double> number(double least, double greatest, const char* unit) {
  return plain_number({least, greatest}, unit, 1.0);
}

Codec<double> scaled(double least, double greatest, const char* unit, double factor) {
  return plain_number({least, greatest}, unit, factor);
}

Codec<Angle> degrees(double least, double greatest) {
  const Range range{least, greatest};
  Codec<Angle> codec;
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, Angle& value) {
    value = Angle::from_degrees(read_number(node, pointer, reading, range, "°"));
  };
  codec.write = [](const Angle& value) {
    const auto radians = [](double file) { return Angle::from_degrees(file).radians(); };
    return JsonValue(file_number(value.radians(), value.degrees(), radians));
  };
  codec.schema = [=](double) { return number_schema("number", range, "degrees"); };
  codec.spoil = [](Angle& value) { value = Angle::from_radians(nan); };
  return codec;
}

Codec<int> whole_number(int least, int greatest) {
  const Range range{static_cast<double>(least), static_cast<double>(greatest)};
  Codec<int> codec;
  codec.read = [=](const JsonNode& node, const std::string& pointer, Reading& reading, int& value) {
    value = 0;
    const std::string allowed =
        "a whole number from " + std::to_string(least) + " to " + std::to_string(greatest);
    if (node.kind != JsonNode::Kind::number) {
      reading.refuse("type", node, pointer, allowed, number_advice(node));
    } else if (node.number != std::floor(node.number) || node.number < least || node.number > greatest) {
      reading.refuse("range", node, pointer, allowed);
    } else {
      value = static_cast<int>(node.number);
    }
  };
  codec.write = [](const int& value) { return JsonValue(value); };
  codec.schema = [=](double) { return number_schema("integer", range, ""); };
  codec.spoil = [](int& value) { value = 0; };
  return codec;
}

Codec<bool> yes_or_no() {
  Codec<bool> codec;
  codec.read = [](const JsonNode& node, const std::string& pointer, Reading& reading, bool& value) {
    if (node.kind == JsonNode::Kind::boolean) {
      value = node.boolean;
    } else {
      reading.refuse("type", node, pointer, "true or false");
    }
  };
  codec.write = [](const bool& value) { return JsonValue(value); };
  codec.schema = [](double) {
    JsonValue schema = JsonValue::object();
    return schema.set("type", "boolean");
  };
  return codec;
}

Codec<std::string> line_of_text(std::size_t longest) {
  return text([=](const std::string& t) { return characters(t) <= longest && !has_control(t, false); },
              "text on one line of at most " + std::to_string(longest) + " characters",
              [=](JsonValue& schema) { schema.set("maxLength", longest); });
}

Codec<std::string> note_text() {
  constexpr std::size_t longest = 4000;
  return text([=](const std::string& t) { return characters(t) <= longest && !has_control(t, true); },
              "text of at most " + std::to_string(longest) + " characters",
              [=](JsonValue& schema) { schema.set("maxLength", longest); });
}

Codec<std::string> identifier() {
  return text(
      is_identifier,
      "a short name of at most 40 letters A to Z, digits, and between them . _ or - (it names files too)",
      [](JsonValue& schema) { schema.set("pattern", "^[A-Za-z0-9]([A-Za-z0-9._-]{0,38}[A-Za-z0-9])?$"); });
}

Codec<std::string> file_name() {
  constexpr std::size_t longest = 400;
  return text(
      [=](const std::string& t) { return !t.empty() && characters(t) <= longest && !has_control(t, false); },
      "the name of a file, relative to the folder of this document",
      [=](JsonValue& schema) { schema.set("minLength", 1).set("maxLength", longest); });
}

Codec<std::string> day() {
  return text([](const std::string& t) { return t.empty() || is_day(t); }, "a day as YYYY-MM-DD",
              [](JsonValue& schema) {
                schema.set("pattern", "^([0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01]))?$");
              });
}

std::optional<std::size_t> Words::read(const JsonNode& node, const std::string& pointer,
                                       Reading& reading) const {
  std::vector<std::string> shown;
  for (const std::string& word : words) shown.push_back(in_quotes(word));
  if (node.kind != JsonNode::Kind::string) {
    reading.refuse("type", node, pointer, listed(shown));
    return std::nullopt;
  }
  const auto found = std::find(words.begin(), words.end(), node.text);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  const std::optional<std::string> meant = nearest_word(node.text, words);
  reading.refuse("choice", node, pointer, listed(shown),
                 meant ? "Did you mean " + in_quotes(*meant) + "?" : "");
  return std::nullopt;
}

JsonValue Words::schema() const {
  JsonValue schema = JsonValue::object();
  JsonValue values = JsonValue::array();
  for (const std::string& word : words) values.push(word);
  return schema.set("enum", values);
}

bool is_list(const JsonNode& node, const std::string& pointer, Reading& reading, std::size_t fewest,
             std::size_t most, const char* of_what) {
  const std::string allowed = "a list of " + (fewest > 0 ? std::to_string(fewest) + " to " : "at most ") +
                              std::to_string(most) + " " + of_what;
  if (node.kind != JsonNode::Kind::array) {
    reading.refuse("type", node, pointer, allowed);
    return false;
  }
  if (node.items.size() < fewest || node.items.size() > most) {
    reading.refuse("size", node, pointer, allowed);
    return false;
  }
  return true;
}

}  // namespace culmwright::files
