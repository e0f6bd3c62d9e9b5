#pragma once
/// A TrueType font read from memory: the measures of its glyphs, and small fonts cut out of it.
///
/// Format: OpenType specification 1.9 (ISO/IEC 14496-22), tables head, hhea, maxp, hmtx, loca, glyf, cmap
/// (formats 4 and 12 read, 4 written), name, OS/2, post. Outlines of the `glyf` kind only. Hinting
/// instructions, kerning and ligatures are neither used nor kept: a line of text is as wide as the sum of its
/// advances.
#include <cstddef>
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace culmwright {

/// Text as code points; a byte that is not UTF-8 becomes U+FFFD.
std::u32string decode_utf8(std::string_view text);
/// The other way, for files: control characters, surrogates and what is no character become U+FFFD.
std::string encode_utf8(std::u32string_view text);

class TrueType {
 public:
  /// In font units, y up, relative to the glyph's origin on the baseline. Empty glyphs (space) are all zero.
  struct Bounds {
    int x_min = 0;
    int y_min = 0;
    int x_max = 0;
    int y_max = 0;
  };

  /// `data` is kept by reference. Throws std::runtime_error when a table is missing or runs past the end.
  TrueType(const unsigned char* data, std::size_t size);

  int units_per_em() const { return units_per_em_; }
  int glyph_count() const { return glyph_count_; }
  /// Glyph 0, the empty box, for a character that the font does not have.
  int glyph(char32_t character) const;
  bool has(char32_t character) const { return glyph(character) != 0; }
  int advance(int glyph) const;
  Bounds bounds(int glyph) const;
  /// Every character that the font has.
  std::set<char32_t> characters() const;

  /// A complete font file with these characters (those it has), their components and glyph 0; the same bytes
  /// for the same input. Measures and outlines are unchanged.
  std::vector<std::uint8_t> subset(const std::set<char32_t>& characters) const;

 private:
  struct Table {
    std::size_t offset = 0;
    std::size_t size = 0;
  };
  std::uint32_t u8(std::size_t at) const;
  std::uint32_t u16(std::size_t at) const;
  int i16(std::size_t at) const;
  std::uint32_t u32(std::size_t at) const;
  const Table& table(const std::string& tag) const;
  Table outline(int glyph) const;
  /// Bytes of one component record of a composite glyph, by its flags.
  static std::size_t component_size(std::uint32_t flags);
  void read_characters();
  void read_format_4(std::size_t at);
  void read_format_12(std::size_t at);
  std::vector<int> with_components(std::vector<int> glyphs) const;
  std::vector<int> components(int glyph) const;
  std::vector<std::uint8_t> copied(const Table& from) const;
  std::vector<std::uint8_t> plain_outline(int glyph, const std::map<int, int>& renumbered) const;
  std::vector<std::uint8_t> plain_simple(Table from) const;
  std::vector<std::uint8_t> plain_composite(Table from, const std::map<int, int>& renumbered) const;
  std::vector<std::uint8_t> english_names() const;

  const unsigned char* data_;
  std::size_t size_;
  std::map<std::string, Table> tables_;
  std::map<char32_t, int> glyphs_;
  int units_per_em_ = 0;
  int glyph_count_ = 0;
  int long_metrics_ = 0;
  bool long_loca_ = false;
};

}  // namespace culmwright
