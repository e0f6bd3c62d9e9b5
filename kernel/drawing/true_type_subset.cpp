/// Cutting a small font out of a large one: glyphs renumbered in their old order, instructions left out.
#include <algorithm>

#include "drawing/true_type.hpp"

namespace culmwright {

namespace {

using Bytes = std::vector<std::uint8_t>;

constexpr std::uint32_t has_instructions = 0x0100;
constexpr std::uint32_t more_components = 0x0020;

void put16(Bytes& out, std::size_t value) {
  out.push_back(static_cast<std::uint8_t>(value >> 8 & 0xFF));
  out.push_back(static_cast<std::uint8_t>(value & 0xFF));
}
void put32(Bytes& out, std::size_t value) {
  put16(out, value >> 16);
  put16(out, value);
}
void set16(Bytes& out, std::size_t at, std::size_t value) {
  out.at(at) = static_cast<std::uint8_t>(value >> 8 & 0xFF);
  out.at(at + 1) = static_cast<std::uint8_t>(value & 0xFF);
}
void set32(Bytes& out, std::size_t at, std::size_t value) {
  set16(out, at, value >> 16);
  set16(out, at + 2, value);
}
void pad_to_four(Bytes& out) {
  while (out.size() % 4 != 0) out.push_back(0);
}

std::uint32_t checksum(const Bytes& bytes) {
  std::uint32_t sum = 0;
  for (std::size_t i = 0; i < bytes.size(); ++i)
    sum += static_cast<std::uint32_t>(bytes[i]) << (24 - 8 * (i % 4));
  return sum;
}

/// entrySelector and the two numbers around it, as binary searches in font files want them.
void put_search(Bytes& out, std::size_t count, std::size_t unit) {
  std::size_t power = 1;
  std::size_t exponent = 0;
  while (power * 2 <= count) {
    power *= 2;
    ++exponent;
  }
  put16(out, power * unit);
  put16(out, exponent);
  put16(out, (count - power) * unit);
}

/// A format 4 character table, one segment per run of characters with consecutive glyphs.
Bytes character_table(const std::map<char32_t, int>& glyph_of) {
  struct Segment {
    std::size_t first, last, glyph;
  };
  std::vector<Segment> segments;
  for (const auto& [c, glyph] : glyph_of) {
    const auto g = static_cast<std::size_t>(glyph);
    if (!segments.empty() && segments.back().last + 1 == c &&
        segments.back().glyph + c - segments.back().first == g) {
      segments.back().last = c;
    } else {
      segments.push_back({c, c, g});
    }
  }
  segments.push_back({0xFFFF, 0xFFFF, 0});
  Bytes out;
  for (std::size_t value : {0, 1, 3, 1}) put16(out, value);  // version, one subtable: Windows, Unicode BMP
  put32(out, 12);
  put16(out, 4);
  put16(out, 16 + 8 * segments.size());
  put16(out, 0);
  put16(out, 2 * segments.size());
  put_search(out, segments.size(), 2);
  for (const Segment& s : segments) put16(out, s.last);
  put16(out, 0);
  for (const Segment& s : segments) put16(out, s.first);
  for (const Segment& s : segments) put16(out, s.first == 0xFFFF ? 1 : (s.glyph + 0x10000 - s.first));
  for (std::size_t i = 0; i < segments.size(); ++i) put16(out, 0);
  return out;
}

Bytes font_file(std::map<std::string, Bytes> tables) {
  Bytes out;
  put32(out, 0x00010000);
  put16(out, tables.size());
  put_search(out, tables.size(), 16);
  std::size_t offset = 12 + 16 * tables.size();
  std::size_t head_at = 0;
  for (auto& [tag, bytes] : tables) {
    out.insert(out.end(), tag.begin(), tag.end());
    put32(out, checksum(bytes));
    put32(out, offset);
    put32(out, bytes.size());
    if (tag == "head") head_at = offset;
    pad_to_four(bytes);
    offset += bytes.size();
  }
  for (const auto& entry : tables) out.insert(out.end(), entry.second.begin(), entry.second.end());
  set32(out, head_at + 8, std::uint32_t{0xB1B0AFBA} - checksum(out));
  return out;
}

}  // namespace

Bytes TrueType::copied(const Table& from) const {
  return {data_ + from.offset, data_ + from.offset + from.size};
}

Bytes TrueType::plain_simple(Table from) const {
  const auto contours = static_cast<std::size_t>(i16(from.offset));
  const std::size_t ends = from.offset + 10 + 2 * contours;
  Bytes out(data_ + from.offset, data_ + ends);
  put16(out, 0);
  const std::size_t rest = ends + 2 + u16(ends);
  out.insert(out.end(), data_ + rest, data_ + from.offset + from.size);
  return out;
}

Bytes TrueType::plain_composite(Table from, const std::map<int, int>& renumbered) const {
  Bytes out(data_ + from.offset, data_ + from.offset + 10);
  const std::size_t end = from.offset + from.size;
  std::size_t at = from.offset + 10;
  std::uint32_t flags = more_components;
  while ((flags & more_components) != 0) {
    flags = u16(at);
    const std::size_t size = component_size(flags);
    put16(out, flags & ~has_instructions);
    put16(out, static_cast<std::size_t>(renumbered.at(static_cast<int>(u16(at + 2)))));
    if (at + size > end) return out;
    out.insert(out.end(), data_ + at + 4, data_ + at + size);
    at += size;
  }
  return out;
}

Bytes TrueType::plain_outline(int glyph, const std::map<int, int>& renumbered) const {
  const Table from = outline(glyph);
  if (from.size < 12) return {};
  Bytes out = i16(from.offset) >= 0 ? plain_simple(from) : plain_composite(from, renumbered);
  pad_to_four(out);
  return out;
}

/// The English names that identify the font, and its copyright notice, which has to travel with it.
Bytes TrueType::english_names() const {
  const Table& from = table("name");
  const std::size_t strings = from.offset + u16(from.offset + 4);
  Bytes records;
  Bytes text;
  std::size_t count = 0;
  for (std::uint32_t i = 0; i < u16(from.offset + 2); ++i) {
    const std::size_t at = from.offset + 6 + 12 * static_cast<std::size_t>(i);
    const std::uint32_t id = u16(at + 6);
    if (u16(at) != 3 || u16(at + 4) != 0x0409 || (id > 6 && id != 14)) continue;
    const std::size_t size = u16(at + 8);
    const std::size_t where = strings + u16(at + 10);
    records.insert(records.end(), data_ + at, data_ + at + 8);
    put16(records, size);
    put16(records, text.size());
    text.insert(text.end(), data_ + where, data_ + where + size);
    ++count;
  }
  Bytes out;
  put16(out, 0);
  put16(out, count);
  put16(out, 6 + 12 * count);
  out.insert(out.end(), records.begin(), records.end());
  out.insert(out.end(), text.begin(), text.end());
  return out;
}

Bytes TrueType::subset(const std::set<char32_t>& characters) const {
  std::vector<int> wanted{0};
  for (char32_t c : characters) {
    if (c < 0xFFFF && has(c)) wanted.push_back(glyph(c));
  }
  const std::vector<int> kept = with_components(wanted);
  std::map<int, int> renumbered;
  for (int old : kept) renumbered.emplace(old, static_cast<int>(renumbered.size()));

  Bytes glyf;
  Bytes loca;
  Bytes metrics;
  for (int old : kept) {
    put32(loca, glyf.size());
    const Bytes plain = plain_outline(old, renumbered);
    glyf.insert(glyf.end(), plain.begin(), plain.end());
    put16(metrics, static_cast<std::size_t>(advance(old)));
    put16(metrics, static_cast<std::size_t>(bounds(old).x_min & 0xFFFF));
  }
  put32(loca, glyf.size());

  std::map<char32_t, int> glyph_of;
  for (char32_t c : characters) {
    if (c < 0xFFFF && has(c)) glyph_of[c] = renumbered.at(glyph(c));
  }
  Bytes head = copied(table("head"));
  set32(head, 8, 0);
  set16(head, 50, 1);  // long offsets in loca
  Bytes hhea = copied(table("hhea"));
  set16(hhea, 34, kept.size());
  Bytes maxp = copied(table("maxp"));
  set16(maxp, 4, kept.size());
  for (std::size_t at = 14; at <= 26; at += 2) set16(maxp, at, at == 14 ? 2 : 0);  // no instructions
  Bytes post(32, 0);
  set32(post, 0, 0x00030000);  // no glyph names
  const Bytes old_post = copied(table("post"));
  std::copy(old_post.begin() + 4, old_post.begin() + 16, post.begin() + 4);
  return font_file({{"OS/2", copied(table("OS/2"))},
                    {"cmap", character_table(glyph_of)},
                    {"glyf", glyf},
                    {"head", head},
                    {"hhea", hhea},
                    {"hmtx", metrics},
                    {"loca", loca},
                    {"maxp", maxp},
                    {"name", english_names()},
                    {"post", post}});
}

}  // namespace culmwright
