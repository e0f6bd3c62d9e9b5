#include <catch2/catch.hpp>

#include "drawing/drawing.hpp"
#include "drawing/true_type.hpp"
#include "programs.hpp"
#include "raster.hpp"
#include "svg.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

std::set<char32_t> characters_of(const std::u32string& text) {
  return {text.begin(), text.end()};
}

/// Left, right, top and bottom of what is darker than half grey, in pixels; right and bottom exclusive.
struct InkArea {
  int left = 1 << 30, right = 0, top = 1 << 30, bottom = 0;
};
InkArea ink_of(const Raster& raster) {
  InkArea ink;
  for (int y = 0; y < raster.height; ++y) {
    for (int x = 0; x < raster.width; ++x) {
      if (raster.at(x, y) >= 128) continue;
      ink.left = std::min(ink.left, x);
      ink.right = std::max(ink.right, x + 1);
      ink.top = std::min(ink.top, y);
      ink.bottom = std::max(ink.bottom, y + 1);
    }
  }
  return ink;
}

Raster rendered(const Page& page, int pixels_per_mm, const std::string& environment = "") {
  need_program("rsvg-convert", "librsvg2-bin");
  TemporaryFolder folder;
  write_file(folder.file("page.svg"), to_svg(page));
  const Ran ran = run(environment + " rsvg-convert -b white -w " +
                      std::to_string(static_cast<int>(page.width) * pixels_per_mm) + " -o " +
                      folder.file("page.png") + " " + folder.file("page.svg"));
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  return read_png(read_file(folder.file("page.png")));
}

}  // namespace

TEST_CASE("a text's height is the height of its capitals") {
  for (Weight weight : {Weight::regular, Weight::bold}) {
    CHECK(text_extent("H", 5.0, weight).above == Approx(5.0).epsilon(1e-12));
    CHECK(text_extent("HIE", 2.5, weight).above == Approx(2.5).epsilon(1e-12));
    CHECK(text_extent("H", 5.0, weight).below == 0.0);
    CHECK(text_extent("g", 5.0, weight).below > 1.0);
  }
}

TEST_CASE("a text is as wide as the sum of its advances, whatever its letters") {
  const double one = text_extent("AVATAR", 3.5, Weight::regular).width;
  double sum = 0.0;
  for (const char* letter : {"A", "V", "A", "T", "A", "R"})
    sum += text_extent(letter, 3.5, Weight::regular).width;
  CHECK(one == Approx(sum).epsilon(1e-12));
  CHECK(text_extent("", 3.5, Weight::regular).width == 0.0);
  CHECK(text_extent("Ø ° ± – Ł Ж", 3.5, Weight::bold).width > 10.0);
}

TEST_CASE("bytes that are no UTF-8 become replacement characters, one each") {
  CHECK(decode_utf8("a\xC3\xA9z") == U"a\u00E9z");
  CHECK(decode_utf8("a\xC3z") == U"a\uFFFDz");
  CHECK(decode_utf8("\xF0\x9F\x8E\xB7") == U"\U0001F3B7");
  CHECK(decode_utf8("\x80\xFF") == U"\uFFFD\uFFFD");
}

TEST_CASE("a font cut down to some characters measures each of them as the whole font does") {
  const std::u32string text = U"PLAYER'S LEFT R12 Ågé";  // Å and é are made of parts
  for (Weight weight : {Weight::regular, Weight::bold}) {
    const std::vector<std::uint8_t> small_file = font_file_for(characters_of(text), weight);
    const std::vector<std::uint8_t> large_file = font_file_for(
        characters_of(text + U"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"), weight);
    const TrueType few(small_file.data(), small_file.size());
    const TrueType many(large_file.data(), large_file.size());
    CHECK(small_file.size() < 8000);
    CHECK(few.characters() == characters_of(text));
    for (char32_t c : text) {
      CHECK(few.advance(few.glyph(c)) == many.advance(many.glyph(c)));
      CHECK(few.bounds(few.glyph(c)).y_max == many.bounds(many.glyph(c)).y_max);
      CHECK(few.bounds(few.glyph(c)).x_min == many.bounds(many.glyph(c)).x_min);
    }
    CHECK_FALSE(few.has(U'w'));
  }
}

TEST_CASE("a font that ends too early is refused") {
  std::vector<std::uint8_t> file = font_file_for({U'a'}, Weight::regular);
  file.resize(file.size() / 2);
  CHECK_THROWS_AS(TrueType(file.data(), file.size()), std::runtime_error);
}

TEST_CASE("the font library reads the cut-down font: name, weight and characters") {
  // An independent reader: fontconfig's fc-scan, over FreeType.
  need_program("fc-scan", "fontconfig");
  TemporaryFolder folder;
  const std::vector<std::uint8_t> file = font_file_for(characters_of(U"ABC\u00C5"), Weight::bold);
  write_file(folder.file("few.ttf"), std::string(file.begin(), file.end()));
  const Ran ran = run("fc-scan --format '%{family}|%{style}|%{charset}' " + folder.file("few.ttf"));
  INFO(ran.output);
  CHECK(ran.code == 0);
  CHECK(ran.output.find("DejaVu Sans Condensed") != std::string::npos);
  CHECK(ran.output.find("Bold") != std::string::npos);
  CHECK(ran.output.find("41-43 c5") != std::string::npos);
}

TEST_CASE("drawn by another program with the cut-down font alone, a text fills its measured box") {
  Page page;
  page.width = 80.0;
  page.height = 20.0;
  // No pair that kerning moves; the first and last letters' side bearings are under 0.1 em.
  const Text text{{5.0, 12.0}, "HINHEIMH", 5.0, Anchor::start, {}, Weight::regular, Ink::black};
  page.group("text").items.push_back(text);
  TemporaryFolder folder;
  const std::vector<std::uint8_t> file = font_file_for(characters_of(U"HINEM"), Weight::regular);
  write_file(folder.file("few.ttf"), std::string(file.begin(), file.end()));
  write_file(folder.file("fonts.conf"),
             "<?xml version=\"1.0\"?><!DOCTYPE fontconfig SYSTEM \"fonts.dtd\"><fontconfig><dir>" +
                 folder.file("") + "</dir><cachedir>" + folder.file("cache") + "</cachedir></fontconfig>");
  const InkArea alone = ink_of(rendered(page, 20, "FONTCONFIG_FILE=" + folder.file("fonts.conf")));
  const Box box = bounds(text_box(text));
  const double bearing = 0.1 * font_size(5.0);
  CHECK(alone.top / 20.0 == Approx(box.top).margin(0.06));
  CHECK(alone.bottom / 20.0 == Approx(box.bottom).margin(0.06));
  CHECK(alone.left / 20.0 == Approx(box.left + 0.5 * bearing).margin(0.6 * bearing));
  CHECK(alone.right / 20.0 == Approx(box.right - 0.5 * bearing).margin(0.6 * bearing));
}

TEST_CASE("wrapped text keeps its words and its width") {
  const std::string text = "Lay a steel rule on both bars: each must read 100 mm.";
  std::string joined;
  for (const std::string& line : wrapped(text, 2.5, Weight::regular, 30.0)) {
    CHECK(text_extent(line, 2.5, Weight::regular).width <= 30.0);
    joined += (joined.empty() ? "" : " ") + line;
  }
  CHECK(joined == text);
}
