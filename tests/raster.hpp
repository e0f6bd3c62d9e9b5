#pragma once
/// Reads the pixels of a PNG file (W3C PNG, second edition; RFC 1950 and 1951): 8 bits a channel, RGB or
/// RGBA, not interlaced, which is what rsvg-convert writes.
#include <array>
#include <cctype>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

namespace culmwright::test {

/// The bit stream of RFC 1951.
class Inflate {
 public:
  explicit Inflate(std::vector<std::uint8_t> in) : in_(std::move(in)) {}

  std::vector<std::uint8_t> all() {
    bool last = false;
    while (!last) {
      last = bits(1) == 1;
      const unsigned kind = bits(2);
      if (kind == 0)
        stored();
      else if (kind == 1)
        compressed(fixed_literals(), Codes(std::vector<std::uint8_t>(30, 5)));
      else if (kind == 2)
        dynamic();
      else
        throw std::runtime_error("deflate: unknown block");
    }
    return out_;
  }

 private:
  /// Canonical Huffman codes from their lengths.
  struct Codes {
    explicit Codes(const std::vector<std::uint8_t>& lengths) {
      for (std::uint8_t length : lengths) ++count[length];
      count[0] = 0;
      std::array<unsigned, 17> start{};
      for (unsigned i = 1; i < 16; ++i) start[i + 1] = start[i] + count[i];
      symbols.resize(lengths.size());
      for (unsigned s = 0; s < lengths.size(); ++s) {
        if (lengths[s] != 0) symbols[start[lengths[s]]++] = s;
      }
    }
    std::array<unsigned, 16> count{};
    std::vector<unsigned> symbols;
  };

  unsigned bits(unsigned n) {
    unsigned value = 0;
    for (unsigned i = 0; i < n; ++i, ++at_) value |= (in_.at(at_ / 8) >> (at_ % 8) & 1U) << i;
    return value;
  }
  unsigned symbol(const Codes& codes) {
    unsigned code = 0;
    unsigned first = 0;
    unsigned index = 0;
    for (unsigned length = 1; length < 16; ++length) {
      code |= bits(1);
      if (code < first + codes.count[length]) return codes.symbols.at(index + code - first);
      index += codes.count[length];
      first = (first + codes.count[length]) << 1U;
      code <<= 1U;
    }
    throw std::runtime_error("deflate: no such code");
  }
  static Codes fixed_literals() {
    std::vector<std::uint8_t> lengths(288, 8);
    for (unsigned i = 144; i < 256; ++i) lengths[i] = 9;
    for (unsigned i = 256; i < 280; ++i) lengths[i] = 7;
    return Codes(lengths);
  }
  void stored() {
    at_ = (at_ + 7) / 8 * 8;
    const unsigned size = bits(16);
    bits(16);
    for (unsigned i = 0; i < size; ++i) out_.push_back(static_cast<std::uint8_t>(bits(8)));
  }
  void dynamic() {
    static constexpr std::array<unsigned, 19> order{16, 17, 18, 0, 8,  7, 9,  6, 10, 5,
                                                    11, 4,  12, 3, 13, 2, 14, 1, 15};
    const unsigned literals = bits(5) + 257;
    const unsigned distances = bits(5) + 1;
    const unsigned count = bits(4) + 4;
    std::vector<std::uint8_t> lengths(19, 0);
    for (unsigned i = 0; i < count; ++i) lengths[order[i]] = static_cast<std::uint8_t>(bits(3));
    const Codes codes(lengths);
    std::vector<std::uint8_t> all;
    while (all.size() < literals + distances) {
      const unsigned s = symbol(codes);
      if (s < 16)
        all.push_back(static_cast<std::uint8_t>(s));
      else if (s == 16)
        all.insert(all.end(), 3 + bits(2), std::uint8_t{all.back()});
      else
        all.insert(all.end(), s == 17 ? 3 + bits(3) : 11 + bits(7), 0);
    }
    compressed(Codes({all.begin(), all.begin() + literals}), Codes({all.begin() + literals, all.end()}));
  }
  void compressed(const Codes& literals, const Codes& distances) {
    static constexpr std::array<unsigned, 29> length_base{3,  4,  5,  6,   7,   8,   9,   10,  11, 13,
                                                          15, 17, 19, 23,  27,  31,  35,  43,  51, 59,
                                                          67, 83, 99, 115, 131, 163, 195, 227, 258};
    for (;;) {
      const unsigned s = symbol(literals);
      if (s == 256) return;
      if (s < 256) {
        out_.push_back(static_cast<std::uint8_t>(s));
        continue;
      }
      const unsigned l = s - 257;
      const unsigned length = length_base.at(l) + (l < 8 || l == 28 ? 0 : bits(l / 4 - 1));
      const unsigned d = symbol(distances);
      const unsigned back = d < 4 ? d + 1 : ((2U + d % 2) << (d / 2 - 1)) + 1 + bits(d / 2 - 1);
      for (unsigned i = 0; i < length; ++i) out_.push_back(std::uint8_t{out_.at(out_.size() - back)});
    }
  }

  std::vector<std::uint8_t> in_;
  std::size_t at_ = 0;
  std::vector<std::uint8_t> out_;
};

struct Raster {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> grey;  ///< 0 black … 255 white, row by row

  int at(int x, int y) const {
    return grey.at(static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                   static_cast<std::size_t>(x));
  }
};

inline Raster read_png(const std::string& bytes) {
  const auto u32 = [&](std::size_t at) {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<std::uint8_t>(bytes.at(at + i));
    return value;
  };
  Raster raster{static_cast<int>(u32(16)), static_cast<int>(u32(20)), {}};
  const std::size_t channels = bytes.at(25) == 6 ? 4 : 3;
  if (bytes.at(24) != 8 || bytes.at(28) != 0) throw std::runtime_error("png: not 8 bit, or interlaced");
  std::vector<std::uint8_t> packed;
  for (std::size_t at = 8; at + 12 <= bytes.size(); at += 12 + u32(at)) {
    if (bytes.compare(at + 4, 4, "IDAT") != 0) continue;
    for (std::size_t i = 0; i < u32(at); ++i) packed.push_back(static_cast<std::uint8_t>(bytes[at + 8 + i]));
  }
  packed.erase(packed.begin(), packed.begin() + 2);  // RFC 1950 header
  std::vector<std::uint8_t> rows = Inflate(packed).all();
  const std::size_t stride = static_cast<std::size_t>(raster.width) * channels;
  const auto paeth = [](int a, int b, int c) {
    const int p = a + b - c;
    const int pa = std::abs(p - a);
    const int pb = std::abs(p - b);
    const int pc = std::abs(p - c);
    return pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
  };
  for (std::size_t y = 0; y < static_cast<std::size_t>(raster.height); ++y) {
    const std::size_t row = y * (stride + 1);
    for (std::size_t i = 0; i < stride; ++i) {
      const int a = i >= channels ? rows[row + 1 + i - channels] : 0;
      const int b = y > 0 ? rows[row - stride + i] : 0;
      const int c = i >= channels && y > 0 ? rows[row - stride + i - channels] : 0;
      const int guess[] = {0, a, b, (a + b) / 2, paeth(a, b, c)};
      rows[row + 1 + i] = static_cast<std::uint8_t>(rows[row + 1 + i] + guess[rows[row]]);
    }
    for (std::size_t x = 0; x < static_cast<std::size_t>(raster.width); ++x) {
      const std::uint8_t* pixel = &rows[row + 1 + x * channels];
      raster.grey.push_back(static_cast<std::uint8_t>((pixel[0] + pixel[1] + pixel[2]) / 3));
    }
  }
  return raster;
}

/// Netpbm's binary grey map, 8 bits (its specification: "P5", width, height, greatest value, one white
/// space).
inline Raster read_pgm(const std::string& bytes) {
  std::size_t at = 0;
  const auto word = [&] {
    while (std::isspace(static_cast<unsigned char>(bytes.at(at)))) ++at;
    std::string found;
    while (!std::isspace(static_cast<unsigned char>(bytes.at(at)))) found += bytes[at++];
    return found;
  };
  if (word() != "P5") throw std::runtime_error("pgm: no binary grey map");
  Raster raster;
  raster.width = std::stoi(word());
  raster.height = std::stoi(word());
  if (word() != "255") throw std::runtime_error("pgm: not 8 bit");
  raster.grey.assign(bytes.begin() + static_cast<std::ptrdiff_t>(at) + 1, bytes.end());
  return raster;
}

/// Dark length of a row or a column between two pixels, in pixels, by coverage: finer than a pixel where the
/// renderer smooths edges.
inline double ink_along_row(const Raster& raster, int y, int from, int to) {
  double sum = 0.0;
  for (int x = from; x < to; ++x) sum += (255.0 - raster.at(x, y)) / 255.0;
  return sum;
}
inline double ink_along_column(const Raster& raster, int x, int from, int to) {
  double sum = 0.0;
  for (int y = from; y < to; ++y) sum += (255.0 - raster.at(x, y)) / 255.0;
  return sum;
}

}  // namespace culmwright::test
