#include <catch2/catch.hpp>
#include <clocale>
#include <regex>

#include "programs.hpp"
#include "raster.hpp"
#include "svg.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Page sample() {
  Page page;
  page.title = "Sample <1> & \"2\"";
  page.description = "A bar, a circle, an arc and some words.";
  Group& group = page.group("bars", "Bar of 100 mm");
  group.items.push_back(line_between({20.0, 30.0}, {120.0, 30.0}, LineType::continuous_thick));
  Group& rest = page.group("rest");
  rest.items.push_back(Shape{Circle{{60.0, 60.0}, 12.5}, LineType::continuous_thin, Ink::accent, Ink::black});
  rest.items.push_back(Shape{
      Arc{{60.0, 100.0}, 10.0, Angle(), Angle::from_degrees(270.0)}, LineType::dashed_thin, {}, Ink::black});
  Path path;
  path.contours.push_back(
      {{10, 10}, {{{20, 10}, {}}, {{30, 20}, std::array<Vec2, 2>{Vec2{25, 10}, Vec2{30, 15}}}}, true});
  rest.items.push_back(stroked(path, LineType::long_dashed_dotted_thin));
  rest.items.push_back(Text{{30.0, 150.0},
                            "R2 < L1 & \x01 \xFF",
                            5.0,
                            Anchor::start,
                            Angle::from_degrees(-90.0),
                            Weight::bold,
                            Ink::black});
  return page;
}

}  // namespace

TEST_CASE("numbers are written with at most four decimals and no locale") {
  CHECK(svg_number(0.0) == "0");
  CHECK(svg_number(-0.00001) == "0");
  CHECK(svg_number(100.0) == "100");
  CHECK(svg_number(-1.25) == "-1.25");
  CHECK(svg_number(0.00005) == "0.0001");
  CHECK(svg_number(12.34567) == "12.3457");
  CHECK(svg_number(-0.5) == "-0.5");
  CHECK(svg_number(2.0001) == "2.0001");
}

TEST_CASE("a page's user unit is one millimetre") {
  // CSS: 1 in = 96 px = 25.4 mm; the view box in millimetres beside sizes in mm makes 1 unit = 1 mm.
  const std::string svg = to_svg(sample());
  CHECK(svg.find("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\"") != std::string::npos);
  CHECK(svg.find("<script") == std::string::npos);
  CHECK(svg.find("http") == svg.rfind("http"));  // the name space, and nothing else outside
  CHECK(svg.find("M20 30L120 30") != std::string::npos);
  CHECK(to_svg(sample()) == svg);
}

TEST_CASE("the file is well-formed XML whatever stands in its texts") {
  need_program("xmllint", "libxml2-utils");
  TemporaryFolder folder;
  write_file(folder.file("page.svg"), to_svg(sample()));
  const Ran ran = run("xmllint --noout " + folder.file("page.svg"));
  INFO(ran.output);
  CHECK(ran.code == 0);
  const Ran title = run("xmllint --xpath \"string(/*/*[local-name()='title'])\" " + folder.file("page.svg"));
  CHECK(title.output == "Sample <1> & \"2\"\n");
}

TEST_CASE("another program draws the bar 100 mm long") {
  need_program("rsvg-convert", "librsvg2-bin");
  TemporaryFolder folder;
  write_file(folder.file("page.svg"), to_svg(sample()));
  // 254 dots an inch are 10 dots a millimetre.
  const Ran ran = run("rsvg-convert -b white -d 254 -p 254 -o " + folder.file("page.png") + " " +
                      folder.file("page.svg"));
  INFO(ran.output);
  REQUIRE(ran.code == 0);
  const Raster raster = read_png(read_file(folder.file("page.png")));
  CHECK(raster.width == 2100);
  CHECK(raster.height == 2970);
  int dark = 0;
  for (int x = 0; x < raster.width; ++x) dark += raster.at(x, 300) < 128 ? 1 : 0;
  CHECK(dark == 1000);
  CHECK(raster.at(600, 600) > 200);  // the tint prints as a light grey
  CHECK(raster.at(600, 600) < 250);
}
