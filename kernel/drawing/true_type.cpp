#include "drawing/true_type.hpp"

#include <algorithm>
#include <stdexcept>

namespace culmwright {

namespace {

constexpr std::uint32_t more_components = 0x0020;

}  // namespace

std::u32string decode_utf8(std::string_view text) {
  std::u32string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const int more = lead < 0x80                   ? 0
                     : lead >= 0xF0 && lead < 0xF5 ? 3
                     : lead >= 0xE0                ? 2
                     : lead >= 0xC2                ? 1
                                                   : -1;
    char32_t value = more <= 0 ? lead : lead & (0x3F >> more);
    bool good = more >= 0 && lead < 0xF5 && i + static_cast<std::size_t>(std::max(more, 0)) < text.size();
    for (int k = 1; good && k <= more; ++k) {
      const auto next = static_cast<unsigned char>(text[i + static_cast<std::size_t>(k)]);
      good = (next & 0xC0) == 0x80;
      value = (value << 6) | (next & 0x3F);
    }
    out.push_back(good ? value : U'\uFFFD');
    i += good ? static_cast<std::size_t>(more) + 1 : 1;
  }
  return out;
}

std::string encode_utf8(std::u32string_view text) {
  std::string out;
  for (char32_t c : text) {
    if (c < 0x20 || c == 0xFFFE || c == 0xFFFF || (c >= 0xD800 && c < 0xE000) || c > 0x10FFFF) c = 0xFFFD;
    if (c < 0x80) {
      out += static_cast<char>(c);
      continue;
    }
    const int more = c < 0x800 ? 1 : c < 0x10000 ? 2 : 3;
    const unsigned lead = more == 1 ? 0xC0U : more == 2 ? 0xE0U : 0xF0U;
    out += static_cast<char>(lead | c >> 6 * more);
    for (int k = more - 1; k >= 0; --k) out += static_cast<char>(0x80 | (c >> 6 * k & 0x3F));
  }
  return out;
}

TrueType::TrueType(const unsigned char* data, std::size_t size) : data_(data), size_(size) {
  const std::uint32_t count = u16(4);
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::size_t at = 12 + 16 * static_cast<std::size_t>(i);
    std::string tag;
    for (std::size_t k = 0; k < 4; ++k) tag.push_back(static_cast<char>(u8(at + k)));
    tables_[tag] = {u32(at + 8), u32(at + 12)};
  }
  for (const auto& [tag, where] : tables_) {
    if (where.offset + where.size > size_) throw std::runtime_error("font: table " + tag + " is cut off");
  }
  units_per_em_ = static_cast<int>(u16(table("head").offset + 18));
  long_loca_ = u16(table("head").offset + 50) != 0;
  glyph_count_ = static_cast<int>(u16(table("maxp").offset + 4));
  long_metrics_ = static_cast<int>(u16(table("hhea").offset + 34));
  read_characters();
}

std::uint32_t TrueType::u8(std::size_t at) const {
  if (at >= size_) throw std::runtime_error("font: read past the end");
  return data_[at];
}
std::uint32_t TrueType::u16(std::size_t at) const {
  return u8(at) << 8 | u8(at + 1);
}
int TrueType::i16(std::size_t at) const {
  return static_cast<std::int16_t>(u16(at));
}
std::uint32_t TrueType::u32(std::size_t at) const {
  return u16(at) << 16 | u16(at + 2);
}

const TrueType::Table& TrueType::table(const std::string& tag) const {
  const auto found = tables_.find(tag);
  if (found == tables_.end()) throw std::runtime_error("font: no table " + tag);
  return found->second;
}

void TrueType::read_characters() {
  const std::size_t cmap = table("cmap").offset;
  for (std::uint32_t i = 0; i < u16(cmap + 2); ++i) {
    const std::size_t record = cmap + 4 + 8 * static_cast<std::size_t>(i);
    const std::size_t at = cmap + u32(record + 4);
    const bool unicode =
        u16(record) == 0 || (u16(record) == 3 && (u16(record + 2) == 1 || u16(record + 2) == 10));
    if (unicode && u16(at) == 4) read_format_4(at);
    if (unicode && u16(at) == 12) read_format_12(at);
  }
}

void TrueType::read_format_4(std::size_t at) {
  const std::size_t segments = u16(at + 6) / 2;
  for (std::size_t s = 0; s < segments; ++s) {
    const std::uint32_t last = u16(at + 14 + 2 * s);
    const std::uint32_t first = u16(at + 16 + 2 * segments + 2 * s);
    const std::uint32_t delta = u16(at + 16 + 4 * segments + 2 * s);
    const std::size_t range_at = at + 16 + 6 * segments + 2 * s;
    const std::uint32_t range = u16(range_at);
    for (std::uint32_t c = first; c <= last && c != 0xFFFF; ++c) {
      std::uint32_t glyph = range == 0 ? c : u16(range_at + range + 2 * (c - first));
      if (range == 0 || glyph != 0) glyph = (glyph + delta) & 0xFFFF;
      if (glyph != 0) glyphs_[c] = static_cast<int>(glyph);
    }
  }
}

void TrueType::read_format_12(std::size_t at) {
  for (std::uint32_t i = 0; i < u32(at + 12); ++i) {
    const std::size_t group = at + 16 + 12 * static_cast<std::size_t>(i);
    for (std::uint32_t c = u32(group); c <= u32(group + 4) && c <= 0x10FFFF; ++c) {
      glyphs_[c] = static_cast<int>(u32(group + 8) + c - u32(group));
    }
  }
}

int TrueType::glyph(char32_t character) const {
  const auto found = glyphs_.find(character);
  return found == glyphs_.end() || found->second >= glyph_count_ ? 0 : found->second;
}

int TrueType::advance(int glyph) const {
  const std::size_t row = static_cast<std::size_t>(std::min(glyph, long_metrics_ - 1));
  return static_cast<int>(u16(table("hmtx").offset + 4 * row));
}

TrueType::Table TrueType::outline(int glyph) const {
  const std::size_t loca = table("loca").offset;
  const auto i = static_cast<std::size_t>(glyph);
  const std::size_t from = long_loca_ ? u32(loca + 4 * i) : 2 * u16(loca + 2 * i);
  const std::size_t to = long_loca_ ? u32(loca + 4 * i + 4) : 2 * u16(loca + 2 * i + 2);
  return {table("glyf").offset + from, to - from};
}

std::size_t TrueType::component_size(std::uint32_t flags) {
  const bool arguments_are_words = (flags & 0x0001) != 0;
  const bool has_scale = (flags & 0x0008) != 0;
  const bool has_two_scales = (flags & 0x0040) != 0;
  const bool has_matrix = (flags & 0x0080) != 0;
  return 4 + (arguments_are_words ? 4U : 2U) + (has_scale ? 2U : 0U) + (has_two_scales ? 4U : 0U) +
         (has_matrix ? 8U : 0U);
}

TrueType::Bounds TrueType::bounds(int glyph) const {
  const Table at = outline(glyph);
  if (at.size < 10) return {};
  return {i16(at.offset + 2), i16(at.offset + 4), i16(at.offset + 6), i16(at.offset + 8)};
}

std::set<char32_t> TrueType::characters() const {
  std::set<char32_t> all;
  for (const auto& entry : glyphs_) all.insert(entry.first);
  return all;
}

std::vector<int> TrueType::components(int glyph) const {
  std::vector<int> parts;
  const Table from = outline(glyph);
  if (from.size < 10 || i16(from.offset) >= 0) return parts;
  std::uint32_t flags = more_components;
  for (std::size_t at = from.offset + 10; (flags & more_components) != 0; at += component_size(flags)) {
    flags = u16(at);
    parts.push_back(static_cast<int>(u16(at + 2)));
  }
  return parts;
}

std::vector<int> TrueType::with_components(std::vector<int> glyphs) const {
  std::set<int> all(glyphs.begin(), glyphs.end());
  for (std::size_t i = 0; i < glyphs.size(); ++i) {
    for (int part : components(glyphs[i])) {
      if (all.insert(part).second) glyphs.push_back(part);
    }
  }
  return {all.begin(), all.end()};
}

}  // namespace culmwright
