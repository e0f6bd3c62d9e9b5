#include "paper/wrap_template.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <regex>
#include <set>

#include "page_checks.hpp"
#include "paper/net.hpp"
#include "paper/words.hpp"
#include "paper/wrap_features.hpp"
#include "paper/wrap_relief.hpp"
#include "pdf.hpp"
#include "programs.hpp"
#include "raster.hpp"
#include "sample_instruments.hpp"
#include "svg.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

/// The closed lines of a group, as points.
std::vector<Polyline> closed_lines(const Page& page, const std::string& id) {
  std::vector<Polyline> lines;
  for (const Item& item : group_of(page, id)->items) {
    const Path& path = std::get<Path>(std::get<Shape>(item).geometry);
    for (const Contour& contour : path.contours) {
      if (!contour.closed) continue;
      Polyline line{contour.start};
      for (const PathStep& step : contour.steps) line.push_back(step.to);
      lines.push_back(line);
    }
  }
  return lines;
}

Vec2 middle_of(const Polyline& line) {
  Box box{line[0].x, line[0].y, line[0].x, line[0].y};
  for (Vec2 p : line) box = box.joined({p.x, p.y, p.x, p.y});
  return box.middle();
}

double perimeter(const Polyline& line) {
  double sum = 0.0;
  for (std::size_t i = 0; i < line.size(); ++i) sum += length(line[(i + 1) % line.size()] - line[i]);
  return sum;
}

}  // namespace

TEST_CASE("developed rims of round holes have the calculated shape") {
  // u = R asin(r sin φ / R), v = r cos φ; width × height, area, perimeter: REFERENCES, calculated.
  struct Expected {
    double tube, drill, width, height, area, perimeter;
  };
  const Expected table[] = {{15, 5, 10.195107, 10, 79.678922, 31.645865},
                            {15, 4, 8.097984, 8, 50.724663, 25.248202},
                            {20, 6, 12.187706, 12, 114.414753, 37.920312},
                            {12.5, 7, 14.859645, 14, 160.826337, 44.996187}};
  for (const Expected& expected : table) {
    const Tube tube{round_tube(expected.tube, expected.tube, 100.0, 3.0)};
    const Net net(Development::fit(tube, 10.0, 90.0, 0.0), Angle::from_degrees(180.0), 8.0);
    for (const HoleSquare square : {HoleSquare::to_skin, HoleSquare::to_axis}) {
      const Drilling drilling = drilling_at(tube, {50.0, 4.0}, square, expected.drill);
      const std::vector<Polyline> flat = net.flat(rim_curve(tube, drilling, 4800));
      REQUIRE(flat.size() == 1);
      const Polyline rim(flat[0].begin(), flat[0].end() - 1);
      Box box{rim[0].x, rim[0].y, rim[0].x, rim[0].y};
      for (Vec2 p : rim) box = box.joined({p.x, p.y, p.x, p.y});
      CHECK(box.width() == Approx(expected.width).margin(1e-6));
      CHECK(box.height() == Approx(expected.height).margin(1e-6));
      // A polygon of n chords is short by (2π/n)²/6 of its area, by a quarter of that in its perimeter.
      CHECK(std::abs(signed_area(rim)) == Approx(expected.area).margin(6e-5));
      CHECK(perimeter(rim) == Approx(expected.perimeter).margin(2e-5));
    }
  }
}

TEST_CASE("points of a developed rim lie where the formula puts them") {
  // (15, 5): 30° (2.511721, 4.330127), 45° (3.569117, 3.535534), 60° (4.392642, 2.5): REFERENCES, calculated.
  const Tube tube{round_tube(15.0, 15.0, 100.0, 3.0)};
  const Net net(Development::fit(tube, 10.0, 90.0, 0.0), Angle::from_degrees(180.0), 8.0);
  const Polyline rim =
      net.flat(rim_curve(tube, drilling_at(tube, {50.0, 0.0}, HoleSquare::to_skin, 5.0), 360))[0];
  const Vec2 middle = net.flat(Vec2{0.0, 50.0});
  const auto has = [&](double u, double v) {
    return std::any_of(rim.begin(), rim.end(), [&](Vec2 p) {
      return length(p - middle - Vec2{u, v}) < 2e-6;
    });
  };
  for (double side : {-1.0, 1.0}) {
    CHECK(has(side * 2.511721, 4.330127));
    CHECK(has(side * 3.569117, -3.535534));
    CHECK(has(side * 4.392642, 2.5));
  }
}

TEST_CASE("every page keeps its margin, and no word meets another or a line") {
  const Tube pipe = short_pipe();
  const Tube bowed{culm()};
  const Tube tall = long_culm();
  Instrument oval = bare_instrument(bowed, "oval-5");
  for (int i = 0; i < 5; ++i) {
    oval.keys.push_back(
        placed_key(bowed, "L" + std::to_string(i + 1), {115.0 + 22.0 * i, 2.0 * i - 4.0}, 12.0, {16, 14, 7}));
  }
  for (PaperSize size : {PaperSize::a4, PaperSize::letter, PaperSize::a3}) {
    const Shop shop = shop_with(size);
    std::vector<Drawing> drawings{
        wrap_template(pipe, short_instrument(pipe), shop, whole_run(pipe, short_instrument(pipe))),
        wrap_template(tall, long_instrument(tall), shop, whole_run(tall, long_instrument(tall)))};
    for (const Run& run : internode_runs(bowed, oval))
      drawings.push_back(wrap_template(bowed, oval, shop, run));
    for (const Drawing& drawing : drawings) {
      for (const Page& page : drawing.pages) {
        check_page(page, shop.paper.margin);
        const SheetSize upright = sheet_size(size, Orientation::portrait);
        CHECK(std::min(page.width, page.height) == upright.width);
        CHECK(std::max(page.width, page.height) == upright.height);
      }
    }
  }
}

TEST_CASE("every sheet says what it is, which side is which and where the ends lie") {
  const Tube tube = long_culm();
  Instrument instrument = long_instrument(tube);
  for (const bool draft : {true, false}) {
    instrument.sign.state = draft ? SignState::draft : SignState::signed_off;
    instrument.sign.by = draft ? "" : "A. Maker";
    instrument.sign.date = draft ? "" : "2026-03-02";
    const Drawing drawing =
        wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument));
    REQUIRE(drawing.pages.size() == 5);
    // The last holds words alone.
    const Page& last = drawing.pages.back();
    CHECK(count_words(last, "culm-17") == 1);
    CHECK(count_words(last, draft ? "DRAFT" : "SIGNED OFF") == 1);
    CHECK(count_words(last, "5 of 5") == 1);
    CHECK(count_words(last, "How true it is") == 1);
    for (std::size_t i = 0; i < 4; ++i) {
      const Page& page = drawing.pages[i];
      INFO(page.title);
      CHECK(count_words(page, "This sheet: hatched") == 1);
      for (const char* words : {"FRONT", "BACK", "LEFT", "RIGHT", "\u25B2 MOUTH END", "\u25BC FOOT END"}) {
        INFO(words);
        CHECK(count_words(page, words) == 1);
      }
      // On the wrap itself and in the title block, which is cut away.
      CHECK(count_words(page, "culm-17") == 2);
      CHECK(count_words(page, draft ? "DRAFT" : "SIGNED OFF") == 2);
      CHECK(count_words(page, draft ? "SIGNED OFF" : "DRAFT") == 0);
      CHECK(count_words(page, "by A. Maker, 2026-03-02") == (draft ? 0 : 2));
      CHECK(count_words(page, std::to_string(i + 1) + " of 5") == 1);
      CHECK(count_words(page, "1:1") == 1);
      CHECK(page.title.find("revision 3") != std::string::npos);
    }
  }
}

TEST_CASE("a template of what is no longer signed is a draft that says what changed") {
  const Tube tube = long_culm();
  Instrument instrument = long_instrument(tube);
  instrument.sign = {SignState::no_longer_signed, "A. Maker", "2026-03-02", {}, {"tube", "shop"}, {}, {}};
  const Shop shop = shop_with(PaperSize::a4);
  for (const Page& page : wrap_template(tube, instrument, shop, whole_run(tube, instrument)).pages) {
    check_page(page, shop.paper.margin);
    CHECK(count_words(page, "DRAFT") == (group_of(page, "outline") != nullptr ? 2 : 1));
    CHECK(count_words(page, "SIGNED OFF") == 0);
    CHECK(page.title.find("DRAFT, no longer signed: tube and shop changed") != std::string::npos);
  }
}

TEST_CASE("every hole of the run is named once, in letters of 5 mm") {
  const Tube tube = long_culm();
  const Instrument instrument = long_instrument(tube);
  const Drawing drawing =
      wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument));
  for (const PlacedKey& key : instrument.keys) {
    int found = 0;
    for (const Page& page : drawing.pages) {
      for (const Text& text : texts_of(page)) {
        if (text.words != key.key.id) continue;
        ++found;
        CHECK(text.height >= 5.0);
      }
    }
    INFO(key.key.id);
    CHECK(found == 1);
  }
}

TEST_CASE("holes lie on the paper as far apart as on the wrapped sheet") {
  const Tube tube = short_pipe();
  const Instrument instrument = short_instrument(tube);
  const Drawing drawing =
      wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument));
  REQUIRE(drawing.pages.size() == 1);
  const std::vector<Polyline> rims = closed_lines(drawing.pages[0], "holes");
  REQUIRE(rims.size() == instrument.keys.size());
  for (std::size_t i = 0; i < rims.size(); ++i) {
    const Vec2 offset = middle_of(rims[i]) - middle_of(rims[0]);
    const SkinPlace from = instrument.keys[0].place;
    const SkinPlace to = instrument.keys[i].place;
    // Right is around, down is at; arcs grow by (R + t/2) / R.
    CHECK(offset.y == Approx(to.at - from.at).margin(1e-6));
    CHECK(offset.x == Approx((to.around - from.around) * 15.05 / 15.0).margin(1e-6));
  }
}

TEST_CASE("with end B as mouth end the player's left changes sides, the paper stays as seen") {
  const Tube tube = short_pipe();
  Instrument instrument = short_instrument(tube);
  const auto where = [&](const std::string& words) {
    const Page page =
        wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument)).pages[0];
    for (const Text& text : texts_of(page)) {
      if (text.words == words) return text.at;
    }
    FAIL(words << " is missing");
    return Vec2{};
  };
  CHECK(where("LEFT").x > where("FRONT").x);
  CHECK(where("RIGHT").x < where("FRONT").x);
  const Vec2 hole = where("L1");
  CHECK(where("\u25B2 MOUTH END").y < where("\u25BC FOOT END").y);
  instrument.mouth_end = End::b;
  std::swap(instrument.mouth_cut_at, instrument.foot_cut_at);
  CHECK(where("LEFT").x < where("FRONT").x);
  CHECK(where("RIGHT").x > where("FRONT").x);
  CHECK(where("\u25B2 FOOT END").y < where("\u25BC MOUTH END").y);
  CHECK(where("L1").x == Approx(hole.x));
}

TEST_CASE("the seam keeps clear of every rim where it can") {
  const Tube tube = long_culm();
  const Instrument instrument = long_instrument(tube);
  const Run run = whole_run(tube, instrument);
  const Development development = Development::fit(tube, run.at_from, run.at_to, 0.1);
  const std::vector<Feature> features = features_of(tube, instrument, run.at_from, run.at_to);
  const Net net(development, choose_seam(development, features, development.line(450.0, instrument.facing)),
                8.0);
  int whole = 0;
  for (const Feature& feature : features) {
    if (feature.kind != Feature::Kind::hole && feature.kind != Feature::Kind::opening) continue;
    const std::vector<Polyline> flat = net.flat(feature.outline);
    CHECK(flat.size() == 1);
    whole += length(flat[0].front() - flat[0].back()) < 1e-9 ? 1 : 0;
  }
  CHECK(whole == 18);
}

TEST_CASE("a hole that crosses the seam appears at both edges of the template") {
  // Holes all around leave no side free.
  const Tube tube = short_pipe();
  Instrument instrument = bare_instrument(tube, "ring-test");
  for (int i = 0; i < 8; ++i) {
    instrument.keys.push_back(placed_key(tube, "K" + std::to_string(i + 1),
                                         {40.0 + 12.0 * i, (i - 3.5) * 2.0 * pi * 15.0 / 8.0}, 13.0,
                                         {14, 14, 7}));
  }
  const Drawing drawing =
      wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument));
  const Group* holes = group_of(drawing.pages[0], "holes");
  std::vector<Box> parts;
  for (const Item& item : holes->items) {
    if (!std::get<Path>(std::get<Shape>(item).geometry).contours[0].closed) parts.push_back(bounds(item));
  }
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].top == Approx(parts[1].top).margin(0.5));
  // Together as wide as the whole rim, at the two edges of the net.
  const Box outline = bounds(group_of(drawing.pages[0], "outline")->items[0]);
  const double rim = 2.0 * 15.05 * std::asin(6.5 / 15.0);
  CHECK(parts[0].width() + parts[1].width() == Approx(rim + 2.0 * thick_line).margin(0.05));
  CHECK(std::min(parts[0].left, parts[1].left) == Approx(outline.left).margin(0.3));
  CHECK(std::max(parts[0].right, parts[1].right) == Approx(outline.right).margin(0.3));
  for (const Page& page : drawing.pages) check_page(page, 10.0);
}

TEST_CASE(
    "the two edges of the seam as drawn match within 0.02 mm, and so do the halves of a rim that it cuts") {
  // Holes all around leave no side free.
  TubeShape shape = round_tube(16.0, 14.0, 180.0, 4.0);
  shape.skin = FourierAlong({{0, straight(0, 16.0, 180, 14.0), {}},
                             {1, straight(0, 0.0, 180, 0.6), straight(0, 0.2, 180, -0.5)},
                             {2, straight(0, 0.8, 180, 0.3), straight(0, -0.3, 180, 0.4)}});
  const Tube tube{shape};
  Instrument instrument = bare_instrument(tube, "ring-test");
  for (int i = 0; i < 8; ++i) {
    instrument.keys.push_back(placed_key(tube, "K" + std::to_string(i + 1),
                                         {40.0 + 12.0 * i, (i - 3.5) * 2.0 * pi * 15.0 / 8.0}, 13.0,
                                         {14, 14, 7}));
  }
  Shop shop = shop_with(PaperSize::a3);
  const Page page = wrap_template(tube, instrument, shop, whole_run(tube, instrument)).pages[0];
  const Path& path = std::get<Path>(std::get<Shape>(group_of(page, "outline")->items[0]).geometry);
  Polyline edge{path.contours[0].start};
  for (const PathStep& step : path.contours[0].steps) edge.push_back(step.to);
  // Along the top to the right, down the right edge, back along the foot, up the left edge.
  const std::size_t count = (edge.size() + 1) / 2;
  const Vec2 left_top = edge[0], right_top = edge[count - 1], right_foot = edge[count],
             left_foot = edge.back();
  CHECK(std::abs(length(left_top - left_foot) - length(right_top - right_foot)) < 0.02);
  // Where cut rims end: the same distances from the head of either edge.
  std::vector<double> on_left, on_right;
  for (const Item& item : group_of(page, "holes")->items) {
    const Contour& rim = std::get<Path>(std::get<Shape>(item).geometry).contours[0];
    if (rim.closed) continue;
    for (Vec2 end : {rim.start, rim.steps.back().to}) {
      const bool left =
          distance(Segment{left_top, left_foot}, end) < distance(Segment{right_top, right_foot}, end);
      CHECK(std::min(distance(Segment{left_top, left_foot}, end),
                     distance(Segment{right_top, right_foot}, end)) < 0.02);
      (left ? on_left : on_right).push_back(length(end - (left ? left_top : right_top)));
    }
  }
  REQUIRE(on_left.size() == 2);
  REQUIRE(on_right.size() == 2);
  std::sort(on_left.begin(), on_left.end());
  std::sort(on_right.begin(), on_right.end());
  for (std::size_t i : {0U, 1U}) CHECK(std::abs(on_left[i] - on_right[i]) < 0.02);
}

TEST_CASE("every hole has its pilot's rim, a cross in it, and marks outside that point at the middle") {
  const Tube tube = short_pipe();
  const Instrument instrument = short_instrument(tube);
  Shop shop = shop_with(PaperSize::a4);
  shop.pilot_diameter = 3.0;
  const Page page = wrap_template(tube, instrument, shop, whole_run(tube, instrument)).pages[0];
  const std::vector<Polyline> rims = closed_lines(page, "holes");
  const std::vector<Polyline> pilots = closed_lines(page, "pilots");
  REQUIRE(pilots.size() == rims.size());
  for (std::size_t i = 0; i < rims.size(); ++i) {
    const Vec2 middle = middle_of(pilots[i]);
    CHECK(length(middle - middle_of(rims[i])) < 0.01);
    int inside_pilot = 0, outside_rim = 0;
    for (const Item& item : group_of(page, "centres")->items) {
      const Segment s = segments_of(std::get<Shape>(item))[0];
      const Vec2 along = unit(s.to - s.from);
      if (std::abs(cross(along, middle - s.from)) > 0.01) continue;  // does not point at this middle
      if (length((s.from + s.to) * 0.5 - middle) < 0.01) ++inside_pilot;
      const double nearer = std::min(length(s.from - middle), length(s.to - middle));
      const double radius = 0.5 * instrument.keys[i].key.hole_diameter;
      if (nearer > radius + 0.5 && nearer < radius + 1.5) ++outside_rim;
    }
    CHECK(inside_pilot == 2);
    CHECK(outside_rim == 4);
  }
  CHECK(count_words(page, "3 \u2192 \u00D810") == 6);
  CHECK(count_words(page, "3 \u2192 \u00D88") == 1);
}

TEST_CASE("a template that passes a ridge is slit there, and says what the ridge costs along the piece") {
  TubeShape shape = round_tube(16.0, 16.0, 200.0, 4.0);
  shape.id = "ridge";
  Node node;
  node.at_line = node.at_far = 100.0;
  node.band = 10.0;
  node.ridge_height = 1.0;
  shape.nodes.push_back(node);
  const Tube tube{shape};
  Instrument instrument = bare_instrument(tube, "ridge-test");
  instrument.keys.push_back(placed_key(tube, "L1", {60.0, 0.0}, 8.0, {14, 14, 7}));
  const Shop shop = shop_with(PaperSize::a4);
  const Page page = wrap_template(tube, instrument, shop, whole_run(tube, instrument)).pages[0];
  const Group* slits = group_of(page, "relief");
  // 2π · 16.05 / 12 → 9; each 10 of band and 2 beyond on both sides.
  REQUIRE(slits->items.size() == 9);
  for (const Item& item : slits->items) {
    const Segment s = segments_of(std::get<Shape>(item))[0];
    CHECK(length(s.to - s.from) == Approx(14.0).margin(1e-6));
  }
  CHECK(count_words(page, "slit: to pass a ridge") == 1);
  check_page(page, shop.paper.margin);
  // What a strip loses over the ridge: its way over it, by points of the skin, less the straight way.
  double way = 0.0;
  for (int i = 0; i < 4000; ++i) {
    const auto radius = [&](int k) { return tube.section(95.0 + 10.0 * k / 4000).support(Angle()).f; };
    way += std::hypot(10.0 / 4000, radius(i + 1) - radius(i));
  }
  CHECK(ridge_shortening(tube, node, 0.0, 200.0) == Approx(way - 10.0).epsilon(2e-3));
  CHECK(error_statement(tube, {0.0, 200.0}, 0.1).find(error_words(way - 10.0)) != std::string::npos);
  // A sanded ridge needs no slit.
  shape.nodes[0].ridge_height = 0.0;
  const Tube sanded{shape};
  CHECK(group_of(wrap_template(sanded, instrument, shop, whole_run(sanded, instrument)).pages[0], "relief")
            ->items.empty());
}

TEST_CASE("limits beside nodes and cuts stand where the rules have them, and the hands are bracketed") {
  TubeShape shape = round_tube(16.0, 16.0, 240.0, 4.0);
  Node node;
  node.at_line = node.at_far = 120.0;
  node.band = 8.0;
  shape.nodes.push_back(node);
  const Tube tube{shape};
  Instrument instrument = bare_instrument(tube, "limit-test");
  instrument.keys.push_back(placed_key(tube, "L1", {60.0, 0.0}, 8.0, {14, 14, 7}));
  instrument.keys.push_back(placed_key(tube, "R1", {160.0, 0.0}, 12.0, {14, 14, 7}));
  for (PlacedKey& key : instrument.keys) key.key.hand = key.key.id == "L1" ? Hand::left : Hand::right;
  const Page page =
      wrap_template(tube, instrument, shop_with(PaperSize::a3), whole_run(tube, instrument), TemplateNotes{})
          .pages[0];
  const double top = bounds(group_of(page, "outline")->items[0]).top + 0.5 * thick_line;
  std::vector<double> found;
  for (const Item& item : group_of(page, "limits")->items) found.push_back(bounds(item).middle().y - top);
  std::sort(found.begin(), found.end());
  // The greater hole is 12: max(5, 6) from a band that ends 4 from the node; max(25, 18) from the cuts.
  REQUIRE(found.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(found[i] == Approx(std::array<double, 4>{25.0, 110.0, 130.0, 215.0}[i]).margin(0.02));
  }
  CHECK(count_words(page, "left hand") == 1);
  CHECK(count_words(page, "right hand") == 1);
  std::vector<double> spans;
  for (const Item& item : group_of(page, "hands")->items) {
    const Box box = bounds(item);
    if (box.height() > 10.0) spans.push_back(box.middle().y - top);
  }
  std::sort(spans.begin(), spans.end());
  REQUIRE(spans.size() == 2);
  CHECK(spans[0] == Approx(60.0).margin(0.02));
  CHECK(spans[1] == Approx(160.0).margin(0.02));
}

TEST_CASE("the survey's error stands beside the paper's") {
  const Tube tube = short_pipe();
  TemplateNotes notes;
  notes.survey_error = 0.9;
  const Page page =
      wrap_template(tube, short_instrument(tube), shop_with(PaperSize::a4), {0.0, 180.0}, notes).pages[0];
  std::string all;
  for (const Text& text : texts_of(page)) all += text.words + " ";
  CHECK(all.find("place a hole to 0.90 mm, not within the 0.7 mm") != std::string::npos);
}

TEST_CASE(
    "holes through the printed guides stand in a table, those of the run alone, in order and rounded up") {
  const Tube tube = short_pipe();
  const auto hole = [](const std::string& id, double at, double radial) {
    HoleTolerance tolerance;
    tolerance.id = id;
    tolerance.at = at;
    tolerance.along = 0.31;
    tolerance.around = 0.2;
    tolerance.radial = radial;
    return tolerance;
  };
  TemplateNotes notes;
  notes.through_guides = {hole("L2", 90.0, 0.74), hole("L1", 50.0, 0.66), hole("elsewhere", 190.0, 0.5)};
  const Page page =
      wrap_template(tube, short_instrument(tube), shop_with(PaperSize::a4), {0.0, 180.0}, notes).pages[0];
  std::string all;
  for (const Item& item : group_of(page, "through-guides")->items) {
    if (const Text* text = std::get_if<Text>(&item)) all += text->words + " ";
  }
  CHECK(all.find("It does not hold for holes pricked through this paper.") != std::string::npos);
  CHECK(all.find("hole along around in all L1 0.4 0.2 0.7 L2 0.4 0.2 0.8 ! ") != std::string::npos);
  CHECK(all.find("elsewhere") == std::string::npos);
  CHECK(faults_of(page, shop_with(PaperSize::a4).paper.margin).empty());
}

TEST_CASE("a long table of holes goes over several columns, and a long name stands over its figures") {
  const Tube tube = short_pipe();
  TemplateNotes notes;
  for (int i = 0; i < 60; ++i) {
    HoleTolerance hole;
    hole.id = i == 7 ? "corner of the long opening" : "K" + std::to_string(i);
    hole.at = 10.0 + 2.5 * i;
    hole.along = hole.around = hole.radial = 0.5;
    notes.through_guides.push_back(hole);
  }
  const Drawing drawing =
      wrap_template(tube, short_instrument(tube), shop_with(PaperSize::a4), {0.0, 180.0}, notes);
  std::set<std::string> ids;
  for (const Page& page : drawing.pages) {
    CHECK(faults_of(page, shop_with(PaperSize::a4).paper.margin).empty());
    for (const Text& text : texts_of(page)) ids.insert(text.words);
  }
  for (const HoleTolerance& hole : notes.through_guides) CHECK(ids.count(hole.id) == 1);
}

TEST_CASE("sheets are joined by crosses that stand at the same place of the skin on both") {
  const Tube tube = long_culm();
  const Instrument instrument = long_instrument(tube);
  const Drawing drawing =
      wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument));
  std::map<std::string, int> letters;
  for (const Page& page : drawing.pages) {
    for (const Text& text : texts_of(page)) {
      if (text.words.size() == 1 && text.height == 3.5 && text.words != "3") ++letters[text.words];
    }
  }
  CHECK(letters.size() == 6);  // three joints, two crosses each
  for (const auto& [letter, count] : letters) {
    INFO(letter);
    CHECK(count == 2);
  }
  // Crosses of a joint: level lines 8 long whose middles match from sheet to sheet.
  const auto crosses = [](const Page& page) {
    std::vector<Vec2> middles;
    REQUIRE(group_of(page, "joints") != nullptr);
    for (const Item& item : group_of(page, "joints")->items) {
      const Segment s = segments_of(std::get<Shape>(item))[0];
      if (std::abs(length(s.to - s.from) - 8.0) < 1e-9 && s.from.y == s.to.y)
        middles.push_back((s.from + s.to) * 0.5);
    }
    std::sort(middles.begin(), middles.end(),
              [](Vec2 a, Vec2 b) { return a.y + 1e-3 * a.x < b.y + 1e-3 * b.x; });
    return middles;
  };
  for (std::size_t i = 0; i < 3; ++i) {
    const std::vector<Vec2> here = crosses(drawing.pages[i]);
    const std::vector<Vec2> next = crosses(drawing.pages[i + 1]);
    REQUIRE(here.size() >= 2);
    REQUIRE(next.size() >= 2);
    const Vec2 span = here.back() - here[here.size() - 2];
    CHECK(length(span - (next[1] - next[0])) < 1e-9);
    CHECK(length(span) > 50.0);
  }
}

TEST_CASE("a net wider than the sheet is joined sideways") {
  TubeShape shape = round_tube(45.0, 45.0, 160.0, 5.0);
  shape.id = "stout";
  const Tube tube{shape};
  Instrument instrument = bare_instrument(tube, "drum-test");
  for (int i = 0; i < 4; ++i) {
    instrument.keys.push_back(
        placed_key(tube, "K" + std::to_string(i + 1), {60.0, -60.0 + 40.0 * i}, 16.0, {20, 20, 10}));
  }
  const Drawing drawing =
      wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument));
  CHECK(drawing.pages.size() == 2);
  for (const Page& page : drawing.pages) {
    check_page(page, 10.0);
    CHECK(count_words(page, "A") == 1);
    CHECK(count_words(page, "B") == 1);
  }
}

TEST_CASE("openings, parts, slider, nodes, blemishes and cuts are drawn and explained") {
  const Tube tube = long_culm();
  const Instrument instrument = long_instrument(tube);
  const Drawing drawing =
      wrap_template(tube, instrument, shop_with(PaperSize::a4), whole_run(tube, instrument));
  std::map<std::string, int> words;
  for (const Page& page : drawing.pages) {
    for (const Text& text : texts_of(page)) ++words[text.words];
    // What is hatched on a sheet is in its legend.
    if (group_of(page, "nodes") == nullptr) continue;  // words alone
    bool hatched_node = false;
    for (const Item& item : group_of(page, "nodes")->items) {
      hatched_node = hatched_node || std::get<Path>(std::get<Shape>(item).geometry).contours.size() > 3;
    }
    CHECK((count_words(page, "node: no hole here") == 1) == hatched_node);
  }
  for (const char* named : {"opening", "thumb rest", "slider", "avoid", "hide", "mouth cut", "foot cut"}) {
    INFO(named);
    CHECK(words[named] == 1);
  }
}

TEST_CASE("runs go from node to node and hold what they are for") {
  const Tube tube = long_culm();
  const Instrument instrument = long_instrument(tube);
  const std::vector<Run> runs = internode_runs(tube, instrument);
  REQUIRE(runs.size() == 2);
  CHECK(runs[0].at_from == Approx(0.22 * 900.0));
  CHECK(runs[0].at_to == Approx(0.56 * 900.0));
  CHECK(runs[1].at_to == Approx(0.88 * 900.0));
  CHECK(whole_run(tube, instrument).at_from == 13.0);
  CHECK(whole_run(tube, instrument).at_to == 885.0);
}
