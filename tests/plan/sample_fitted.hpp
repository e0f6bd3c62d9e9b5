#pragma once
/// Fitted parts placed on tubes of known shape, without a key layout or placement.
#include "layout/instrument.hpp"
#include "shapes.hpp"

namespace samples {

using namespace culmwright;

inline PlacedPart placed_part(const Tube& tube, PartKind kind, SkinPlace place, double length, double width,
                              PartShape shape = {}) {
  PlacedPart part;
  part.part.id = "rest";
  part.part.kind = kind;
  part.part.length = length;
  part.part.width = width;
  part.part.corner_radius = 4.0;
  part.part.shape = shape;
  part.place = place;
  const SkinPoint point = tube.skin_point(place);
  part.theta = point.theta;
  part.point = point.point;
  const Vec2 out = direction(point.theta);
  part.normal = {out.x, out.y, 0.0};
  return part;
}

}  // namespace samples
