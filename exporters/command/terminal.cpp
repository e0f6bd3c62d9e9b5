#include "command/terminal.hpp"

#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cstdio>

#include "base/words.hpp"

namespace culmwright::command {

std::string number(double value, int decimals) {
  return fixed_text(value, decimals);
}

std::string with_error(double value, double sigma, int decimals) {
  return number(value, decimals) + " ± " + number(sigma, decimals);
}

std::size_t columns(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

namespace {

bool starts_as_number(const std::string& cell) {
  const char first = cell.empty() ? ' ' : cell[0];
  return std::isdigit(static_cast<unsigned char>(first)) != 0 || first == '-' || first == '+';
}

}  // namespace

std::string TextTable::text() const {
  std::vector<std::size_t> widths;
  std::vector<bool> figures;
  for (const auto& row : rows_) {
    widths.resize(std::max(widths.size(), row.size()), 0);
    figures.resize(widths.size(), true);
    for (std::size_t i = 0; i < row.size(); ++i) {
      widths[i] = std::max(widths[i], columns(row[i]));
      if (&row != &rows_.front() && !row[i].empty()) figures[i] = figures[i] && starts_as_number(row[i]);
    }
  }
  std::string text;
  for (const auto& row : rows_) {
    std::string line = "  ";
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::string pad(widths[i] - columns(row[i]), ' ');
      line += (figures[i] && starts_as_number(row[i]) ? pad + row[i] : row[i] + pad) +
              (i + 1 < row.size() ? "  " : "");
    }
    while (!line.empty() && line.back() == ' ') line.pop_back();
    text += line + "\n";
  }
  return text;
}

std::string wrapped(const std::string& words, int indent, int width) {
  std::string text;
  std::string line(indent, ' ');
  std::size_t start = 0;
  while (start < words.size()) {
    const std::size_t end = std::min(words.find(' ', start), words.size());
    const std::string word = words.substr(start, end - start);
    const bool first = columns(line) == static_cast<std::size_t>(indent);
    if (!first && columns(line) + 1 + columns(word) > static_cast<std::size_t>(width)) {
      text += line + "\n";
      line = std::string(indent, ' ') + word;
    } else {
      line += (first ? "" : " ") + word;
    }
    start = end + 1;
  }
  return text + line + "\n";
}

Progress::Progress() : terminal_(isatty(STDERR_FILENO) != 0) {}

Progress::~Progress() {
  if (terminal_ && shown_ > 0) std::fprintf(stderr, "\r%s\r", std::string(shown_, ' ').c_str());
}

void Progress::say(const std::string& what) {
  if (!terminal_) return;
  const std::size_t now = columns(what);
  const std::string clear = shown_ > now ? std::string(shown_ - now, ' ') : "";
  std::fprintf(stderr, "\r%s%s", what.c_str(), clear.c_str());
  std::fflush(stderr);
  shown_ = now;
}

}  // namespace culmwright::command
