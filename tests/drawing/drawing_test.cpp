#include <catch2/catch.hpp>
#include <cmath>

#include "drawing/drawing.hpp"
#include "drawing/label_placer.hpp"
#include "drawing/paper_sheet.hpp"
#include "drawing/plane.hpp"

using namespace culmwright;

namespace {

Polyline circle_points(Vec2 centre, double radius, int count) {
  Polyline points;
  for (int i = 0; i < count; ++i)
    points.push_back(centre + direction_on_page(Angle::from_degrees(360.0 * i / count)) * radius);
  return points;
}

double total(const std::vector<Segment>& lines) {
  double sum = 0.0;
  for (const Segment& line : lines) sum += length(line.to - line.from);
  return sum;
}

}  // namespace

TEST_CASE("sheets have the sizes of ISO 216, and Letter is 8.5 by 11 inches") {
  // ISO 216: A4 210 × 297, A3 297 × 420, each the half of the next.
  const SheetSize a4 = sheet_size(PaperSize::a4, Orientation::portrait);
  const SheetSize a3 = sheet_size(PaperSize::a3, Orientation::landscape);
  CHECK(a4.width == 210.0);
  CHECK(a4.height == 297.0);
  CHECK(a3.height == a4.height);
  CHECK(a3.width == 2.0 * a4.width);
  const SheetSize letter = sheet_size(PaperSize::letter, Orientation::portrait);
  CHECK(letter.width == Approx(8.5 * 25.4));
  CHECK(letter.height == Approx(11.0 * 25.4));
  CHECK(printable(a4, 10.0).width() == 190.0);
}

TEST_CASE("a rotated text's box turns with it") {
  Text text{{10.0, 10.0}, "FRONT", 5.0, Anchor::middle, {}, Weight::bold, Ink::black};
  const Box level = bounds(text_box(text));
  CHECK(level.middle().x == Approx(10.0));
  CHECK(level.bottom == Approx(10.0).margin(0.1));
  text.rotation = Angle::from_degrees(90.0);  // reads downward, letters' tops to the right
  const Box upright = bounds(text_box(text));
  CHECK(upright.height() == Approx(level.width()));
  CHECK(upright.right == Approx(10.0 + (10.0 - level.top)));
  CHECK(bounds(text_box(text, 1.0)).height() == Approx(level.width() + 2.0));
}

TEST_CASE("an arc's bounds are those of the arc, not of its circle") {
  const Shape arc{
      Arc{{0.0, 0.0}, 10.0, Angle::from_degrees(-30.0), Angle::from_degrees(60.0)}, {}, {}, Ink::black};
  const Box box = bounds(Item{arc});
  CHECK(box.right == Approx(10.0));
  CHECK(box.left == Approx(5.0));
  CHECK(box.top == Approx(-5.0));
  CHECK(box.bottom == Approx(10.0 * std::sqrt(0.75)));
}

TEST_CASE("dashes are those of ISO 128 for a line of 0.25 mm") {
  // ISO 128-2, from memory: dash 12 d, long dash 24 d, gap 3 d.
  CHECK(dashes(LineType::continuous_thick).empty());
  CHECK(dashes(LineType::dashed_thin) == std::vector<double>{3.0, 0.75});
  CHECK(dashes(LineType::long_dashed_dotted_thin).size() == 4);
  CHECK(dashes(LineType::long_dashed_dotted_thin).front() == 6.0);
  CHECK(dashes(LineType::long_dashed_double_dotted_thin).size() == 6);
  CHECK(line_width(LineType::continuous_thick) == 2.0 * line_width(LineType::dashed_thin));
}

TEST_CASE("a line clipped to a box keeps what lies inside, in pieces") {
  const Box box{0.0, 0.0, 10.0, 10.0};
  const std::vector<Polyline> pieces = clipped({{-5.0, 5.0}, {15.0, 5.0}, {15.0, 8.0}, {5.0, 8.0}}, box);
  REQUIRE(pieces.size() == 2);
  CHECK(pieces[0].front().x == Approx(0.0));
  CHECK(pieces[0].back().x == Approx(10.0));
  CHECK(pieces[1].front().x == Approx(10.0));
  CHECK(pieces[1].back().x == Approx(5.0));
  CHECK(clipped({{1.0, 1.0}, {2.0, 2.0}, {3.0, 1.0}}, box).size() == 1);
  CHECK(clipped({{-1.0, 20.0}, {20.0, -1.0}}, Box{11.0, 11.0, 12.0, 12.0}).empty());
}

TEST_CASE("a line is broken where polygons lie on it") {
  const Polyline disc = circle_points({50.0, 0.0}, 10.0, 720);
  const Polyline box{{80.0, -1.0}, {90.0, -1.0}, {90.0, 1.0}, {80.0, 1.0}};
  const std::vector<Polyline> pieces = outside_of({{0.0, 0.3}, {45.0, 0.3}, {100.0, 0.3}}, {disc, box});
  REQUIRE(pieces.size() == 3);
  CHECK(pieces[0].back().x == Approx(50.0 - std::sqrt(100.0 - 0.09)).margin(1e-3));
  CHECK(pieces[1].front().x == Approx(50.0 + std::sqrt(100.0 - 0.09)).margin(1e-3));
  CHECK(pieces[1].back().x == Approx(80.0));
  CHECK(pieces[2].front().x == Approx(90.0));
  CHECK(pieces[2].back().x == Approx(100.0));
  CHECK(outside_of({{45.0, 0.0}, {55.0, 0.0}}, {disc}).empty());
  CHECK(outside_of({{0.0, 50.0}, {55.0, 50.0}}, {disc, box}).size() == 1);
}

TEST_CASE("a polygon clipped to a box has the area of what is left") {
  const Polyline square{{-5.0, -5.0}, {5.0, -5.0}, {5.0, 5.0}, {-5.0, 5.0}};
  CHECK(signed_area(square) == Approx(100.0));
  CHECK(signed_area(clipped_polygon(square, {0.0, 0.0, 20.0, 20.0})) == Approx(25.0));
}

TEST_CASE("hatching covers area over spacing, and spares what is left free") {
  // The lines' total length times their spacing is the trapezoidal rule for the area.
  const Polyline disc = circle_points({50.0, 50.0}, 20.0, 720);
  const Polyline hole = circle_points({55.0, 48.0}, 6.0, 720);
  const double spacing = 0.05;
  const double area = pi * 400.0;
  for (double degrees : {0.0, 45.0, 110.0}) {
    const Angle angle = Angle::from_degrees(degrees);
    CHECK(total(hatched({disc}, angle, spacing)) * spacing == Approx(area).epsilon(1e-3));
    CHECK(total(hatched({disc}, angle, spacing, {hole})) * spacing == Approx(area - pi * 36.0).epsilon(1e-3));
    CHECK(total(hatched({disc, hole}, angle, spacing)) * spacing == Approx(area - pi * 36.0).epsilon(1e-3));
  }
  for (const Segment& line : hatched({disc}, Angle::from_degrees(45.0), 2.0, {hole})) {
    const Vec2 middle = (line.from + line.to) * 0.5;
    CHECK(inside(disc, middle));
    CHECK_FALSE(inside(hole, middle));
  }
}

TEST_CASE("boxes that touch do not overlap, boxes that share points do, at any angle") {
  const Quad unit{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
  const Quad beside{{{1, 0}, {2, 0}, {2, 1}, {1, 1}}};
  const Quad across{{{0.5, -0.5}, {1.5, 0.5}, {0.5, 1.5}, {-0.5, 0.5}}};
  const Quad corner{{{1.6, 0.9}, {2.6, 1.9}, {1.6, 2.9}, {0.6, 1.9}}};
  CHECK_FALSE(overlap(unit, beside));
  CHECK(overlap(unit, across));
  CHECK_FALSE(overlap(unit, corner));
  CHECK(meets({{-1, 0.5}, {2, 0.5}}, unit));
  CHECK(meets({{0.2, 0.2}, {0.4, 0.4}}, unit));
  CHECK_FALSE(meets({{-1, 1.5}, {2, 1.5}}, unit));
}

TEST_CASE("labels crowd around a hole without meeting it, a line or each other") {
  const Box sheet{0.0, 0.0, 60.0, 60.0};
  LabelPlacer placer(sheet);
  const Polyline rim = circle_points({30.0, 30.0}, 6.0, 72);
  const Polyline axis{{36.5, 0.0}, {36.5, 60.0}};
  placer.keep_off(rim, true);
  placer.keep_off(axis);
  std::vector<PlacedLabel> placed;
  for (int i = 0; i < 8; ++i) {
    LabelWish wish;
    wish.lines = {{"label " + std::to_string(i), 2.5, Weight::regular}, {"below", 2.5, Weight::bold}};
    wish.anchor_point = {30.0, 30.0};
    wish.clear = 6.0;
    const std::optional<PlacedLabel> label = placer.place(wish);
    REQUIRE(label);
    placed.push_back(*label);
  }
  int leaders = 0;
  for (std::size_t i = 0; i < placed.size(); ++i) {
    const Quad box = placed[i].box;
    for (const Text& text : placed[i].texts) CHECK(bounds(box).contains(bounds(text_box(text)), 1e-9));
    CHECK(sheet.contains(bounds(box)));
    CHECK_FALSE(meets({axis[0], axis[1]}, box));
    for (Vec2 p : rim) CHECK_FALSE(meets({p, p}, box));
    for (std::size_t k = 0; k < placed.size(); ++k) {
      if (k != i) CHECK_FALSE(overlap(box, placed[k].box));
      if (placed[k].leader && k != i) CHECK_FALSE(meets(*placed[k].leader, box));
    }
    leaders += placed[i].leader ? 1 : 0;
  }
  CHECK(leaders > 0);
  LabelWish too_long;
  too_long.lines = {{std::string(80, 'W'), 2.5, Weight::regular}};
  too_long.anchor_point = {30.0, 30.0};
  CHECK_FALSE(placer.place(too_long));
}
