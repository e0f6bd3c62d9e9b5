#pragma once
/// The unrolled skin of a piece as a small picture with a scale along it: mouth end up, seen from outside.
#include "drawing/drawing.hpp"
#include "layout/instrument.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// The largest of the usual reductions (1:1 to 1:20) at which the piece's map is no wider and no higher than
/// that.
double map_scale(const Tube& tube, double width, double height);

/// A page as large as the map at 1:scale, with millimetres from the mouth cut at its left edge and the hands
/// at its right.
Page map_picture(const Tube& tube, const Instrument& instrument, double scale);

/// "1:2.5".
std::string reduction_words(double scale);

/// A piece that nothing is placed on yet, whole, end A up: for a map of it.
Instrument bare_piece(const Tube& tube);

}  // namespace culmwright
