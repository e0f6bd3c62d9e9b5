#include "paper/plate_sheet.hpp"

#include <catch2/catch.hpp>

#include "page_checks.hpp"

using namespace culmwright;
using namespace culmwright::test;

TEST_CASE("the plates' instructions keep their margin, and no word meets another or a line") {
  for (PaperSize paper : {PaperSize::a4, PaperSize::letter, PaperSize::a3}) {
    for (const auto& [flats, across] :
         {std::pair{8, 60.0}, {12, 63.0}, {14, 60.0}, {16, 60.0}, {64, 131.0}}) {
      const Drawing drawing = plate_instructions("a-long-name-of-a-piece-0123", flats, across, paper);
      REQUIRE(drawing.pages.size() == 1);
      check_page(drawing.pages[0], 10.0);
    }
  }
}

TEST_CASE("the scribing block's height is half the across-flats, and the quarter flats are named") {
  const Page page = plate_instructions("piece", 16, 63.0, PaperSize::a4).pages[0];
  CHECK(count_words(page, "31.5") == 1);
  for (const char* flat : {"flat 4", "flat 8", "flat 12"}) CHECK(count_words(page, flat) == 1);
  CHECK(count_words(plate_instructions("piece", 14, 60.0, PaperSize::a4).pages[0], "flat 4") == 0);
}
