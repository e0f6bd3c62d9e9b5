#include "solid/outline_walls.hpp"

#include <algorithm>

#include "solid/curves.hpp"
#include "solid/patch.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

constexpr int stroke_points = 5;    ///< of a side of a stroke: it lies on an even part of the face
constexpr int opening_points = 25;  ///< of a side of an opening, which may cross the flank of a pad
constexpr int opening_samples = 4;
constexpr int floor_samples = 6;
constexpr double floor_margin = 0.02;  ///< of its size

/// The edges of an outline on a patch, each with its length in (θ, at) as parameter.
struct OutlineEdges {
  std::vector<TopoDS_Vertex> corners;
  std::vector<Vec3> points;
  std::vector<TopoDS_Edge> edges;
  std::vector<Handle(Geom_BSplineCurve)> curves;

  WirePath clockwise() const {
    WirePath path;
    for (std::size_t i = edges.size(); i-- > 0;) path.push_back({edges[i], false});
    return path;
  }
  WirePath counter_clockwise() const {
    WirePath path;
    for (const TopoDS_Edge& edge : edges) path.push_back({edge, true});
    return path;
  }
};

OutlineEdges outline_on(DirectBuilder& make, const Handle(Geom_BSplineSurface) & patch,
                        const std::vector<Vec2>& corners, int count, int samples) {
  OutlineEdges outline;
  for (const Vec2& c : corners) {
    outline.points.push_back(vec_of(patch->Value(c.x, c.y)));
    outline.corners.push_back(make.vertex(outline.points.back()));
  }
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const std::size_t next = (i + 1) % corners.size();
    const Vec2 side = corners[next] - corners[i];
    const double reach = length(side);
    const std::vector<double> t = even_values(0.0, reach, count);
    std::vector<Vec3> points;
    for (const double s : t) {
      const Vec2 c = corners[i] + side * (s / reach);
      points.push_back(vec_of(patch->Value(c.x, c.y)));
    }
    outline.curves.push_back(curve_through(t, points));
    outline.edges.push_back(
        make.edge(outline.curves.back(), 0.0, reach, outline.corners[i], outline.corners[next]));
    // Several to a span, for a cubic strays most between its points, never at them; and at least where the
    // kernel's own analysis looks, at 23 places.
    make.lay(outline.edges.back(), patch, line_2d(corners[i], side), std::max(22, samples * (count - 1)));
  }
  return outline;
}

/// Ruled walls from a low outline (a floor, or the inner sheet) up to the outer sheet.
void add_walls(DirectBuilder& make, const OutlineEdges& low, const OutlineEdges& high) {
  const std::size_t count = low.edges.size();
  std::vector<TopoDS_Edge> upright;
  for (std::size_t i = 0; i < count; ++i) {
    upright.push_back(
        make.edge(straight(low.points[i], high.points[i]), 0.0, 1.0, low.corners[i], high.corners[i]));
  }
  for (std::size_t i = 0; i < count; ++i) {
    const Handle(Geom_BSplineSurface) wall = ruled(low.curves[i], high.curves[i]);
    const double reach = low.curves[i]->LastParameter();
    const TopoDS_Edge& left = upright[i];
    const TopoDS_Edge& right = upright[(i + 1) % count];
    make.lay(low.edges[i], wall, line_2d({0.0, 0.0}, {1.0, 0.0}), 8);
    make.lay(high.edges[i], wall, line_2d({0.0, 1.0}, {1.0, 0.0}), 8);
    make.lay(left, wall, line_2d({0.0, 0.0}, {0.0, 1.0}), 4);
    make.lay(right, wall, line_2d({reach, 0.0}, {0.0, 1.0}), 4);
    make.face(wall, FaceSide::along,
              {{{low.edges[i], true}, {right, true}, {high.edges[i], false}, {left, false}}});
  }
}

/// The sheet's face lowered, as far as the outline reaches: a patch of its own, so that no file repeats the
/// big one for every stroke.
Handle(Geom_BSplineSurface)
    floor_patch(const GuideFace& face, const std::vector<Vec2>& corners, double depth) {
  Vec2 low = corners[0];
  Vec2 high = corners[0];
  for (const Vec2& c : corners) {
    low = {std::min(low.x, c.x), std::min(low.y, c.y)};
    high = {std::max(high.x, c.x), std::max(high.y, c.y)};
  }
  const Vec2 more = (high - low) * floor_margin;
  OffsetField field = face.field();
  field.level -= depth;
  const GuideFace floor(face.base(), face.middle(), field);
  return windowed_patch([&](double t, double at) { return floor.point(t, at); },
                        even_values(low.x - more.x, high.x + more.x, floor_samples),
                        even_values(low.y - more.y, high.y + more.y, floor_samples));
}

}  // namespace

void add_opening(DirectBuilder& make, Sheet& inner, Sheet& outer, const std::vector<Vec2>& corners) {
  const OutlineEdges low = outline_on(make, inner.surface, corners, opening_points, opening_samples);
  const OutlineEdges high = outline_on(make, outer.surface, corners, opening_points, opening_samples);
  add_walls(make, low, high);
  inner.holes.push_back(low.clockwise());
  outer.holes.push_back(high.clockwise());
}

void add_stroke(DirectBuilder& make, Sheet& outer, const std::vector<Vec2>& corners, double depth,
                int samples) {
  const Handle(Geom_BSplineSurface) floor = floor_patch(outer.face, corners, depth);
  const OutlineEdges low = outline_on(make, floor, corners, stroke_points, samples);
  const OutlineEdges high = outline_on(make, outer.surface, corners, stroke_points, samples);
  add_walls(make, low, high);
  outer.holes.push_back(high.clockwise());
  make.face(floor, FaceSide::against, {low.counter_clockwise()});
}

}  // namespace culmwright
