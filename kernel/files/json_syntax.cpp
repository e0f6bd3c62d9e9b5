#include "files/json_syntax.hpp"

#include <algorithm>

#include "files/json_tree.hpp"

namespace culmwright::files {

namespace {

bool starts(std::string_view text, std::size_t offset, std::string_view with) {
  return text.substr(std::min(offset, text.size()), with.size()) == with;
}

std::size_t after_comment(std::string_view text, std::size_t offset) {
  const bool line = starts(text, offset, "//");
  const std::size_t end = text.find(line ? "\n" : "*/", offset + 2);
  return end == std::string_view::npos ? text.size() : end + (line ? 1 : 2);
}

/// Where the token that could not be taken starts. Of a sign or a word its own length tells (the parser's
/// last token may still hold what came before it); a number was read one byte too far.
std::size_t token_start(std::string_view text, std::size_t read, const std::string& last_token,
                        const std::string& message) {
  if (message.find("unexpected '") != std::string::npos) return read > 0 ? read - 1 : 0;
  for (std::string_view word : {"true", "false", "null"}) {
    const bool is_word = message.find("unexpected " + std::string(word) + " literal") != std::string::npos;
    if (is_word && read >= word.size()) return read - word.size();
  }
  for (std::size_t back : {last_token.size(), last_token.size() + 1}) {
    if (!last_token.empty() && back <= read && starts(text, read - back, last_token)) return read - back;
  }
  return read > 0 ? read - 1 : 0;
}

/// The word or sign at `offset`, as a reader sees it.
std::string_view word_at(std::string_view text, std::size_t offset) {
  const std::string_view rest = text.substr(std::min(offset, text.size()));
  const std::size_t end = rest.find_first_of(" \t\r\n,:[]{}\"");
  return rest.substr(0, end == 0 ? 1 : end);
}

/// The start of the word that holds the byte at `offset`.
std::size_t word_start(std::string_view text, std::size_t offset) {
  while (offset > 0 && std::string_view(" \t\r\n,:[]{}\"").find(text[offset - 1]) == std::string_view::npos) {
    --offset;
  }
  return offset;
}

bool is_not_a_number(std::string_view word) {
  while (!word.empty() && (word.front() == '-' || word.front() == '+')) word.remove_prefix(1);
  std::string lower;
  for (char c : word.substr(0, 8)) lower += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  return lower == "nan" || lower == "inf" || lower == "infinity";
}

std::size_t last_before(std::string_view text, std::size_t offset) {
  return offset == 0 ? std::string_view::npos : text.find_last_not_of(" \t\r\n", offset - 1);
}

std::string expected_in(const std::string& message) {
  const std::size_t found = message.find("expected ", message.find("unexpected ") + 11);
  if (message.find("unexpected ") == std::string::npos || found == std::string::npos) return "valid JSON";
  std::string expected = message.substr(found + 9);
  for (const auto& [theirs, ours] :
       {std::pair<const char*, const char*>{"string literal", "a key in \"quotes\""},
        {"'[', '{', or a literal", "a value"},
        {"end of input", "nothing more after the document's last }"}}) {
    if (expected == theirs) expected = ours;
  }
  return expected;
}

std::string syntax_advice(std::string_view text, std::size_t offset, bool comments_allowed) {
  const std::string_view word = word_at(text, offset);
  const std::size_t before = last_before(text, offset);
  const char previous = before == std::string_view::npos ? '\0' : text[before];
  if (word.empty()) return "";
  if (word[0] == '/' || word[0] == '#') {
    return comments_allowed ? "Comments are written // … or /* … */"
                            : "The program writes this document itself: use \"note\" instead of comments";
  }
  if (word[0] == '\'') return "Use double quotes";
  if ((word[0] == '}' || word[0] == ']') && previous == ',') {
    return "Remove the comma before the closing bracket";
  }
  if (word[0] >= '0' && word[0] <= '9' && previous == ',') return "Numbers have a decimal point, no comma";
  if (word[0] == '"' && previous != ',' && previous != '{' && previous != '[' && previous != ':') {
    return "A comma may be missing before it";
  }
  return "";
}

}  // namespace

std::size_t skip_between_values(std::string_view text, std::size_t offset, bool comments_allowed) {
  while (offset < text.size()) {
    const char c = text[offset];
    if (c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == ',' || c == ':') {
      ++offset;
    } else if (comments_allowed && (starts(text, offset, "//") || starts(text, offset, "/*"))) {
      offset = after_comment(text, offset);
    } else {
      break;
    }
  }
  return offset;
}

SyntaxError explained_syntax(std::string_view text, std::size_t read, const std::string& last_token,
                             const std::string& message, bool comments_allowed) {
  if (text.find_first_not_of(" \t\r\n\xEF\xBB\xBF") == std::string_view::npos) {
    return {0, {"empty", {}, "an empty file", "a JSON document", "Copy a starter document"}};
  }
  const bool in_token = message.find("invalid ") != std::string::npos;
  const std::size_t end = text.find_last_not_of(" \t\r\n") + 1;
  if (read >= end && !in_token && message.find("unexpected end of input") != std::string::npos) {
    return {end,
            {"truncated",
             {},
             "the end of the file in the middle of the document",
             "a document whose brackets are all closed",
             "Part of the file is missing: get it again"}};
  }
  std::size_t offset = token_start(text, read, last_token, message);
  if (message.find("number overflow") != std::string::npos) {
    return {offset,
            {"range",
             {},
             "the number " + std::string(word_at(text, offset).substr(0, 40)),
             "a number that a length, an angle or a mass can have",
             ""}};
  }
  const std::size_t start = word_start(text, std::min(read > 0 ? read - 1 : 0, text.size() - 1));
  if (in_token && is_not_a_number(word_at(text, start))) {
    return {start,
            {"not-a-number",
             {},
             std::string(word_at(text, start)),
             "a finite number",
             "Leave a reading that was not taken out"}};
  }
  if (in_token && message.find("invalid string") != std::string::npos) {
    const bool unclosed = message.find("missing closing quote") != std::string::npos ||
                          message.find("control character") != std::string::npos;
    return {read > 0 ? read - 1 : 0,
            {unclosed && read >= text.size() ? "truncated" : "syntax",
             {},
             unclosed ? "a text without its closing quote on the same line" : "a text with a wrong \\ escape",
             "text in \"quotes\" on one line",
             unclosed ? "" : "Write \\\\ for a backslash"}};
  }
  if (in_token) offset = std::min(start, text.size() - 1);
  return {offset,
          {"syntax",
           {},
           in_quotes(word_at(text, offset)),
           expected_in(message),
           syntax_advice(text, offset, comments_allowed)}};
}

}  // namespace culmwright::files
