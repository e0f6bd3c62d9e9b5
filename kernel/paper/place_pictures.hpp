#pragma once
/// Small pictures of places on an instrument, true size, each with a sentence: where a rule is broken and
/// what stands there.
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "layout/instrument.hpp"
#include "tube/tube.hpp"

namespace culmwright {

struct MarkedPlace {
  SkinPlace place;
  std::string title;  ///< a few words, bold
  std::string sentence;
};

/// A4 pages (upright) of windows on the unrolled skin, scale 1:1, mouth end up; the place is ringed in the
/// middle. Precondition: at least one place, all on the tube.
Drawing place_pictures(const Tube& tube, const Instrument& instrument,
                       const std::vector<MarkedPlace>& places);

}  // namespace culmwright
