#pragma once
/// Text as bytes: UTF-8 (RFC 3629) and places in it.
#include <cstddef>
#include <optional>
#include <string_view>

namespace culmwright::files {

/// Bytes of the well-formed UTF-8 character that starts at `offset`; 0 when there is none.
std::size_t utf8_length(std::string_view text, std::size_t offset);

/// The first byte that no document may hold: ill-formed UTF-8, or a control character other than tab, line
/// feed and carriage return.
std::optional<std::size_t> first_bad_byte(std::string_view text);

/// Line and column, both from 1; a column is one character, however many bytes it takes.
struct LineColumn {
  int line = 1;
  int column = 1;
};

/// Turns offsets into lines and columns. Offsets that never decrease cost one pass over the text altogether.
class LineCounter {
 public:
  explicit LineCounter(std::string_view text) : text_(text) {}
  LineColumn at(std::size_t offset);

 private:
  std::string_view text_;
  std::size_t offset_ = 0;
  LineColumn place_;
};

}  // namespace culmwright::files
