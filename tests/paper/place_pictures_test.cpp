#include "paper/place_pictures.hpp"

#include <catch2/catch.hpp>

#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

Instrument with_key(const Tube& tube, SkinPlace place) {
  Instrument instrument;
  instrument.layout_id = "one key";
  instrument.tube_id = tube.id();
  instrument.mouth_cut_at = tube.end_a_at();
  instrument.foot_cut_at = tube.end_b_at();
  PlacedKey key;
  key.key.id = "K1";
  key.key.hole_diameter = 8.0;
  key.key.touch = {14.0, 14.0, 7.0};
  key.place = place;
  key.drilling = drilling_at(tube, place, HoleSquare::to_skin, 4.0);
  key.theta = tube.skin_point(place).theta;
  instrument.keys.push_back(key);
  return instrument;
}

/// The hole's outline and the ring, as they stand on the page.
struct Drawn {
  Box hole;
  Vec2 ring;
};

Drawn drawn(const Page& page) {
  Drawn found;
  for (const Group& group : page.groups) {
    for (const Item& item : group.items) {
      const Shape* shape = std::get_if<Shape>(&item);
      if (shape == nullptr) continue;
      if (shape->fill == Ink::accent) found.hole = bounds(item);
      if (const Circle* ring = std::get_if<Circle>(&shape->geometry)) found.ring = ring->centre;
    }
  }
  return found;
}

}  // namespace

TEST_CASE("the picture of a place stands at true size about that place, on the back of the tube too") {
  // Developed rim of (R, r) = (15, 4): 8.097984 × 8 (closed form, calculated), here with half a line's width
  // around.
  const Tube tube{round_tube(15, 15, 300, 4)};
  for (double around : {0.0, 20.0, pi * 15.0 - 1.0}) {
    const SkinPlace place{120.0, around};
    const Drawing drawing =
        place_pictures(tube, with_key(tube, place), {{place, "hole: fails", "Look here."}});
    REQUIRE(drawing.pages.size() == 1);
    const Drawn found = drawn(drawing.pages.front());
    CHECK(found.hole.width() - thin_line == Approx(8.097984).margin(0.01));
    CHECK(found.hole.height() - thin_line == Approx(8.0).margin(0.01));
    CHECK(length(found.hole.middle() - found.ring) < 0.01);
  }
}

TEST_CASE("seven places take two pages and nothing leaves the margin") {
  const Tube tube{culm()};
  const SkinPlace place{92.0, 10.0};  // on a ridge
  const Drawing drawing = place_pictures(
      tube, with_key(tube, place),
      std::vector<MarkedPlace>(
          7, {place, "hole from a node's ridge: FAILS", "Hole K1 cuts into the ridge of node 1."}));
  REQUIRE(drawing.pages.size() == 2);
  for (const Page& page : drawing.pages) {
    const Box margin{9.7, 9.7, page.width - 9.7, page.height - 9.7};
    for (const Group& group : page.groups) {
      for (const Item& item : group.items) CHECK(margin.contains(bounds(item), 0.01));
    }
  }
}
