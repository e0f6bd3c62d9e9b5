#pragma once
/// A sheet as pages to print: the same document as the HTML, laid out in millimetres with the measured font.
///
/// The first page shows the piece, and its title block (ISO 7200) at the lower right; every page names piece,
/// instrument, revision and state at its foot, with its number and how many there are. Headings stay with
/// what follows, steps, table rows and pictures are whole, heads of tables are repeated. A picture too large
/// for the column gets a page of its own and must be of the sheet's size.
#include "drawing/paper_sheet.hpp"
#include "sheet/sheet_document.hpp"

namespace culmwright {

/// `margin`: left free on all sides, 10 at least. Throws GeometryError naming what does not fit the page: a
/// picture or a step higher than a page, a table whose words are wider.
Drawing sheet_pages(const SheetDocument& document, PaperSize paper, double margin);

/// Width of the column that blocks stand in; a picture may be no wider.
double sheet_column(PaperSize paper, double margin);

}  // namespace culmwright
