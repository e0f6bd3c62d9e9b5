#pragma once
/// How an opening is cut out between its corner holes, and the lid that its piece makes.
///
///      o---------------o     The corner holes are opened until they touch the opening's sides; saw or knife
///      |  ,---------.  |     runs from hole to hole inside the lines of the template. The piece is smaller
///      |  |   lid   |  |     than the opening by the kerf on every side, and its corners went with the
///      holes. |  `---------'  |     Cut with the blade leaning, it is wider outside than inside and cannot
///      fall o---------------o     through: it sinks until the two slopes meet.
#include <string>

#include "layout/key_layout.hpp"
#include "layout/shop.hpp"

namespace culmwright {

/// The blade's lean from the skin's normal for a lid that lies on its slope (common practice).
constexpr double lid_lean_deg = 30.0;

struct OpeningCut {
  std::string id;
  double corner_drill = 0.0;  ///< diameter of the corner holes, opened
  double length = 0.0;        ///< of the opening, on the skin
  double width = 0.0;
  double kerf = 0.0;  ///< 0: a knife's
  double lid_length = 0.0;
  double lid_width = 0.0;
  double lid_sinks = 0.0;  ///< below the skin around it, where the blade leaned: kerf / sin(lean)
};

/// Of an opening's outline: as the key layout says, but never sharper than the pilot drill makes it.
double corner_radius_of(const Part& opening, const Shop& shop);

/// Precondition: an opening. The lid's sizes are not below 0.
OpeningCut opening_cut(const Part& opening, const Shop& shop);

std::string cut_words(const OpeningCut& cut);

}  // namespace culmwright
