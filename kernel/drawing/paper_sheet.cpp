#include "drawing/paper_sheet.hpp"

#include <utility>

namespace culmwright {

SheetSize sheet_size(PaperSize size, Orientation orientation) {
  SheetSize sheet;
  if (size == PaperSize::letter) sheet = {215.9, 279.4};
  if (size == PaperSize::a3) sheet = {297.0, 420.0};
  if (orientation == Orientation::landscape) std::swap(sheet.width, sheet.height);
  return sheet;
}

const char* paper_name(PaperSize size) {
  return size == PaperSize::letter ? "Letter" : size == PaperSize::a3 ? "A3" : "A4";
}

Box printable(SheetSize sheet, double margin) {
  return {margin, margin, sheet.width - margin, sheet.height - margin};
}

}  // namespace culmwright
