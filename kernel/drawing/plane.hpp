#pragma once
/// Lines and regions of the page, computed as plain geometry: clipping, hatching, meeting.
#include <vector>

#include "drawing/drawing.hpp"

namespace culmwright {

using Polyline = std::vector<Vec2>;

struct Segment {
  Vec2 from;
  Vec2 to;
};

/// The pieces of an open line inside a box, in order.
std::vector<Polyline> clipped(const Polyline& line, const Box& box);
/// A polygon cut down to a box (Sutherland & Hodgman 1974); parts that fall apart stay joined along the edge.
Polyline clipped_polygon(const Polyline& polygon, const Box& box);

/// The pieces of an open line outside of all the polygons, in order.
std::vector<Polyline> outside_of(const Polyline& line, const std::vector<Polyline>& polygons);

/// Parallel lines that fill a region: even-odd inside of `region`, less every polygon of `left_free`. The
/// lines stand on one grid through the page's origin, so hatched neighbours match. `angle` is the lines'
/// direction; `spacing` > 0 is their distance.
std::vector<Segment> hatched(const std::vector<Polyline>& region, Angle angle, double spacing,
                             const std::vector<Polyline>& left_free = {});
Shape hatch_shape(const std::vector<Segment>& lines);

bool inside(const Polyline& polygon, Vec2 point);
/// Area, positive when it turns clockwise as seen on the page.
double signed_area(const Polyline& polygon);
bool crosses(const Segment& a, const Segment& b);
/// Convex quadrilaterals that share inner points; touching is no overlap.
bool overlap(const Quad& a, const Quad& b);
/// Whether the segment has a point inside the quadrilateral or on its edge.
bool meets(const Segment& segment, const Quad& quad);
double distance(const Segment& segment, Vec2 point);

}  // namespace culmwright
