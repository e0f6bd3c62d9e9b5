#include "layout/mock_up.hpp"

#include <algorithm>

namespace culmwright {

namespace {

MockUpPatch patch_of(std::string id, std::string words, SkinPlace place, double length, double width,
                     double corner_radius, double travel) {
  return {std::move(id), std::move(words),
          place,         length,
          width,         std::clamp(corner_radius, 0.0, 0.5 * std::min(length, width)),
          travel};
}

}  // namespace

std::vector<MockUpPatch> mock_up_patches(const Instrument& instrument) {
  std::vector<MockUpPatch> patches;
  for (const PlacedKey& key : instrument.keys) {
    const Touch& touch = key.key.touch;
    patches.push_back(
        patch_of(key.key.id, "touch", key.place, touch.length, touch.width, touch.corner_radius, 0.0));
  }
  for (const PlacedPart& placed : instrument.parts) {
    const Part& part = placed.part;
    if (part.length <= 0.0 || part.width <= 0.0) continue;
    if (part.kind == PartKind::slider) {
      patches.push_back(patch_of(part.id, "slider", placed.place, std::max(part.length, part.travel),
                                 part.width, part.corner_radius, part.travel));
    } else if (part.kind == PartKind::thumb_rest) {
      patches.push_back(
          patch_of(part.id, "thumb rest", placed.place, part.length, part.width, part.corner_radius, 0.0));
    }
  }
  return patches;
}

}  // namespace culmwright
