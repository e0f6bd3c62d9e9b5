#pragma once
/// What a mock-up has in place of keys and parts: one patch for everything that a finger or the hand feels.
#include <string>
#include <vector>

#include "layout/instrument.hpp"

namespace culmwright {

/// A rounded rectangle of skin about its place: `length` along the tube, `width` as arc around it.
struct MockUpPatch {
  std::string id;     ///< of the key or part
  std::string words;  ///< "touch", "slider", "thumb rest"
  SkinPlace place;
  double length = 0.0;
  double width = 0.0;
  double corner_radius = 0.0;  ///< at most half of the lesser side
  double travel = 0.0;         ///< of a slider, along the tube
};

/// Every touch, then every slider and thumb rest, in the instrument's order. A slider's patch is as long as
/// its footprint, and at least as its travel.
std::vector<MockUpPatch> mock_up_patches(const Instrument& instrument);

}  // namespace culmwright
