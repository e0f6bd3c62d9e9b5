#include "files/json_writer.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/problem.hpp"
#include "files/utf8.hpp"

namespace culmwright {

namespace {

constexpr std::size_t line_width = 100;

void append_number(std::string& out, double value) {
  char text[32];
  // −0 would be read back as the integer 0: it is written as what it becomes.
  const auto end = std::to_chars(text, text + sizeof text, value == 0.0 ? 0.0 : value);
  out.append(text, end.ptr);
}

void append_escaped(std::string& out, unsigned char c) {
  constexpr char hex[] = "0123456789abcdef";
  switch (c) {
    case '"':
      out += "\\\"";
      return;
    case '\\':
      out += "\\\\";
      return;
    case '\n':
      out += "\\n";
      return;
    case '\r':
      out += "\\r";
      return;
    case '\t':
      out += "\\t";
      return;
    default:
      break;
  }
  if (c < 0x20 || c == 0x7f) {
    out += "\\u00";
    out += hex[c >> 4];
    out += hex[c & 15];
  } else {
    out += static_cast<char>(c);
  }
}

void append_string(std::string& out, std::string_view text) {
  out += '"';
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = files::utf8_length(text, i);
    if (length == 0) {
      out += "\xEF\xBF\xBD";
      ++i;
    } else if (length == 1) {
      append_escaped(out, static_cast<unsigned char>(text[i++]));
    } else {
      out.append(text.substr(i, length));
      i += length;
    }
  }
  out += '"';
}

void append_one_line(std::string& out, const JsonValue& value) {
  switch (value.kind()) {
    case JsonValue::Kind::null:
      out += "null";
      return;
    case JsonValue::Kind::boolean:
      out += value.boolean() ? "true" : "false";
      return;
    case JsonValue::Kind::number:
      append_number(out, value.number());
      return;
    case JsonValue::Kind::string:
      append_string(out, value.text());
      return;
    default:
      break;
  }
  const bool object = value.kind() == JsonValue::Kind::object;
  out += object ? '{' : '[';
  for (std::size_t i = 0; i < value.items().size(); ++i) {
    if (i > 0) out += ", ";
    if (object) {
      append_string(out, value.keys()[i]);
      out += ": ";
    }
    append_one_line(out, value.items()[i]);
  }
  out += object ? '}' : ']';
}

bool is_container(const JsonValue& value) {
  return value.kind() == JsonValue::Kind::array || value.kind() == JsonValue::Kind::object;
}

/// Columns as an editor counts them: characters, not bytes.
std::size_t columns(std::string_view line) {
  return static_cast<std::size_t>(
      std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// Appends `value`, whose line already holds `used` columns.
void append_indented(std::string& out, const JsonValue& value, std::size_t indent, std::size_t used) {
  if (!is_container(value) || value.items().empty()) {
    append_one_line(out, value);
    return;
  }
  if (indent > 0) {  // the document itself is always opened up
    std::string line;
    append_one_line(line, value);
    if (used + columns(line) + 1 <= line_width) {
      out += line;
      return;
    }
  }
  const bool object = value.kind() == JsonValue::Kind::object;
  out += object ? '{' : '[';
  const std::string inner = "\n" + std::string(indent + 2, ' ');
  for (std::size_t i = 0; i < value.items().size(); ++i) {
    if (i > 0) out += ',';
    out += inner;
    std::string key;
    if (object) {
      append_string(key, value.keys()[i]);
      key += ": ";
      out += key;
    }
    append_indented(out, value.items()[i], indent + 2, indent + 2 + columns(key));
  }
  out += '\n' + std::string(indent, ' ');
  out += object ? '}' : ']';
}

}  // namespace

JsonValue JsonValue::array(std::vector<JsonValue> items) {
  JsonValue value(Kind::array);
  value.items_ = std::move(items);
  return value;
}

JsonValue& JsonValue::push(JsonValue value) {
  require(kind_ == Kind::array, "only an array takes items");
  items_.push_back(std::move(value));
  return *this;
}

JsonValue& JsonValue::set(std::string key, JsonValue value) {
  require(kind_ == Kind::object, "only an object takes members");
  require(std::find(keys_.begin(), keys_.end(), key) == keys_.end(), "a key is set once");
  keys_.push_back(std::move(key));
  items_.push_back(std::move(value));
  return *this;
}

double JsonValue::finite(double value) {
  require(std::isfinite(value), "a written number is finite");
  return value;
}

std::string to_text(const JsonValue& value) {
  std::string out;
  append_indented(out, value, 0, 0);
  out += '\n';
  return out;
}

std::string to_one_line(const JsonValue& value) {
  std::string out;
  append_one_line(out, value);
  return out;
}

}  // namespace culmwright
