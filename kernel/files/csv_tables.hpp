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
///   readings   what, way, distance, from; and, where wanted, direction, point, from_point, level, by, error,
///              note (layout/measured_mock_up.hpp)
///   marks      key; along, around, direction, line, hand, finger ("left index" too), hole, error, note
///   drilled    key, across_along; and, where wanted, state, across_around, at, around, wall, chip_out, note
///              (layout/as_drilled.hpp)
#include <memory>

#include "files/csv.hpp"

namespace culmwright::files {

std::unique_ptr<CsvColumns> station_columns(const CsvTable& table);
std::unique_ptr<CsvColumns> key_columns(const CsvTable& table);
std::unique_ptr<CsvColumns> reading_columns(const CsvTable& table);
std::unique_ptr<CsvColumns> mark_columns(const CsvTable& table);
std::unique_ptr<CsvColumns> drilled_columns(const CsvTable& table);

/// Whether a table of a mock-up holds readings; otherwise marks.
bool holds_readings(const CsvTable& table);

}  // namespace culmwright::files
