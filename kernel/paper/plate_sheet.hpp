#pragma once
/// How survey plates are used, as one page of pictures: fixed to the ends, pressed flat on the board
/// together, rolled from flat to flat; how the reference line is drawn and the heights are read.
#include <string>

#include "drawing/drawing.hpp"
#include "layout/shop.hpp"

namespace culmwright {

/// Of plates with n ≥ 8 flats. The figures that the maker sets his tools to stand in the pictures. A4, Letter
/// or A3, upright.
Drawing plate_instructions(const std::string& tube_id, int flats, double across_flats, PaperSize paper);

}  // namespace culmwright
