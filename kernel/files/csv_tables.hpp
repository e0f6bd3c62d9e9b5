#pragma once
/// The CSV tables that may stand for a list of a document. Lengths are in the document's unit. Cells that are
/// empty were not measured.
///
///   stations   at, girth, width_facing_45 (a width by protractor, degrees), width_around_20 (by where the
///   jaw
///              touches, counted as `around`), h0, h1 … (heights over the board, flat by flat)
///   keys       key, hand, finger, along, around, hole; and, where wanted, square_to, cup, touch_length,
///              touch_width, touch_corner_radius, leeway_along, leeway_around, mass_g, note. Without a column
///              `hand` the finger says it: "left index".
#include <memory>

#include "files/csv.hpp"

namespace culmwright::files {

std::unique_ptr<CsvColumns> station_columns(const CsvTable& table);
std::unique_ptr<CsvColumns> key_columns(const CsvTable& table);

}  // namespace culmwright::files
