#include "fit/frame.hpp"

#include <catch2/catch.hpp>

#include "shapes.hpp"

using namespace culmwright;
using namespace culmwright::test;

TEST_CASE("played and tube coordinates undo each other on a bent oval culm, either end up") {
  const Tube tube{culm()};
  for (const End mouth : {End::a, End::b}) {
    const bool a = mouth == End::a;
    const PlayedFrame frame(tube, mouth, a ? 12.0 : 409.0, a ? 409.0 : 12.0, Angle::from_degrees(137.0));
    for (double at : {20.0, 92.0, 151.3, 236.0, 402.0}) {
      for (double around : {-46.0, -20.0, 0.0, 3.7, 41.0}) {
        const SkinPlace back = frame.on_tube(frame.played({at, around}));
        CHECK(back.at == Approx(at).margin(1e-9));
        CHECK(back.around == Approx(around).margin(1e-9));
        const PlayedPlace again = frame.played(frame.on_tube({at, around}));
        CHECK(again.along == Approx(at).margin(1e-9));
        CHECK(again.around == Approx(around).margin(1e-9));
      }
    }
  }
}

TEST_CASE("on a round tube the key line lies at its facing as arc of the circle") {
  // Arc = R · angle: closed form.
  const Tube tube{round_tube(15, 15, 300, 4)};
  const PlayedFrame frame(tube, End::a, 10.0, 290.0, Angle::from_degrees(60.0));
  CHECK(frame.key_line_around(77.0) == Approx(15.0 * pi / 3.0).epsilon(1e-12));
  const PlayedPlace played = frame.played({77.0, 0.0});
  CHECK(played.along == Approx(67.0));
  CHECK(played.around == Approx(-15.0 * pi / 3.0).epsilon(1e-12));
}

TEST_CASE("with the other end up, what was to the player's left is to the player's right") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  const PlayedFrame a_up(tube, End::a, 10.0, 290.0, Angle());
  const PlayedFrame b_up(tube, End::b, 290.0, 10.0, Angle());
  const PlayedPlace one = a_up.played({60.0, 7.0});
  const PlayedPlace other = b_up.played({60.0, 7.0});
  CHECK(one.along == Approx(50.0));
  CHECK(other.along == Approx(230.0));
  CHECK(one.around == Approx(7.0));
  CHECK(other.around == Approx(-7.0));
}

TEST_CASE("around as played is never more than half a girth") {
  const Tube tube{round_tube(15, 15, 300, 4)};
  const double girth = 2 * pi * 15;
  const PlayedFrame frame(tube, End::a, 0.0, 300.0, Angle::from_degrees(150.0));
  for (double around : {-47.0, -30.0, -8.0, 5.0, 46.9}) {
    const PlayedPlace played = frame.played({100.0, around});
    CHECK(played.around > -0.5 * girth);
    CHECK(played.around <= 0.5 * girth);
    CHECK(std::remainder(played.around + 15.0 * pi * 150 / 180 - around, girth) == Approx(0.0).margin(1e-9));
  }
}

TEST_CASE("the key line is straight in space on a bent piece, as the reference line is") {
  const Tube tube{culm()};
  const Angle facing = Angle::from_degrees(100.0);
  const PlayedFrame frame(tube, End::a, 0.0, 420.0, facing);
  for (double at : {0.0, 88.0, 210.0, 420.0}) {
    const Vec3 point = tube.skin_point({at, frame.key_line_around(at)}).point;
    CHECK(cross(direction(facing), Vec2{point.x, point.y}) == Approx(0.0).margin(1e-9));
  }
}
