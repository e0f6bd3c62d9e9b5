#include "pdf.hpp"

#include <catch2/catch.hpp>
#include <regex>
#include <sstream>
#include <thread>

#include "programs.hpp"
#include "raster.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

constexpr const char* words = "R2 \u00D812.5 \u25B2 MOUTH END";

/// A4 upright, then letter across: a level bar of 100 mm, an upright one of 80, a tinted circle, words.
Drawing sample() {
  Drawing drawing;
  for (int number : {1, 2}) {
    Page page;
    if (number == 2) {
      page.width = 279.4;
      page.height = 215.9;
    }
    page.title = "Sample \u2013 sheet " + std::to_string(number);
    Group& group = page.group("all");
    group.items.push_back(line_between({20.0, 30.0}, {120.0, 30.0}, LineType::continuous_thick));
    group.items.push_back(line_between({15.0, 40.0}, {15.0, 120.0}, LineType::continuous_thick));
    group.items.push_back(
        Shape{Circle{{60.0, 70.0}, 12.5}, LineType::continuous_thin, Ink::accent, Ink::black});
    group.items.push_back(Shape{Arc{{60.0, 110.0}, 10.0, Angle(), Angle::from_degrees(270.0)},
                                LineType::dashed_thin,
                                {},
                                Ink::black});
    group.items.push_back(Text{{30.0, 150.0}, words, 5.0, Anchor::start, {}, Weight::bold, Ink::black});
    group.items.push_back(Text{{150.0, 150.0},
                               "reads upward",
                               2.5,
                               Anchor::middle,
                               Angle::from_degrees(-90.0),
                               Weight::regular,
                               Ink::black});
    drawing.pages.push_back(page);
  }
  return drawing;
}

struct Written {
  TemporaryFolder folder;
  std::string name = folder.file("sample.pdf");
  explicit Written(const Drawing& drawing) { write_file(name, to_pdf(drawing)); }
};

std::string said(const std::string& command) {
  const Ran ran = run(command);
  INFO(command << "\n" << ran.output);
  REQUIRE(ran.code == 0);
  return ran.output;
}

/// Pages as drawn by two programs with nothing in common, at that many dots an inch.
std::vector<Raster> drawn(const Written& pdf, int page, int dpi) {
  need_program("pdftoppm", "poppler-utils");
  need_program("mutool", "mupdf-tools");
  const std::string number = std::to_string(page);
  const std::string dots = std::to_string(dpi);
  const std::string first = pdf.folder.file("first");
  const std::string second = pdf.folder.file("second.pgm");
  said("pdftoppm -gray -singlefile -f " + number + " -r " + dots + " " + pdf.name + " " + first);
  said("mutool draw -q -c gray -r " + dots + " -o " + second + " " + pdf.name + " " + number);
  return {read_pgm(read_file(first + ".pgm")), read_pgm(read_file(second))};
}

}  // namespace

TEST_CASE("every page of the PDF has its size to a hundredth of a millimetre") {
  need_program("pdfinfo", "poppler-utils");
  const Drawing drawing = sample();
  const Written pdf(drawing);
  const std::string info = said("pdfinfo -box -f 1 -l 9 " + pdf.name);
  CHECK(std::regex_search(info, std::regex("Pages: +2\n")));
  for (std::size_t i = 0; i < drawing.pages.size(); ++i) {
    for (const char* box : {"MediaBox", "CropBox"}) {
      std::smatch found;
      REQUIRE(std::regex_search(
          info, found,
          std::regex("Page +" + std::to_string(i + 1) + " " + box + ": +(\\S+) +(\\S+) +(\\S+) +(\\S+)")));
      CHECK(std::stod(found[1]) == 0.0);
      CHECK(std::stod(found[2]) == 0.0);
      // ISO 32000-1, 8.3.2.3: the default unit is 1/72 in.
      CHECK(std::stod(found[3]) * 25.4 / 72.0 == Approx(drawing.pages[i].width).margin(0.01));
      CHECK(std::stod(found[4]) * 25.4 / 72.0 == Approx(drawing.pages[i].height).margin(0.01));
    }
  }
}

TEST_CASE("two independent programs draw the bars of the PDF at their length, on both pages") {
  const Written pdf(sample());
  for (int page : {1, 2}) {
    // 508 dots an inch are 20 dots a millimetre.
    for (const Raster& raster : drawn(pdf, page, 508)) {
      CHECK(ink_along_row(raster, 600, 200, 2600) / 20.0 == Approx(100.0).margin(0.05));
      CHECK(ink_along_column(raster, 300, 700, 2500) / 20.0 == Approx(80.0).margin(0.05));
      CHECK(ink_along_row(raster, 600, 0, 400) < 1.0);
      CHECK(raster.at(1200, 1400) > 200);  // the tint prints as a light grey
      CHECK(raster.at(1200, 1400) < 250);
      CHECK(raster.at(20, 20) == 255);
    }
  }
}

TEST_CASE("words of the PDF are found again as words, and stand where they were measured to stand") {
  need_program("pdftotext", "poppler-utils");
  const Drawing drawing = sample();
  const Written pdf(drawing);
  const std::string found = said("pdftotext -layout " + pdf.name + " -");
  CHECK(found.find(words) != std::string::npos);
  CHECK(found.find("reads upward") != std::string::npos);
  // In units of 1/72 in from the upper left corner.
  const std::string boxes = said("pdftotext -bbox -f 1 -l 1 " + pdf.name + " -");
  std::smatch place;
  REQUIRE(std::regex_search(boxes, place, std::regex("xMin=\"([0-9.]+)\"[^>]*>R2<")));
  CHECK(std::stod(place[1]) * 25.4 / 72.0 == Approx(30.0).margin(0.01));
  REQUIRE(std::regex_search(boxes, place, std::regex("xMax=\"([0-9.]+)\"[^>]*>END<")));
  const double end = 30.0 + text_extent(words, 5.0, Weight::bold).width;
  // A PDF states advances in whole thousandths of the font's size (ISO 32000-1, 9.2.4), cut off by cairo: one
  // letter may come up short by one of them.
  const double short_by =
      0.001 * font_size(5.0) * static_cast<double>(glyphs_of(words, 5.0, Weight::bold).size());
  CHECK(std::stod(place[1]) * 25.4 / 72.0 == Approx(end - 0.5 * short_by).margin(0.5 * short_by));
}

TEST_CASE("the PDF carries its letters, cut down to those it uses, with what they stand for") {
  need_program("pdffonts", "poppler-utils");
  const Written pdf(sample());
  std::istringstream lines(said("pdffonts " + pdf.name));
  std::string line;
  std::getline(lines, line);
  std::getline(lines, line);
  int fonts = 0;
  while (std::getline(lines, line)) {
    INFO(line);
    ++fonts;
    CHECK(std::regex_search(line, std::regex("^[A-Z]{6}\\+DejaVuSansCondensed")));
    CHECK(line.find("TrueType") != std::string::npos);
    CHECK(std::regex_search(line, std::regex("yes +yes +yes")));  // embedded, a subset, to Unicode
  }
  CHECK(fonts >= 2);
}

TEST_CASE("the PDF names its title and its pages, and no moment") {
  need_program("pdfinfo", "poppler-utils");
  need_program("mutool", "mupdf-tools");
  const Written pdf(sample());
  const std::string info = said("pdfinfo " + pdf.name);
  CHECK(std::regex_search(info, std::regex("Title: +Sample \u2013 sheet 1\n")));
  CHECK(info.find("Date") == std::string::npos);
  const std::string outline = said("mutool show " + pdf.name + " outline");
  CHECK(outline.find("sheet 1") != std::string::npos);
  CHECK(outline.find("sheet 2") != std::string::npos);
}

TEST_CASE("the same drawing gives the same PDF, from several threads at once too") {
  const Drawing drawing = sample();
  const std::string bytes = to_pdf(drawing);
  std::vector<std::string> made(4);
  std::vector<std::thread> threads;
  for (std::string& one : made) threads.emplace_back([&] { one = to_pdf(drawing); });
  for (std::thread& thread : threads) thread.join();
  for (const std::string& one : made) CHECK(one == bytes);
}

TEST_CASE("a PDF survives whatever stands in its texts") {
  need_program("pdfinfo", "poppler-utils");
  Drawing drawing;
  Page page;
  page.title = "a\x01 \xFF (b) \\ <c> \U0001F3B5";
  page.group("all").items.push_back(
      Text{{20.0, 30.0}, "\x01 \xFF \U0001F3B5 (1) \\", 5.0, Anchor::start, {}});
  page.group("all").items.push_back(Text{{20.0, 40.0}, "", 5.0, Anchor::start, {}});
  drawing.pages = {page};
  const Written pdf(drawing);
  CHECK(said("pdfinfo " + pdf.name).find("Syntax") == std::string::npos);
  CHECK(said("pdftotext " + pdf.name + " -").find("(1) \\") != std::string::npos);
}
