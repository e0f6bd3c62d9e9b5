#include "files/reading.hpp"

#include <algorithm>

namespace culmwright::files {

namespace {

/// A document with more problems than this is of another kind altogether; the rest tells nothing.
constexpr std::size_t most_problems = 100;

}  // namespace

bool Reading::full() const {
  return problems_.size() > most_problems;
}

bool Reading::is_spoiled(const std::string& pointer) const {
  return std::any_of(unread_.begin(), unread_.end(), [&](const std::string& unread) {
    return pointer.compare(0, unread.size(), unread) == 0 &&
           (pointer.size() == unread.size() || pointer[unread.size()] == '/');
  });
}

void Reading::add(const char* code, const TextSpot& spot, const std::string& pointer, std::string found,
                  std::string allowed, std::string advice) {
  if (full()) return;
  if (!pointer.empty()) mark_unread(pointer);
  Place place{spot.file ? *spot.file : "", spot.line, spot.column, pointer};
  if (problems_.size() == most_problems) {
    problems_.push_back({"too-many", std::move(place),
                         "more than " + std::to_string(most_problems) + " problems", "none",
                         "Mend the first ones and try again"});
    return;
  }
  problems_.push_back({code, std::move(place), std::move(found), std::move(allowed), std::move(advice)});
}

void Reading::refuse(const char* code, const JsonNode& node, const std::string& pointer, std::string allowed,
                     std::string advice) {
  std::string found = in_words(node);
  if (!node.column_name.empty()) found += " in column \"" + node.column_name + "\"";
  add(code, node.spot, pointer, std::move(found), std::move(allowed), std::move(advice));
}

}  // namespace culmwright::files
