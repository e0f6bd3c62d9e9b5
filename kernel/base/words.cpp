#include "base/words.hpp"

#include <algorithm>
#include <charconv>

namespace culmwright {

namespace {

std::string lower(std::string_view word) {
  std::string text(word);
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

/// Optimal string alignment distance, three rows of the usual table.
std::size_t edits(const std::string& a, const std::string& b) {
  std::vector<std::size_t> before, last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, replaced});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
    before = last;
    last = row;
  }
  return last[b.size()];
}

}  // namespace

std::string number_text(double value, int digits) {
  char text[40];
  const auto end =
      std::to_chars(text, text + sizeof text, value == 0.0 ? 0.0 : value, std::chars_format::general, digits);
  return std::string(text, end.ptr);
}

std::string fixed_text(double value, int decimals) {
  char text[512];  // the largest double has 309 digits before the point
  const auto end = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed, decimals);
  const std::string printed(text, end.ptr);
  const bool minus_zero = printed[0] == '-' && printed.find_first_not_of("-0.") == std::string::npos;
  return minus_zero ? printed.substr(1) : printed;
}

std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& known) {
  constexpr std::size_t longest = 64;  // a longer word is no slip of the finger, and the table stays small
  if (word.size() > longest) return std::nullopt;
  const std::string meant = lower(word);
  std::size_t fewest = std::max<std::size_t>(1, word.size() / 3) + 1;
  std::optional<std::string> nearest;
  for (const std::string& candidate : known) {
    const std::size_t count = edits(meant, lower(candidate));
    if (count < fewest) {
      fewest = count;
      nearest = candidate;
    }
  }
  return nearest;
}

std::string listed(const std::vector<std::string>& words, const char* last_joint) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? last_joint : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace culmwright
