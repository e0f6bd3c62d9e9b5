#pragma once
/// Instruments drilled into tubes of known shape.
#include "plan/sample_cups.hpp"

namespace samples {

inline void drill(Instrument& instrument, const Tube& tube, const std::string& id, SkinPlace place,
                  double hole) {
  PlacedKey key = placed_key(tube, place, hole, CupKind::touch_cap);
  key.key.id = id;
  instrument.keys.push_back(key);
}

inline void open(Instrument& instrument, const Tube& tube, SkinPlace place, double length, double width) {
  PlacedPart part;
  part.part.id = "cable";
  part.part.kind = PartKind::opening;
  part.part.length = length;
  part.part.width = width;
  part.part.corner_radius = 3.0;
  part.place = place;
  const SkinPoint skin = tube.skin_point(place);
  part.point = skin.point;
  part.normal = skin.normal;
  instrument.parts.push_back(part);
}

/// A short piece cut out of a tube: quick to build and to mesh finely.
inline Instrument piece(double from_at, double to_at) {
  Instrument instrument;
  instrument.mouth_cut_at = from_at;
  instrument.foot_cut_at = to_at;
  return instrument;
}

}  // namespace samples
