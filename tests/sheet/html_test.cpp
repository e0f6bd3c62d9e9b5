#include <catch2/catch.hpp>
#include <cmath>
#include <regex>

#include "html.hpp"
#include "programs.hpp"
#include "sample_sheets.hpp"
#include "svg.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

const std::string checker = std::string(CULMWRIGHT_SOURCE_DIR) + "/tests/sheet/check_html.py";

Ran checked(const std::string& html) {
  need_program("python3", "python3");
  TemporaryFolder folder;
  write_file(folder.file("sheet.html"), html);
  return run("python3 " + checker + " " + folder.file("sheet.html"));
}

/// WCAG 2.1, "relative luminance" and "contrast ratio".
double luminance(double red, double green, double blue) {
  const auto linear = [](double c) {
    const double share = c / 255.0;
    return share <= 0.03928 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
}
double luminance(const std::string& hex) {
  const auto part = [&](int i) {
    return static_cast<double>(std::stoi(hex.substr(1 + 2 * i, 2), nullptr, 16));
  };
  return luminance(part(0), part(1), part(2));
}
double luminance(Ink ink) {
  const Colour colour = colour_of(ink);
  return luminance(colour.red, colour.green, colour.blue);
}
double contrast(double one, double other) {
  return (std::max(one, other) + 0.05) / (std::min(one, other) + 0.05);
}

}  // namespace

TEST_CASE("a sheet's HTML can be read by those who do not see it, and needs nothing from outside") {
  const Ran found = checked(to_html(sample_sheet()));
  INFO(found.output);
  CHECK(found.code == 0);
}

TEST_CASE("the checker sees each fault that it is there for") {
  const std::string sound = to_html(sample_sheet());
  const auto spoilt = [&](const std::string& what, const std::string& by) {
    std::string html = sound;
    const std::size_t at = html.find(what);
    REQUIRE(at != std::string::npos);
    html.replace(at, what.size(), by);
    const Ran found = checked(html);
    INFO(what << " → " << by << "\n" << found.output);
    CHECK(found.code == 1);
  };
  spoilt("<html lang=\"en\">", "<html>");
  spoilt("<th scope=\"col\"", "<th");
  spoilt("role=\"img\"", "role=\"none\"");
  spoilt("<h2", "<h4");
  spoilt("<caption", "<p");
  spoilt(" aria-label=\"H1-1 done\"", "");
  spoilt("id=\"step-work-2\"", "id=\"step-work-1\"");
  spoilt("href=\"#steps\"", "href=\"#nowhere\"");
  spoilt("href=\"#steps\"", "href=\"https://example.org/\"");
  spoilt("</main>", "");
  spoilt("url(data:", "url(font/");
  spoilt("<meta name=\"viewport\"", "<meta name=\"view\"");
  spoilt("<main>", "<main><script></script>");
}

TEST_CASE("words stand out from what they stand on by 7:1 and more") {
  const HtmlColours colours = html_colours();
  for (const char* words : {colours.ink, colours.quiet}) {
    for (const char* ground : {colours.paper, colours.tint}) {
      INFO(words << " on " << ground);
      CHECK(contrast(luminance(std::string(words)), luminance(std::string(ground))) >= 7.0);
    }
  }
  // In pictures words are black on white or on the accent.
  CHECK(contrast(luminance(Ink::black), luminance(Ink::accent)) >= 7.0);
  // The formula itself: WCAG 2.1 gives 21:1 for black on white.
  CHECK(contrast(luminance("#000000"), luminance("#ffffff")) == Approx(21.0));
}

TEST_CASE("no colour is used in the HTML but the few that are measured") {
  const std::string html = to_html(sample_sheet());
  const HtmlColours colours = html_colours();
  const std::regex hex("#[0-9a-fA-F]{6}\\b");
  for (std::sregex_iterator it(html.begin(), html.end(), hex), end; it != end; ++it) {
    const std::string colour = it->str();
    const bool of_pictures =
        colour == "#000000" || colour == "#ffffff" || colour == "#e4ecf2" || colour == "#666666";
    INFO(colour);
    CHECK((colour == colours.ink || colour == colours.quiet || colour == colours.paper ||
           colour == colours.tint || of_pictures));
  }
}

TEST_CASE("what was given stands in the HTML, letters that mean something to HTML included") {
  const std::string html = to_html(sample_sheet());
  CHECK(html.find("R&amp;D &lt;splinters&gt; &quot;fly&quot;") != std::string::npos);
  for (const char* words :
       {"Work number 6", "row70", "figure of row 70", "H6-18 done", "Third picture", "Notes"}) {
    INFO(words);
    CHECK(html.find(words) != std::string::npos);
  }
  CHECK(html.find("aria-label=\"H1-1 done\" checked") != std::string::npos);
  CHECK(to_html(sample_sheet()) == html);
}

TEST_CASE("an inline picture is the same drawing as the file, with ids of its own and no font") {
  const Page page = square_picture(50.0, 40.0, "One");
  const std::string file = to_svg(page);
  const std::string inline_one = to_inline_svg(page, "p7-");
  const auto drawn = [](const std::string& svg) { return svg.substr(svg.find("<path")); };
  CHECK(drawn(file) == drawn(inline_one));
  CHECK(inline_one.find("id=\"p7-frame\"") != std::string::npos);
  CHECK(inline_one.find("font-face") == std::string::npos);
  CHECK(inline_one.find("<?xml") == std::string::npos);
}
