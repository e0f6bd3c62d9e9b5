#pragma once
/// The small holes that fitted parts (plan/fitted_plan.hpp) want in the tube, for whoever only draws them.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"

namespace culmwright {

struct FittedHoles {
  std::string id;                ///< of the part
  std::vector<Drilling> screws;  ///< as wide as they are drilled
  double depth = 0.0;            ///< of the screws' holes from the skin, at most; 0 where there are none
  std::optional<Drilling> wires;
};

/// Of every part that can be planned; one that cannot is left out, for the command cups says why.
std::vector<FittedHoles> fitted_holes(const Tube& tube, const Instrument& instrument, const Shop& shop);

}  // namespace culmwright
