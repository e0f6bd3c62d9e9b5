#include <catch2/catch.hpp>
#include <regex>

#include "base/problem.hpp"
#include "paper/page_checks.hpp"
#include "sample_sheets.hpp"
#include "sheet/sheet_pages.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

int pages_with(const Drawing& drawing, const std::string& words) {
  int count = 0;
  for (const Page& page : drawing.pages) count += count_words(page, words) > 0 ? 1 : 0;
  return count;
}

/// The page on which a line of text stands; −1: on none, −2: on several.
int page_of(const Drawing& drawing, const std::string& words) {
  int found = -1;
  for (std::size_t i = 0; i < drawing.pages.size(); ++i) {
    if (count_words(drawing.pages[i], words) == 0) continue;
    found = found == -1 ? static_cast<int>(i) : -2;
  }
  return found;
}

}  // namespace

TEST_CASE("a sheet stands within its margins, no word on a word or line, on A4 and Letter") {
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter, PaperSize::a3}) {
    for (const double margin : {10.0, 18.0}) {
      const Drawing drawing = sheet_pages(sample_sheet(), paper, margin);
      const SheetSize size = sheet_size(paper, Orientation::portrait);
      for (const Page& page : drawing.pages) {
        CHECK(page.width == size.width);
        CHECK(page.height == size.height);
        check_page(page, margin);
      }
    }
  }
}

TEST_CASE("every page says which it is and of how many, and what it belongs to") {
  const Drawing drawing = sheet_pages(sample_sheet(), PaperSize::a4, 10.0);
  const std::size_t count = drawing.pages.size();
  REQUIRE(count > 4);
  for (std::size_t i = 0; i < count; ++i) {
    const Page& page = drawing.pages[i];
    CHECK(count_words(page, "sheet " + std::to_string(i + 1) + " of " + std::to_string(count)) == 1);
    CHECK(count_words(page, "culm-99, whistle & \"drone\", revision 4") == 1);
    CHECK(count_words(page, "DRAFT") >= 1);
  }
  CHECK(group_of(drawing.pages.front(), "title-block") != nullptr);
}

TEST_CASE("a table that goes over pages repeats its heads, and every row stands once and whole") {
  const Drawing drawing = sheet_pages(sample_sheet(), PaperSize::a4, 10.0);
  int pages_of_rows = 0;
  const std::regex row_name("row[0-9]+");
  for (const Page& page : drawing.pages) {
    bool rows = false;
    for (const Text& text : texts_of(page)) rows = rows || std::regex_match(text.words, row_name);
    if (!rows) continue;
    ++pages_of_rows;
    CHECK(count_words(page, "Figure") == 1);
  }
  CHECK(pages_of_rows >= 2);
  CHECK(pages_with(drawing, "A table longer than a page") == 1);
  for (int i = 1; i <= 70; ++i) CHECK(page_of(drawing, "row" + std::to_string(i)) >= 0);
  // A row in three lines: first and last stand on one page.
  const int page = page_of(drawing, "row7");
  bool last_line = false;
  for (const Text& text : texts_of(drawing.pages[static_cast<std::size_t>(page)])) {
    last_line = last_line || text.words.find("in one") != std::string::npos;
  }
  CHECK(last_line);
}

TEST_CASE("a step is never cut: heading, picture, caution and lines stand on one page") {
  const Drawing drawing = sheet_pages(sample_sheet(), PaperSize::letter, 10.0);
  for (int i = 1; i <= 6; ++i) {
    const int page = page_of(drawing, "Work number " + std::to_string(i));
    REQUIRE(page >= 0);
    for (int k = 1; k <= 3 * i; ++k) {
      CHECK(page_of(drawing, "H" + std::to_string(i) + "-" + std::to_string(k)) == page);
    }
  }
}

TEST_CASE("a step longer than a page is cut between its lines, with their heads repeated") {
  SheetDocument document = sample_sheet();
  SheetSteps work;
  work.steps.push_back(step_with_lines(1, 60));
  document.sections = {{"steps", "Steps", {work}, {}, true}};
  const Drawing drawing = sheet_pages(document, PaperSize::a4, 10.0);
  for (int k = 1; k <= 60; ++k) CHECK(page_of(drawing, "H1-" + std::to_string(k)) >= 0);
  CHECK(page_of(drawing, "H1-1") == page_of(drawing, "Work number 1"));
  CHECK(pages_with(drawing, "Across") >= 2);
  for (const Page& page : drawing.pages) check_page(page, 10.0);
}

TEST_CASE("a heading stays with what follows it") {
  // Words of growing length push the heading down line by line until it changes the page.
  for (int lines = 1; lines <= 70; ++lines) {
    SheetDocument document = sample_sheet();
    SheetSection section{"one", "One", {}, {}, true};
    for (int i = 0; i < lines; ++i) section.blocks.emplace_back(SheetWords{"a line"});
    section.parts.push_back({"Part heading", {SheetWords{"what follows"}}});
    document.sections = {section};
    const Drawing drawing = sheet_pages(document, PaperSize::a4, 10.0);
    REQUIRE(page_of(drawing, "Part heading") == page_of(drawing, "what follows"));
  }
}

TEST_CASE("a picture as large as the sheet has a page of its own; one that fits neither is refused by name") {
  SheetDocument document = sample_sheet();
  document.sections = {
      {"one", "One", {SheetPictures{{{square_picture(210.0, 297.0, "Whole sheet"), ""}}}}, {}, true}};
  // Its frame stands 1 from the paper's edge on purpose.
  const Drawing drawing = sheet_pages(document, PaperSize::a4, 10.0);
  CHECK(drawing.pages.size() == 3);
  CHECK_THROWS_WITH(sheet_pages(document, PaperSize::letter, 10.0), Catch::Matchers::Contains("Whole sheet"));
  document.sections = {{"one", "One", {SheetRoom{"Too high", 400.0, false}}, {}, true}};
  CHECK_THROWS_WITH(sheet_pages(document, PaperSize::a4, 10.0), Catch::Matchers::Contains("Too high"));
  SheetTable wide{"Too wide", {}, {{}}};
  for (int i = 0; i < 12; ++i) {
    wide.columns.push_back({"averyveryverylongheadofacolumn"});
    wide.rows[0].push_back("x");
  }
  document.sections = {{"one", "One", {wide}, {}, true}};
  CHECK_THROWS_WITH(sheet_pages(document, PaperSize::a4, 10.0), Catch::Matchers::Contains("Too wide"));
}

TEST_CASE("the same document gives the same pages") {
  const Drawing one = sheet_pages(sample_sheet(), PaperSize::a4, 10.0);
  const Drawing two = sheet_pages(sample_sheet(), PaperSize::a4, 10.0);
  REQUIRE(one.pages.size() == two.pages.size());
  for (std::size_t i = 0; i < one.pages.size(); ++i) {
    const std::vector<Text> a = texts_of(one.pages[i]);
    const std::vector<Text> b = texts_of(two.pages[i]);
    REQUIRE(a.size() == b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
      CHECK(a[k].words == b[k].words);
      CHECK(a[k].at.x == b[k].at.x);
      CHECK(a[k].at.y == b[k].at.y);
    }
  }
}
