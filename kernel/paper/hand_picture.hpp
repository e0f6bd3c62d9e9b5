#pragma once
/// A hand on an instrument: its fingers over the unrolled skin with the area that each could reach, and the
/// same seen along the tube. It knows no hand model: joints and outlines are plain numbers.
#include <array>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// A finger at one of its places. Tube coordinates.
struct PicturedFinger {
  std::string id;               ///< of the key or rest
  std::array<Vec3, 4> joints;   ///< from the knuckle (of a thumb: its root) to the tip's round end
  std::array<double, 3> flesh;  ///< half thickness about each segment
  SkinPlace place;
  bool reached = true;
  std::vector<SkinPlace> reach;  ///< outline of where its touch could be; may be empty
};

struct PicturedHand {
  std::string title;  ///< "Left hand"
  std::vector<PicturedFinger> fingers;
  std::vector<Vec3> palm;          ///< wrist, knuckles: joined by lines in this order, closed
  std::vector<std::string> words;  ///< below the pictures
};

/// One upright page for each hand. `caution` stands at the foot of every page.
Drawing hand_pictures(const Tube& tube, const Instrument& instrument, const std::vector<PicturedHand>& hands,
                      const std::string& caution, PaperSize paper);

}  // namespace culmwright
