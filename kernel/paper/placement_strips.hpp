#pragma once
/// Placements side by side at one scale: each instrument's skin unrolled about its key line, mouth end up,
/// with nodes, holes, touches, parts and hands. For choosing, not for measuring from.
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "tube/tube.hpp"

namespace culmwright {

struct PlacementStrip {
  Tube tube;
  Instrument instrument;
  std::string title;               ///< above it, bold
  std::vector<std::string> words;  ///< below it, wrapped to its width
};

/// As many A4 pages (across) as the strips take; all at the one scale at which the longest piece fits.
/// `heading` stands on every page. Precondition: at least one strip.
Drawing placement_strips(const std::vector<PlacementStrip>& strips, const std::string& heading);

}  // namespace culmwright
