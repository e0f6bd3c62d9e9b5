#pragma once
/// Sheets of paper: ISO 216 (A3, A4) and ANSI/ASME Y14.1 letter, in millimetres.
#include "drawing/drawing.hpp"
#include "layout/shop.hpp"

namespace culmwright {

enum class Orientation { portrait, landscape };

struct SheetSize {
  double width = 210.0;
  double height = 297.0;
};
SheetSize sheet_size(PaperSize size, Orientation orientation);
const char* paper_name(PaperSize size);

/// The part of the sheet that a printer reaches.
Box printable(SheetSize sheet, double margin);

}  // namespace culmwright
