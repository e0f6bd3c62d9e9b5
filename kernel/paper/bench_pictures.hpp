#pragma once
/// Where the instruments go: small pictures for the survey form and the survey plates' instructions. Each is
/// drawn inside the box it is given and names itself; boxes have the sizes below at least. Own drawings.
#include "drawing/drawing.hpp"

namespace culmwright {

/// The piece upright, end A up: marks, reference line, a slanted node, what is measured along it. 58 × 128.
void picture_of_marks(Page& page, const Box& box);
/// The caliper's jaws on a section, in four directions. 46 × 44.
void picture_of_widths(Page& page, const Box& box);
/// A paper strip around a section, pricked where it overlaps. 46 × 44.
void picture_of_girth(Page& page, const Box& box);
/// The wall at an end on four sides, and by hook gauge in a pilot hole. 92 × 44.
void picture_of_walls(Page& page, const Box& box);
/// The balance on an edge. 92 × 24.
void picture_of_balance(Page& page, const Box& box);
/// The straightedge on a hollow and on a convex side, and the two planes. 180 × 44.
void picture_of_bow(Page& page, const Box& box);
/// The height gauge on a piece in its survey plates, from the end. 80 × 40.
void picture_of_height_gauge(Page& page, const Box& box, int flats);
/// Survey plates on a board: from the side, and from the end. 180 × 60.
void picture_of_heights(Page& page, const Box& box, int flats);

}  // namespace culmwright
