#pragma once
/// The survey form: sheets to print and write on at the bench. Pictures show where each instrument goes; rows
/// stand in bench order (tube/survey_order.hpp), those of a quick survey marked; every box names the key of
/// the tube document that it becomes, so that typing it in is copying.
///
/// Four sheets: the piece, its marks and nodes; stations, walls and weight; straightedge, blemishes, verdict
/// and check girths; heights on survey plates. More where the piece has more nodes or stations than a sheet
/// holds.
#include "drawing/drawing.hpp"
#include "layout/shop.hpp"
#include "tube/survey.hpp"

namespace culmwright {

/// Blank, or with the name, marks, nodes and places of stations of a piece filled in; its readings are left
/// blank, to be taken again. A4, Letter or A3, upright.
Drawing survey_form(PaperSize paper, const Survey* piece = nullptr);

}  // namespace culmwright
