#pragma once
/// Two placements on one tube laid over each other: the later one as it is, what moved as it was, and arrows
/// between.
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// A key or part that moved, both of the two have it.
struct OverlayMove {
  std::string id;
  std::string words;  ///< "2.0 toward foot, 1.0 to player's left"
};

/// Upright pages: the whole piece at a scale that fits, then a window on each moved key or part, all windows
/// at one scale, enlarged where the moves are small. `words`: what else differs, under the heading.
/// Precondition: both instruments stand on `tube`.
Drawing compare_overlay(const Tube& tube, const Instrument& was, const Instrument& now,
                        const std::vector<OverlayMove>& moves, const std::string& heading,
                        const std::vector<std::string>& words, PaperSize paper);

}  // namespace culmwright
