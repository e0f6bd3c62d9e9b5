#pragma once
/// What the program says at a terminal: tables of text that fit 80 columns where they can.
#include <string>
#include <vector>

namespace culmwright::command {

/// "12.3" with that many decimals.
std::string number(double value, int decimals);
/// "12.3 ± 0.4".
std::string with_error(double value, double sigma, int decimals);

/// Columns are as wide as their widest cell; numbers (cells that begin with a digit or a sign) stand right.
class TextTable {
 public:
  explicit TextTable(std::vector<std::string> heads) : rows_{std::move(heads)} {}
  void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  std::string text() const;

 private:
  std::vector<std::vector<std::string>> rows_;
};

/// Breaks at spaces into lines of at most `width` columns, each after `indent` spaces.
std::string wrapped(const std::string& words, int indent, int width = 80);

/// Number of code points of UTF-8 text.
std::size_t columns(const std::string& text);

/// A line of progress on standard error, where that is a terminal; nothing otherwise.
class Progress {
 public:
  Progress();
  ~Progress();
  void say(const std::string& what);

 private:
  bool terminal_;
  std::size_t shown_ = 0;
};

}  // namespace culmwright::command
