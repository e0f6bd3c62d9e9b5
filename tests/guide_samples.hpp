#pragma once
/// Instruments for the tests of guides, laid out without documents.
#include "layout/instrument.hpp"
#include "shapes.hpp"

namespace culmwright::test {

inline PlacedKey placed(const Tube& tube, const std::string& id, SkinPlace place, double diameter,
                        HoleSquare square = HoleSquare::to_skin) {
  PlacedKey key;
  key.key.id = id;
  key.key.hole_diameter = diameter;
  key.key.square = square;
  key.place = place;
  key.theta = tube.section(place.at).theta_at(place.around);
  key.drilling = drilling_at(tube, place, square, 0.5 * diameter);
  return key;
}

inline Instrument instrument_on(const Tube& tube) {
  Instrument instrument;
  instrument.id = "sample";
  instrument.tube_id = tube.id();
  instrument.mouth_cut_at = tube.end_a_at();
  instrument.foot_cut_at = tube.end_b_at();
  return instrument;
}

/// Three holes in a row on a short straight pipe.
inline Instrument three_in_a_row(const Tube& tube) {
  Instrument instrument = instrument_on(tube);
  for (int i = 0; i < 3; ++i) {
    instrument.keys.push_back(placed(tube, "L" + std::to_string(i + 1), {45.0 + 22.0 * i, 0.0}, 10.0));
  }
  return instrument;
}

/// Twenty holes of 8 to 18: two hands in front, slightly to the sides, a thumb and side keys behind.
inline Instrument twenty_holes(const Tube& tube) {
  Instrument instrument = instrument_on(tube);
  instrument.revision = 3;
  const double first[2] = {36.0, 250.0};
  for (int hand = 0; hand < 2; ++hand) {
    const std::string name = hand == 0 ? "L" : "R";
    for (int i = 0; i < 8; ++i) {
      const double around = (i % 2 == 0 ? 4.0 : -5.0) + 1.5 * hand;
      instrument.keys.push_back(
          placed(tube, name + std::to_string(i + 1), {first[hand] + 19.0 * i, around}, 8.0 + i % 4 * 3.0));
    }
    const double half_girth = 0.5 * tube.girth(first[hand] + 20.0);
    instrument.keys.push_back(placed(tube, name + "T", {first[hand] + 25.0, half_girth - 3.0}, 10.0));
    instrument.keys.push_back(placed(tube, name + "S", {first[hand] + 66.0, -0.5 * half_girth}, 18.0));
  }
  return instrument;
}

}  // namespace culmwright::test
