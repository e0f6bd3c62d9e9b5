/// A template printed is a template measured: its bars, in the files and in other programs' pictures.
#include <array>
#include <catch2/catch.hpp>
#include <regex>

#include "page_checks.hpp"
#include "paper/wrap_template.hpp"
#include "pdf.hpp"
#include "programs.hpp"
#include "raster.hpp"
#include "sample_instruments.hpp"
#include "svg.hpp"

using namespace culmwright;
using namespace culmwright::test;

TEST_CASE("the two bars of a template measure 100 mm, in the file and in another program's raster") {
  need_program("rsvg-convert", "librsvg2-bin");
  need_program("xmllint", "libxml2-utils");
  const Tube tube = short_pipe();
  const Instrument instrument = short_instrument(tube);
  const Page page =
      wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument)).pages[0];
  const std::string svg = to_svg(page);
  CHECK(svg ==
        to_svg(
            wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument)).pages[0]));
  CHECK(svg.find("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\"") != std::string::npos);
  TemporaryFolder folder;
  write_file(folder.file("wrap.svg"), svg);
  CHECK(run("xmllint --noout " + folder.file("wrap.svg")).code == 0);
  // The first two paths of the bars' group, read back from the file.
  std::smatch found;
  const std::regex bars(
      "id=\"scale-bars\">\\s*<title>[^<]*</title>\\s*<path d=\"M([0-9.]+) ([0-9.]+)L([0-9.]+) "
      "([0-9.]+)\"[^>]*>"
      "\\s*<path d=\"M([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)\"");
  REQUIRE(std::regex_search(svg, found, bars));
  double v[8];
  for (std::size_t i = 0; i < 8; ++i) v[i] = std::stod(found[i + 1]);
  CHECK(v[2] - v[0] == Approx(100.0).epsilon(1e-12));
  CHECK(v[1] == v[3]);
  CHECK(v[5] - v[7] == Approx(100.0).epsilon(1e-12));
  CHECK(v[4] == v[6]);
  // Another program draws each of them; v: where they start and end, in millimetres of the page. The level
  // bar is read above its middle, the upright one right of its middle, where no tick is: each there begins
  // half the other's width before their common corner, or at it.
  const auto measured = [&](const Raster& raster, double per_mm) {
    const auto dots = [&](double mm) { return static_cast<int>(std::lround(mm * per_mm)); };
    const int row = static_cast<int>((v[1] - 0.15) * per_mm);
    const int column = static_cast<int>((v[4] + 0.15) * per_mm);
    return Vec2{ink_along_row(raster, row, dots(v[0] - 3.0), dots(v[2] + 3.0)) / per_mm - 0.5 * thick_line,
                ink_along_column(raster, column, dots(v[7] - 3.0), dots(v[5])) / per_mm};
  };
  need_program("pdftoppm", "poppler-utils");
  need_program("mutool", "mupdf-tools");
  write_file(folder.file("wrap.pdf"), to_pdf({{page}}));
  const std::string pdf = folder.file("wrap.pdf");
  REQUIRE(
      run("rsvg-convert -b white -d 254 -p 254 -o " + folder.file("wrap.png") + " " + folder.file("wrap.svg"))
          .code == 0);
  REQUIRE(run("pdftoppm -gray -singlefile -r 508 " + pdf + " " + folder.file("first")).code == 0);
  REQUIRE(run("mutool draw -q -c gray -r 508 -o " + folder.file("second.pgm") + " " + pdf).code == 0);
  const Raster svg_picture = read_png(read_file(folder.file("wrap.png")));
  REQUIRE(svg_picture.width == 2100);
  for (const Vec2 bars_seen :
       {measured(svg_picture, 10.0), measured(read_pgm(read_file(folder.file("first.pgm"))), 20.0),
        measured(read_pgm(read_file(folder.file("second.pgm"))), 20.0)}) {
    CHECK(bars_seen.x == Approx(100.0).margin(0.05));
    CHECK(bars_seen.y == Approx(100.0).margin(0.05));
  }
  // The ids of the holes are words in the PDF.
  const Ran words = run("pdftotext " + pdf + " -");
  for (const PlacedKey& key : instrument.keys) {
    INFO(key.key.id);
    CHECK(std::regex_search(words.output, std::regex("\\b" + key.key.id + "\\b")));
  }
}

TEST_CASE("paper too small for the bars is refused in words") {
  const Tube tube = short_pipe();
  Shop shop = shop_with(PaperSize::a4);
  shop.paper.margin = 70.0;
  CHECK_THROWS_AS(wrap_template(tube, short_instrument(tube), shop, {0.0, 180.0}), InputError);
}
