#include "files/json_tree.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>

#include "base/words.hpp"
#include "files/json_syntax.hpp"
#include "files/utf8.hpp"

namespace culmwright::files {

namespace {

/// Walks over the text and tells how far the parser has read.
class CountingIterator {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(std::string_view text, std::size_t offset, std::size_t* read)
      : text_(text), offset_(offset), read_(read) {}
  reference operator*() const { return text_[offset_]; }
  CountingIterator& operator++() {
    *read_ = ++offset_;
    return *this;
  }
  CountingIterator operator++(int) {
    CountingIterator before = *this;
    ++*this;
    return before;
  }
  bool operator==(const CountingIterator& other) const { return offset_ == other.offset_; }
  bool operator!=(const CountingIterator& other) const { return offset_ != other.offset_; }

 private:
  std::string_view text_;
  std::size_t offset_;
  std::size_t* read_;
};

/// Builds the tree from the parser's events. Events come in the order of the text, so each value starts at
/// the first byte after the last event that is neither space, comment, comma nor colon.
class TreeBuilder final : public nlohmann::json::json_sax_t {
 public:
  TreeBuilder(std::string_view text, const std::string& file, bool comments_allowed, Problems& problems)
      : text_(text),
        file_(std::make_shared<const std::string>(file)),
        comments_allowed_(comments_allowed),
        problems_(problems),
        lines_(text) {
    if (text.substr(0, 3) == "\xEF\xBB\xBF") done_ = 3;
  }

  std::size_t* read() { return &read_; }
  JsonNode take() { return std::move(root_); }

  bool null() override { return add(JsonNode::Kind::null, 4) != nullptr; }
  bool boolean(bool value) override {
    JsonNode* node = add(JsonNode::Kind::boolean, value ? 4 : 5);
    if (node != nullptr) node->boolean = value;
    return node != nullptr;
  }
  bool number_integer(number_integer_t value) override { return number(static_cast<double>(value)); }
  bool number_unsigned(number_unsigned_t value) override { return number(static_cast<double>(value)); }
  bool number_float(number_float_t value, const string_t&) override { return number(value); }
  bool string(string_t& value) override {
    JsonNode* node = add(JsonNode::Kind::string, 0);
    if (node == nullptr) return false;
    node->text = value;
    done_ = read_;
    return true;
  }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(JsonNode::Kind::object); }
  bool start_array(std::size_t) override { return open(JsonNode::Kind::array); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }
  bool key(string_t& value) override {
    const std::size_t start = next_start();
    open_.back()->members.push_back({value, spot(start), {}});
    done_ = read_;
    return true;
  }
  bool parse_error(std::size_t, const std::string& last_token,
                   const nlohmann::detail::exception& error) override {
    SyntaxError syntax = explained_syntax(text_, read_, last_token, error.what(), comments_allowed_);
    refuse(syntax.offset, syntax.problem);
    return false;
  }

 private:
  std::size_t next_start() const { return skip_between_values(text_, done_, comments_allowed_); }
  TextSpot spot(std::size_t offset) {
    const LineColumn place = lines_.at(offset);
    return {file_, place.line, place.column};
  }
  void refuse(std::size_t offset, Problem problem) {
    const TextSpot where = spot(offset);
    problem.where = {*file_, where.line, where.column, ""};
    problems_.push_back(std::move(problem));
  }
  bool number(double value) {
    JsonNode* node = add(JsonNode::Kind::number, 0);
    if (node == nullptr) return false;
    const std::size_t start = start_;
    const std::size_t end = std::min(text_.find_first_not_of("0123456789+-.eE", start), text_.size());
    node->text = std::string(text_.substr(start, end - start));
    node->number = value;
    done_ = end;
    return true;
  }
  JsonNode* add(JsonNode::Kind kind, std::size_t length) {
    start_ = next_start();
    if (++values_ > most_values) {
      refuse(start_, {"too-many",
                      {},
                      "more than " + std::to_string(most_values) + " values",
                      "at most " + std::to_string(most_values) + " values in a document",
                      "This is not a document of a workshop"});
      return nullptr;
    }
    JsonNode* node = &root_;
    if (!open_.empty()) {
      JsonNode* parent = open_.back();
      if (parent->kind == JsonNode::Kind::array) {
        node = &parent->items.emplace_back();
      } else {
        node = &parent->members.back().value;
      }
    }
    node->kind = kind;
    node->spot = spot(start_);
    done_ = start_ + length;
    return node;
  }
  bool open(JsonNode::Kind kind) {
    JsonNode* node = add(kind, 1);
    if (node == nullptr) return false;
    if (open_.size() == deepest_nesting) {
      refuse(start_, {"too-deep",
                      {},
                      "more than " + std::to_string(deepest_nesting) + " levels of nesting",
                      "at most " + std::to_string(deepest_nesting) + " levels",
                      "Look for a bracket that was opened too often"});
      return false;
    }
    open_.push_back(node);
    return true;
  }
  bool close() {
    done_ = next_start() + 1;
    open_.pop_back();
    return true;
  }

  std::string_view text_;
  std::shared_ptr<const std::string> file_;
  bool comments_allowed_;
  Problems& problems_;
  LineCounter lines_;
  std::size_t read_ = 0;   ///< bytes the parser has taken
  std::size_t done_ = 0;   ///< end of the last event's text
  std::size_t start_ = 0;  ///< start of the value being added
  std::size_t values_ = 0;
  JsonNode root_;
  std::vector<JsonNode*> open_;
};

}  // namespace

const JsonMember* JsonNode::find(std::string_view key) const {
  const auto found = std::find_if(members.begin(), members.end(),
                                  [&](const JsonMember& member) { return member.key == key; });
  return found == members.end() ? nullptr : &*found;
}

std::string in_quotes(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string shown;
  for (std::size_t i = 0; i < text.size();) {
    if (shown.size() >= longest) {
      shown += "…";
      break;
    }
    const std::size_t length = utf8_length(text, i);
    const unsigned char c = static_cast<unsigned char>(text[i]);
    if (length == 0 || c < 0x20 || c == 0x7f) {
      shown += ' ';
      ++i;
    } else {
      shown.append(text.substr(i, length));
      i += length;
    }
  }
  return "\"" + shown + "\"";
}

std::string in_words(const JsonNode& node) {
  switch (node.kind) {
    case JsonNode::Kind::null:
      return "null";
    case JsonNode::Kind::boolean:
      return node.boolean ? "true" : "false";
    case JsonNode::Kind::number:
      return "the number " + node.text.substr(0, 40);
    case JsonNode::Kind::string:
      return "the text " + in_quotes(node.text);
    case JsonNode::Kind::array:
      return "a list of " + std::to_string(node.items.size());
    case JsonNode::Kind::object:
      return "an object";
  }
  return "";
}

std::string joined(const std::string& pointer, std::string_view key) {
  std::string text = pointer + "/";
  for (char c : key) {
    if (c == '~') {
      text += "~0";
    } else if (c == '/') {
      text += "~1";
    } else {
      text += c;
    }
  }
  return text;
}

std::optional<Problem> unreadable_text(std::string_view text, const std::string& file) {
  if (text.size() > largest_file) {
    return Problem{"too-large",
                   {file, 0, 0, ""},
                   std::to_string(text.size()) + " bytes",
                   "at most " + std::to_string(largest_file) + " bytes",
                   "This is not a document of a workshop"};
  }
  const std::optional<std::size_t> bad = first_bad_byte(text);
  if (bad) {
    const LineColumn place = LineCounter(text).at(*bad);
    constexpr char hex[] = "0123456789ABCDEF";
    const unsigned char c = static_cast<unsigned char>(text[*bad]);
    return Problem{"encoding",
                   {file, place.line, place.column, ""},
                   std::string("the byte 0x") + hex[c >> 4] + hex[c & 15],
                   "text in UTF-8 without control characters",
                   "Save the file as UTF-8 in a text editor"};
  }
  return std::nullopt;
}

std::optional<JsonNode> parse_json(std::string_view text, const std::string& file, bool comments_allowed,
                                   Problems& problems) {
  if (std::optional<Problem> problem = unreadable_text(text, file)) {
    problems.push_back(std::move(*problem));
    return std::nullopt;
  }
  TreeBuilder builder(text, file, comments_allowed, problems);
  const CountingIterator first(text, 0, builder.read());
  const CountingIterator last(text, text.size(), builder.read());
  const bool parsed = nlohmann::json::sax_parse(first, last, &builder, nlohmann::json::input_format_t::json,
                                                true, comments_allowed);
  if (!parsed) return std::nullopt;
  return builder.take();
}

JsonValue to_value(const JsonNode& node) {
  switch (node.kind) {
    case JsonNode::Kind::null:
      return {};
    case JsonNode::Kind::boolean:
      return node.boolean;
    case JsonNode::Kind::number:
      return node.number;
    case JsonNode::Kind::string:
      return node.text;
    case JsonNode::Kind::array:
      break;
    case JsonNode::Kind::object: {
      JsonValue value = JsonValue::object();
      for (const JsonMember& member : node.members) value.set(member.key, to_value(member.value));
      return value;
    }
  }
  JsonValue value = JsonValue::array();
  for (const JsonNode& item : node.items) value.push(to_value(item));
  return value;
}

}  // namespace culmwright::files
