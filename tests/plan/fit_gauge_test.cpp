#include "plan/fit_gauge.hpp"

#include <catch2/catch.hpp>

#include "base/problem.hpp"

using namespace culmwright;

namespace {

const GaugeRow& row_of(const FitGauge& gauge, GaugeFit fit) {
  for (const GaugeRow& row : gauge.rows) {
    if (row.fit == fit) return row;
  }
  FAIL("a row is missing");
  return gauge.rows.front();
}

/// Corners of the box around a text.
struct TextBox {
  Vec2 low{1e9, 1e9};
  Vec2 high{-1e9, -1e9};
  explicit TextBox(const PlaneText& text) {
    for (const StrokeOutline& stroke : text.strokes) {
      for (const Vec2& p : stroke) {
        const Vec3 q = text.frame.apply({p.x, p.y, 0});
        low = {std::min(low.x, q.x), std::min(low.y, q.y)};
        high = {std::max(high.x, q.x), std::max(high.y, q.y)};
      }
    }
  }
  double from(Vec2 p) const {
    return length(
        Vec2{std::max({low.x - p.x, p.x - high.x, 0.0}), std::max({low.y - p.y, p.y - high.y, 0.0})});
  }
};

}  // namespace

TEST_CASE("the gauge has a row for each fit, a tenth apart, for what lies in the drawer") {
  const FitGauge gauge = plan_fit_gauge(Shop{});
  REQUIRE(gauge.rows.size() == 4);
  CHECK(row_of(gauge, GaugeFit::pilot).nominal == 3.0);
  CHECK(row_of(gauge, GaugeFit::bush).nominal == 6.0);  // DIN 179: up to 3.3, outside 6 (from memory)
  CHECK(row_of(gauge, GaugeFit::drill).nominal == 8.0);
  const GaugeRow& bush = row_of(gauge, GaugeFit::bush);
  REQUIRE(bush.spots.size() == 7);
  for (std::size_t i = 0; i < 7; ++i)
    CHECK(bush.spots[i].diameter == Approx(6.0 + 0.1 * static_cast<double>(i)));
  CHECK(row_of(gauge, GaugeFit::spigot).spots.front().diameter == Approx(7.4));
  CHECK(row_of(gauge, GaugeFit::spigot).spots.back().diameter == Approx(8.0));
  Shop shop;
  shop.drills = {{DrillKind::twist, 6.0, 6.0, 0, 57, 6.1}, {DrillKind::forstner, 9.0, 8.0, 10, 0, {}}};
  shop.bushes = {{3.0, 7.0, 12.0}};
  const FitGauge other = plan_fit_gauge(shop);
  shop.drills.push_back({DrillKind::brad_point, 9.0, 9.0, 0, 81, 9.1});
  shop.drills.push_back({DrillKind::twist, 3.0, 3.0, 0, 33, 3.05});
  CHECK(row_of(plan_fit_gauge(shop), GaugeFit::drill).nominal == 9.0);  // nearest to 8
  CHECK(row_of(other, GaugeFit::bush).nominal == 7.0);
  CHECK(row_of(other, GaugeFit::drill).nominal == 6.0);
  CHECK(row_of(other, GaugeFit::spigot).nominal == Approx(6.1));  // the hole that drill makes
}

TEST_CASE(
    "no letter of the gauge is nearer to a hole, a peg, an edge or another text than half a millimetre") {
  const FitGauge gauge = plan_fit_gauge(Shop{});
  for (std::size_t i = 0; i < gauge.texts.size(); ++i) {
    const TextBox box(gauge.texts[i]);
    INFO(gauge.texts[i].text);
    CHECK(box.low.x > 0.5);
    CHECK(box.low.y > 0.5);
    CHECK(box.high.x < gauge.length - 0.5);
    CHECK(box.high.y < gauge.width - 0.5);
    for (const GaugeRow& row : gauge.rows) {
      for (const GaugeSpot& spot : row.spots) CHECK(box.from(spot.middle) > 0.5 * spot.diameter + 0.5);
    }
    for (std::size_t k = 0; k < i; ++k) {
      const TextBox other(gauge.texts[k]);
      const double apart = std::max({box.low.x - other.high.x, other.low.x - box.high.x,
                                     box.low.y - other.high.y, other.low.y - box.high.y});
      CHECK(apart > 0.5);
    }
  }
}

TEST_CASE("holes keep a wall between them, and scrap goes between the pegs") {
  const FitGauge gauge = plan_fit_gauge(Shop{});
  for (const GaugeRow& row : gauge.rows) {
    const double least = row.pegs() ? gauge_sizes::scrap : gauge_sizes::wall;
    for (std::size_t i = 1; i < row.spots.size(); ++i) {
      const double pitch = row.spots[i].middle.x - row.spots[i - 1].middle.x;
      CHECK(pitch - 0.5 * (row.spots[i].diameter + row.spots[i - 1].diameter) >= least);
    }
    CHECK(row.spots.front().middle.x - 0.5 * row.spots.front().diameter >= gauge_sizes::wall);
    CHECK(gauge.length - row.spots.back().middle.x - 0.5 * row.spots.back().diameter >= gauge_sizes::wall);
  }
  CHECK(std::fmod(gauge.length, 10.0) == 0.0);
}

TEST_CASE("the gauge's volume is the plate less its holes and letters, with its pegs") {
  const FitGauge gauge = plan_fit_gauge(Shop{});
  const Expectation expected = expectation_of(gauge);
  double volume = gauge.length * gauge.width * 5.0;
  for (const double d : {3.0, 6.0, 8.0}) {
    for (int i = 0; i < 7; ++i) volume -= pi * 0.25 * (d + 0.1 * i) * (d + 0.1 * i) * 5.0;
  }
  for (int i = 0; i < 7; ++i) volume += pi * 0.25 * (7.4 + 0.1 * i) * (7.4 + 0.1 * i) * 8.0;
  CHECK(expected.volume < volume);
  CHECK(expected.volume >
        volume - 400.0);  // letters: 31 of them, some 25 mm² each at most, half a millimetre deep
  CHECK(expected.genus == 21);
  CHECK(expected.bores.size() == 21);
}

TEST_CASE("a bed too small for the gauge is named with what is needed") {
  Shop shop;
  shop.printer.bed_x = shop.printer.bed_y = 120.0;
  try {
    plan_fit_gauge(shop);
    FAIL("it lies on the bed");
  } catch (const GeometryError& error) {
    CHECK(std::string(error.what()).find("do not lie on a bed of 120 × 120") != std::string::npos);
  }
}

TEST_CASE("the reading names every field of the shop that it settles") {
  std::string all;
  for (const std::string& step : reading_steps(plan_fit_gauge(Shop{}))) all += step + "\n";
  for (const char* field : {"printer.shrinkage_percent", "printer.hole_undersize", "fits.drill", "fits.bush",
                            "fits.peg", "fits.spigot", "measured_hole"}) {
    INFO(field);
    CHECK(all.find(field) != std::string::npos);
  }
}
