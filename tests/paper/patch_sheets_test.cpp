#include "paper/patch_sheets.hpp"

#include <catch2/catch.hpp>

#include "page_checks.hpp"
#include "paper/development.hpp"
#include "sample_instruments.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

MockUpPatch patch(SkinPlace place, double length, double width, double corner) {
  return {"P", "touch", place, length, width, corner, 0.0};
}

double area(const Polyline& outline) {
  return std::abs(signed_area(outline));
}

Box bounds_of(const Polyline& line) {
  Box box{line.front().x, line.front().y, line.front().x, line.front().y};
  for (Vec2 p : line) box = box.joined({p.x, p.y, p.x, p.y});
  return box;
}

}  // namespace

TEST_CASE("on a straight pipe a patch is the touch's own rounded rectangle") {
  const Tube tube{round_tube(15.0, 15.0, 200.0, 3.0)};
  const FlatPatch flat = flat_patch(tube, patch({100.0, 7.0}, 22.0, 14.0, 5.0), End::a, 3.0);
  const Box box = bounds_of(flat.outline);
  CHECK(box.left == Approx(-7.0).margin(1e-9));
  CHECK(box.right == Approx(7.0).margin(1e-9));
  CHECK(box.top == Approx(-11.0).margin(1e-9));
  CHECK(box.bottom == Approx(11.0).margin(1e-9));
  // 22 × 14 less the corners, (4 − π) 5²; chords of 24 to a corner leave 0.05 mm².
  CHECK(area(flat.outline) == Approx(22.0 * 14.0 - (4.0 - pi) * 25.0).margin(0.06));
}

TEST_CASE("the upper face of bent foam is longer around by its thickness times the angle it is bent by") {
  const Tube tube{round_tube(15.0, 15.0, 200.0, 3.0)};
  // 14 of arc on a radius of 15 turns the normal by 14/15; 3 mm above, the arc is 18 · 14/15 = 16.8 long.
  CHECK(flat_patch(tube, patch({100.0, 0.0}, 22.0, 14.0, 5.0), End::a, 3.0).spread ==
        Approx(2.8).margin(1e-9));
}

TEST_CASE("on a tapered tube a patch is a piece of the cone's own net") {
  // r 15 → 13 over 300 (REFERENCES: slant 300.006667, net radii 2250.05 and 1950.043): a ring of skin between
  // two sections lies flat between two arcs about one middle, with the same length around as on the tube.
  const Tube tube{round_tube(15.0, 13.0, 300.0, 3.0)};
  const double length = 60.0;
  const double width = 40.0;
  const FlatPatch flat = flat_patch(tube, patch({150.0, 0.0}, length, width, 0.0), End::a, 3.0);
  const double slope = 300.006667 / 300.0;
  const double radius = 15.0 * 2250.05 / 15.0 - 150.0 * slope;  // of the patch's middle from the cone's point
  for (Vec2 p : flat.outline) {
    // End A is the wide end, and up: the cone's point lies below the patch's middle.
    const Vec2 from_point = p - Vec2{0.0, radius};
    const double r = std::hypot(from_point.x, from_point.y);
    const double at = 150.0 + (radius - r) / slope;
    const double around = std::atan2(from_point.x, -from_point.y) * r;
    CHECK(std::abs(at - 150.0) <= 0.5 * length + 1e-3);
    CHECK(std::abs(around) <= 0.5 * width + 1e-3);
    const bool on_edge = std::abs(std::abs(at - 150.0) - 0.5 * length) < 1e-3 ||
                         std::abs(std::abs(around) - 0.5 * width) < 1e-3;
    CHECK(on_edge);
  }
}

TEST_CASE("with the mouth at B a patch is turned upside down, not mirrored") {
  const Tube tube{culm()};
  const MockUpPatch one = patch({150.0, 12.0}, 40.0, 24.0, 4.0);
  const FlatPatch up = flat_patch(tube, one, End::a, 3.0);
  const FlatPatch down = flat_patch(tube, one, End::b, 3.0);
  REQUIRE(up.outline.size() == down.outline.size());
  double greatest = 0.0;
  double to_mirror = 0.0;
  for (std::size_t i = 0; i < up.outline.size(); ++i) {
    greatest = std::max(greatest, length(up.outline[i] + down.outline[i]));
    to_mirror = std::max(to_mirror, length(up.outline[i] - Vec2{down.outline[i].x, -down.outline[i].y}));
  }
  CHECK(greatest < 0.01);  // the two directions along are taken one millimetre to either side
  CHECK(to_mirror > 1.0);
  // Around grows to the right while end A is up: the outline's point of greatest θ stands at the right.
  const Angle theta = tube.section(150.0).theta_at(12.0);
  const Development net = Development::fit(tube, 127.0, 173.0, 0.0);
  const Vec2 right = net.unroll(SkinPlace{150.0, 20.0}) - net.unroll(Development::Ray{theta, 150.0});
  CHECK(right.x > 7.9);
}

TEST_CASE(
    "every touch, slider and thumb rest of an instrument is on the sheets once, at true size and named") {
  const Tube tube = long_culm();
  const Instrument instrument = long_instrument(tube);
  Shop shop;
  for (const PaperSize size : {PaperSize::a4, PaperSize::letter, PaperSize::a3}) {
    shop.paper.size = size;
    const Drawing drawing = patch_sheets(tube, instrument, shop);
    std::vector<double> areas;
    int named = 0;
    for (const Page& page : drawing.pages) {
      check_page(page, shop.paper.margin);
      for (const PlacedKey& key : instrument.keys) named += count_words(page, key.key.id);
      named += count_words(page, "rest") + count_words(page, "glide");
      CHECK(count_words(page, "hatch") == 0);
      for (const Item& item : group_of(page, "patches")->items) {
        Polyline outline;
        for (const Segment& s : segments_of(std::get<Shape>(item))) outline.push_back(s.from);
        areas.push_back(area(outline));
      }
    }
    CHECK(named == 19);
    REQUIRE(areas.size() == 19);
    // Seventeen touches, the rest of 40 × 18 and the slider of 70 × 14, each less its corners.
    double expected = 14 * (17.0 * 15.0 - (4.0 - pi) * 49.0) + 2 * (20.0 * 10.0 - (4.0 - pi) * 25.0) +
                      pi * 64.0 + 40.0 * 18.0 - (4.0 - pi) * 36.0 + 70.0 * 14.0 - (4.0 - pi) * 9.0;
    double sum = 0.0;
    for (const double a : areas) sum += a;
    CHECK(sum == Approx(expected).epsilon(0.003));
  }
}

TEST_CASE("no two patches are nearer to each other than a knife needs") {
  const Tube tube = long_culm();
  for (const Page& page : patch_sheets(tube, long_instrument(tube), Shop{}).pages) {
    std::vector<Box> boxes;
    for (const Item& item : group_of(page, "patches")->items) boxes.push_back(bounds(item).grown(1.9));
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      for (std::size_t k = 0; k < i; ++k) CHECK_FALSE(boxes[i].overlaps(boxes[k]));
    }
  }
}

TEST_CASE("a patch larger than the paper is refused by name") {
  const Tube tube = long_culm();
  Instrument instrument = long_instrument(tube);
  instrument.parts.back().part.travel = 400.0;
  try {
    patch_sheets(tube, instrument, Shop{});
    FAIL("drawn all the same");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).find("glide") != std::string::npos);
  }
}

TEST_CASE("an instrument without keys and parts has no patch sheet") {
  const Tube tube = long_culm();
  CHECK(patch_sheets(tube, bare_instrument(tube, "none"), Shop{}).pages.empty());
}
