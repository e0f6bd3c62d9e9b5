#pragma once
/// Where the two cradles of a set stand along the tube. For kernel/plan.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "plan/offset_field.hpp"

namespace culmwright {

/// Something of the skin under a cradle that it must not bear on.
struct UnderCradle {
  std::string words;
  Span at;
  std::optional<Span> theta;  ///< unwrapped near the cradle's middle; none: all around
  double height = 0.0;        ///< it stands out of the smooth skin
};
/// All that lies within the reach of a cradle whose middle is that direction.
std::vector<UnderCradle> under_cradle(const Tube& tube, const Instrument& instrument, double middle);

struct CradlePlace {
  Span at;
  std::vector<UnderCradle> over;  ///< what it has to be relieved for; none where there is a clear place
};
/// Two places `length` long, the first nearer end A, with `work` between their middles where the tube is long
/// enough: the nearest clear ones outside it, else inside, else over a ridge, else over a hole. None where
/// the tube between its cuts has no room for two.
std::optional<std::vector<CradlePlace>> cradle_places(const Tube& tube, const Instrument& instrument,
                                                      double middle, double length, Span work);

}  // namespace culmwright
