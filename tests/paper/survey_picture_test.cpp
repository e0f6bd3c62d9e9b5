#include "paper/survey_picture.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "page_checks.hpp"
#include "programs.hpp"
#include "sample_instruments.hpp"
#include "svg.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Survey survey_with(const Tube& tube, int stations) {
  Survey survey;
  survey.id = tube.id();
  survey.material = Material::bamboo;
  survey.species = "a long invented name of a species";
  survey.mass_g = 152.3;
  survey.balance_at = 213.0;
  survey.butt = End::b;
  survey.handsome = Angle::from_degrees(90.0);
  survey.date = "2026-03-01";
  survey.length = tube.length();
  for (int i = 0; i < stations; ++i) {
    Station station;
    station.at = tube.length() * i / (stations - 1);
    survey.stations.push_back(station);
  }
  for (double degrees : {0.0, 90.0}) {
    BowReading bow;
    bow.facing = Angle::from_degrees(degrees);
    survey.bow.push_back(bow);
  }
  return survey;
}

Polyline points_of(const Item& item) {
  const Contour& contour = std::get<Path>(std::get<Shape>(item).geometry).contours.at(0);
  Polyline points{contour.start};
  for (const PathStep& step : contour.steps) points.push_back(step.to);
  return points;
}

Box bounds_of(const Polyline& points) {
  Box box{points[0].x, points[0].y, points[0].x, points[0].y};
  for (Vec2 p : points) box = box.joined({p.x, p.y, p.x, p.y});
  return box;
}

}  // namespace

TEST_CASE("a survey picture keeps its margin, and no word meets another or a line") {
  const Tube bowed{culm()};
  TubeShape stout = round_tube(30.0, 28.0, 150.0, 6.0);
  stout.id = "stout piece with a long name";
  TubeShape late = culm();
  late.end_a_at = -35.0;  // the datum mark lies within the piece
  for (const Tube& tube : {bowed, long_culm(), short_pipe(), Tube(stout), Tube(late)}) {
    for (int stations : {2, 9, 120}) {
      for (PaperSize paper : {PaperSize::a4, PaperSize::letter, PaperSize::a3}) {
        const Drawing drawing = survey_picture(tube, survey_with(tube, stations), paper);
        REQUIRE(drawing.pages.size() == 1);
        check_page(drawing.pages[0], 10.0);
        const SheetSize size = sheet_size(paper, Orientation::portrait);
        CHECK(drawing.pages[0].width == size.width);
        CHECK(drawing.pages[0].height == size.height);
      }
    }
  }
}

TEST_CASE("the views stand at the scale that the page states") {
  const Tube tube{culm()};
  const Page page = survey_picture(tube, survey_with(tube, 9)).pages[0];
  CHECK(count_words(page, "1:2.5") == 1);
  const Box front = bounds_of(points_of(group_of(page, "front-view")->items[0]));
  const Box side = bounds_of(points_of(group_of(page, "side-view")->items[0]));
  CHECK(front.height() == Approx(420.0 / 2.5).margin(1e-9));
  CHECK(side.height() == Approx(420.0 / 2.5).margin(1e-9));
  // At the top the views are as wide as the piece is across there.
  const Section a = tube.section(0.0);
  const Polyline outline = points_of(group_of(page, "front-view")->items[0]);
  CHECK(outline.front().x - outline.back().x ==
        Approx(a.width(Angle::from_degrees(90.0)) / 2.5).margin(1e-9));
}

TEST_CASE("the ends are drawn at true size, skin and bore") {
  const Tube tube{culm()};
  const Page page = survey_picture(tube, survey_with(tube, 9)).pages[0];
  for (const auto& [id, at] : {std::pair{"end-a", 0.0}, {"end-b", 420.0}}) {
    const Group* end = group_of(page, id);
    const Section section = tube.section(at);
    // Polygons of 180 corners: short by (2π/180)²/6 of their area.
    CHECK(std::abs(signed_area(points_of(end->items[1]))) == Approx(section.area()).epsilon(4e-4));
    CHECK(std::abs(signed_area(points_of(end->items[2]))) == Approx(section.bore_area()).epsilon(4e-4));
  }
}

TEST_CASE("internode lengths and girths are written as they are") {
  // Nodes of the sample at 0.22, 0.56 and 0.88 of 420.
  const Tube tube{culm()};
  const Page page = survey_picture(tube, survey_with(tube, 3)).pages[0];
  for (const char* length : {"92.4", "142.8", "134.4", "50.4"}) CHECK(count_words(page, length) == 1);
  for (double at : {0.0, 210.0, 420.0}) {
    const double girth = tube.girth(at);
    bool found = false;
    for (const Text& text : texts_of(page)) {
      found = found || (text.words.find('.') != std::string::npos &&
                        std::abs(std::atof(text.words.c_str()) - girth) <= 0.05);
    }
    INFO(girth);
    CHECK(found);
  }
}

TEST_CASE("the bow is drawn enlarged and its figure written") {
  const Tube tube{culm()};
  const Page page = survey_picture(tube, survey_with(tube, 3)).pages[0];
  CHECK(count_words(page, "bow \u00D73") == 1);
  const Box curve = bounds_of(points_of(group_of(page, "bow-to-line")->items[1]));
  double greatest = 0.0;
  for (int i = 0; i <= 200; ++i)
    greatest = std::max(greatest, tube.shape().skin.section(2.1 * i).terms()[1].cosine.value);
  CHECK(curve.width() == Approx(3.0 * greatest).margin(1e-9));
  CHECK(count_words(survey_picture(short_pipe(), survey_with(short_pipe(), 2)).pages[0], "0.0") == 0);
}

TEST_CASE("a plane in which nobody measured the bow is drawn as unknown, not as straight") {
  const Tube tube{culm()};
  Survey survey = survey_with(tube, 3);
  const auto unknown = [&] { return count_words(survey_picture(tube, survey).pages[0], "bow not measured"); };
  CHECK(unknown() == 0);
  survey.bow.pop_back();
  CHECK(unknown() == 1);
  const Page page = survey_picture(tube, survey).pages[0];
  CHECK(std::get<Shape>(group_of(page, "bow-sideways")->items[0]).line ==
        LineType::long_dashed_double_dotted_thin);
  check_page(page, 10.0);
  survey.bow.clear();
  CHECK(unknown() == 2);
  check_page(survey_picture(tube, survey).pages[0], 10.0);
  // Two oblique straightedges see both planes together; heights see both alone.
  for (double degrees : {40.0, 100.0}) {
    BowReading bow;
    bow.facing = Angle::from_degrees(degrees);
    survey.bow.push_back(bow);
  }
  CHECK(unknown() == 0);
  survey.bow.pop_back();
  CHECK(unknown() == 2);
  survey.plates.emplace();
  survey.stations[1].heights.assign(16, 45.0);
  CHECK(unknown() == 0);
}

TEST_CASE("the same survey gives the same bytes of well-formed XML") {
  need_program("xmllint", "libxml2-utils");
  const Tube tube = long_culm();
  const std::string svg = to_svg(survey_picture(tube, survey_with(tube, 30)).pages[0]);
  CHECK(svg == to_svg(survey_picture(tube, survey_with(tube, 30)).pages[0]));
  TemporaryFolder folder;
  write_file(folder.file("survey.svg"), svg);
  CHECK(run("xmllint --noout " + folder.file("survey.svg")).code == 0);
}
