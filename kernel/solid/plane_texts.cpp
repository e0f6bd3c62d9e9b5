#include "solid/plane_texts.hpp"

#include <cmath>

namespace culmwright {

std::vector<WirePath> texts_in(FlatFaces& flat, const std::vector<PlaneText>& texts, Vec3 point, Vec3 normal,
                               double depth) {
  constexpr double same = 1e-6;
  std::vector<WirePath> holes;
  for (const PlaneText& text : texts) {
    const bool here =
        dot(text.frame.z, normal) > 1.0 - same && std::abs(dot(text.frame.origin - point, normal)) < same;
    if (!here) continue;
    for (WirePath& hole : flat.engraved(text.frame, text.strokes, depth)) holes.push_back(std::move(hole));
  }
  return holes;
}

}  // namespace culmwright
