#pragma once
/// Invented instruments for the tests of templates and pictures.
#include <string>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "shapes.hpp"

namespace culmwright::test {

inline PlacedKey placed_key(const Tube& tube, const std::string& id, SkinPlace place, double diameter,
                            Touch touch) {
  PlacedKey key;
  key.key.id = id;
  key.key.hole_diameter = diameter;
  key.key.touch = touch;
  key.place = place;
  key.along = place.at;
  key.around = place.around;
  key.theta = tube.section(place.at).theta_at(place.around);
  key.drilling = drilling_at(tube, place, HoleSquare::to_skin, 0.5 * diameter);
  return key;
}

inline PlacedPart placed_part(const Tube& tube, const std::string& id, PartKind kind, SkinPlace place,
                              double length, double width, double corner, double travel = 0.0) {
  PlacedPart part;
  part.part.id = id;
  part.part.kind = kind;
  part.part.length = length;
  part.part.width = width;
  part.part.corner_radius = corner;
  part.part.travel = travel;
  part.place = place;
  part.theta = tube.section(place.at).theta_at(place.around);
  return part;
}

inline Instrument bare_instrument(const Tube& tube, const std::string& id) {
  Instrument instrument;
  instrument.id = id;
  instrument.tube_id = tube.id();
  instrument.mouth_cut_at = tube.end_a_at();
  instrument.foot_cut_at = tube.end_b_at();
  return instrument;
}

/// A straight pipe of 32 with six holes in front and a thumb hole behind.
inline Tube short_pipe() {
  TubeShape shape = round_tube(15.0, 15.0, 180.0, 4.0);
  shape.id = "pipe-1";
  return Tube(shape);
}
inline Instrument short_instrument(const Tube& tube) {
  Instrument instrument = bare_instrument(tube, "whistle-test");
  for (int i = 0; i < 6; ++i) {
    instrument.keys.push_back(placed_key(tube, (i < 3 ? "L" : "R") + std::to_string(i % 3 + 1),
                                         {30.0 + 22.0 * i, i % 2 == 0 ? 1.0 : -1.0}, 10.0,
                                         {16.0, 14.0, 7.0}));
  }
  instrument.keys.push_back(placed_key(tube, "T", {34.0, 44.0}, 8.0, {14.0, 14.0, 7.0}));
  return instrument;
}

/// A long bowed culm with seventeen keys, an opening, a thumb rest and a slider.
inline Tube long_culm() {
  TubeShape shape = culm(900.0);
  shape.id = "culm-17";
  shape.blemishes.push_back({{300.0, 38.0}, 24.0, 9.0, BlemishUse::avoid, "crack"});
  shape.blemishes.push_back({{690.0, -30.0}, 14.0, 10.0, BlemishUse::hide, "scar"});
  return Tube(shape);
}
inline Instrument long_instrument(const Tube& tube) {
  Instrument instrument = bare_instrument(tube, "tenor-17");
  instrument.mouth_cut_at = 18.0;
  instrument.foot_cut_at = 880.0;
  instrument.facing = Angle::from_degrees(14.0);
  instrument.revision = 3;
  const Touch touch{17.0, 15.0, 7.0};
  const double front = 4.0;
  for (int i = 0; i < 7; ++i) {
    const double at = (i < 4 ? 225.0 : 350.0) + 24.0 * (i < 4 ? i : i - 4);
    instrument.keys.push_back(
        placed_key(tube, "L" + std::to_string(i + 1), {at, front + (i % 2 == 0 ? 3.0 : -2.0)}, 12.0, touch));
  }
  for (int i = 0; i < 7; ++i) {
    const double at = 525.0 + 25.0 * i + (i > 3 ? 40.0 : 0.0);
    instrument.keys.push_back(
        placed_key(tube, "R" + std::to_string(i + 1), {at, front + (i % 3) * 2.0}, 13.5, touch));
  }
  instrument.keys.push_back(placed_key(tube, "S1", {260.0, 30.0}, 9.0, {20.0, 10.0, 5.0}));
  instrument.keys.push_back(placed_key(tube, "S2", {590.0, -26.0}, 9.0, {20.0, 10.0, 5.0}));
  instrument.keys.push_back(placed_key(tube, "T1", {245.0, -48.0}, 10.0, {16.0, 16.0, 8.0}));
  instrument.parts.push_back(placed_part(tube, "hatch", PartKind::opening, {720.0, 50.0}, 60.0, 20.0, 6.0));
  instrument.parts.push_back(placed_part(tube, "rest", PartKind::thumb_rest, {565.0, 52.0}, 40.0, 18.0, 6.0));
  instrument.parts.push_back(
      placed_part(tube, "glide", PartKind::slider, {420.0, -24.0}, 70.0, 14.0, 3.0, 50.0));
  return instrument;
}

inline Shop shop_with(PaperSize size, double thickness = 0.1) {
  Shop shop;
  shop.paper.size = size;
  shop.paper.thickness = thickness;
  return shop;
}

}  // namespace culmwright::test
