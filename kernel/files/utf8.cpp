#include "files/utf8.hpp"

#include <algorithm>

namespace culmwright::files {

std::size_t utf8_length(std::string_view text, std::size_t offset) {
  const auto byte = [&](std::size_t i) {
    return offset + i < text.size() ? static_cast<unsigned char>(text[offset + i]) : 0u;
  };
  const auto continues = [&](std::size_t i) { return (byte(i) & 0xC0u) == 0x80u; };
  const unsigned first = byte(0);
  if (offset >= text.size()) return 0;
  if (first < 0x80u) return 1;
  if (first >= 0xC2u && first <= 0xDFu) return continues(1) ? 2 : 0;
  if (first >= 0xE0u && first <= 0xEFu) {
    // No overlong forms (E0 80…9F) and no surrogates (ED A0…BF).
    const bool second = (first != 0xE0u || byte(1) >= 0xA0u) && (first != 0xEDu || byte(1) <= 0x9Fu);
    return second && continues(1) && continues(2) ? 3 : 0;
  }
  if (first >= 0xF0u && first <= 0xF4u) {
    const bool second = (first != 0xF0u || byte(1) >= 0x90u) && (first != 0xF4u || byte(1) <= 0x8Fu);
    return second && continues(1) && continues(2) && continues(3) ? 4 : 0;
  }
  return 0;
}

std::optional<std::size_t> first_bad_byte(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_length(text, i);
    const unsigned char c = static_cast<unsigned char>(text[i]);
    if (length == 0 || c == 0x7f || (c < 0x20 && c != '\t' && c != '\n' && c != '\r')) return i;
    i += length;
  }
  return std::nullopt;
}

LineColumn LineCounter::at(std::size_t offset) {
  offset = std::min(offset, text_.size());
  if (offset < offset_) {
    offset_ = 0;
    place_ = {};
  }
  for (; offset_ < offset; ++offset_) {
    if (text_[offset_] == '\n') {
      ++place_.line;
      place_.column = 1;
    } else if ((text_[offset_] & 0xC0) != 0x80) {
      ++place_.column;
    }
  }
  return place_;
}

}  // namespace culmwright::files
