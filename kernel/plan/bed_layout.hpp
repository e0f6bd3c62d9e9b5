#pragma once
/// Small printed parts laid out on the printer's bed, several to a print: each as the rectangle of its
/// printing position, with a gap between neighbours, on as few plates as a search over orders finds.
///
/// Method: maximal free rectangles (J. Jylänki, "A thousand ways to pack the bin", 2010; from memory): every
/// free rectangle that no other contains is kept; a part goes where it leaves the least on the shorter side,
/// upright or turned a quarter. Tried in several orders of the parts; the fewest plates win, then the last
/// plate with least on it, then the plates filled from their corner.
#include <cstddef>
#include <string>
#include <vector>

#include "layout/shop.hpp"

namespace culmwright {

/// Around and between parts on the bed. Common practice: wide enough for a brim of four lines each.
struct BedRoom {
  double bed_x = 220.0;
  double bed_y = 220.0;
  double free_edge = 5.0;  ///< left free all round, as for single parts (plan/printing.hpp)
  double gap = 4.0;        ///< between parts, at least
};
BedRoom bed_room(const Printer& printer);

/// A part as it lies: the box of its printing position.
struct BedItem {
  std::string name;
  double size_x = 0.0;
  double size_y = 0.0;
};

struct BedPlace {
  std::size_t item = 0;  ///< in the list that was given
  double x = 0.0;        ///< of its box's lower left corner, from the bed's
  double y = 0.0;
  bool turned = false;  ///< a quarter turn to the left, seen from above
};

struct BedLayout {
  std::vector<std::vector<BedPlace>> plates;  ///< each part once; within a plate in the order given
  std::vector<std::size_t> too_large;         ///< parts for which no bed has room
};

/// The same parts give the same layout. Sizes must not be negative.
BedLayout lay_on_beds(const std::vector<BedItem>& items, const BedRoom& room);

/// The parts' boxes over the area that they could cover, 0 to 1, of one plate.
double filled(const std::vector<BedPlace>& plate, const std::vector<BedItem>& items, const BedRoom& room);

}  // namespace culmwright
