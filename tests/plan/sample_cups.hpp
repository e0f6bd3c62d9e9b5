#pragma once
/// Keys placed on tubes of known shape, without a key layout or placement.
#include "layout/instrument.hpp"
#include "shapes.hpp"

namespace samples {

using namespace culmwright;

inline PlacedKey placed_key(const Tube& tube, SkinPlace place, double hole, CupKind kind, Touch touch = {}) {
  PlacedKey key;
  key.key.id = "L1";
  key.key.cup = kind;
  key.key.touch = touch;
  key.key.hole_diameter = hole;
  key.place = place;
  key.drilling = drilling_at(tube, place, HoleSquare::to_skin, 0.5 * hole);
  key.theta = tube.skin_point(place).theta;
  key.wall = tube.wall(place);
  return key;
}

}  // namespace samples
