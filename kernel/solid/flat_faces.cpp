#include "solid/flat_faces.hpp"

#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "solid/curves.hpp"

namespace culmwright {

namespace {

constexpr int samples = 32;

/// Any unit vector square to a direction.
Vec3 across(Vec3 normal) {
  const Vec3 other = std::abs(normal.z) < 0.7 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  return unit(other - normal * dot(other, normal));
}

}  // namespace

int FlatFaces::corner(Vec3 p) {
  return corner(p, make_.vertex(p));
}

int FlatFaces::corner(Vec3 p, const TopoDS_Vertex& vertex) {
  points_.push_back(p);
  vertices_.push_back(vertex);
  return static_cast<int>(points_.size()) - 1;
}

EdgeUse FlatFaces::side(int from, int to) {
  const std::pair<int, int> key = std::minmax(from, to);
  auto found = edges_.find(key);
  if (found == edges_.end()) {
    const TopoDS_Edge edge = make_.edge(straight(points_[key.first], points_[key.second]), 0.0, 1.0,
                                        vertices_[key.first], vertices_[key.second]);
    found = edges_.emplace(key, edge).first;
  }
  return {found->second, from < to};
}

WirePath FlatFaces::closed(const std::vector<int>& corners) {
  WirePath path;
  for (std::size_t i = 0; i < corners.size(); ++i)
    path.push_back(side(corners[i], corners[(i + 1) % corners.size()]));
  return path;
}

WirePath FlatFaces::loop(std::vector<int> corners, Vec3 normal, bool counter_clockwise) {
  const Vec3 first = points_[corners[0]];
  Vec3 turning;
  for (std::size_t i = 1; i + 1 < corners.size(); ++i)
    turning = turning + cross(points_[corners[i]] - first, points_[corners[i + 1]] - first);
  if ((dot(turning, normal) > 0.0) != counter_clockwise) std::reverse(corners.begin(), corners.end());
  return closed(corners);
}

void FlatFaces::face(Vec3 point, Vec3 normal, const std::vector<WirePath>& wires) {
  const gp_Ax3 axes(point_of(point), direction_of(normal), direction_of(across(normal)));
  const Handle(Geom_Plane) plane = new Geom_Plane(axes);
  for (const WirePath& wire : wires) {
    for (const EdgeUse& use : wire) {
      double from = 0.0;
      double to = 0.0;
      const Handle(Geom_BSplineCurve) curve =
          Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(use.edge, from, to));
      require(!curve.IsNull(), "a plane face has an edge that is no B-spline");
      make_.lay(use.edge, plane, on_plane(curve, axes), samples);
    }
  }
  make_.face(plane, FaceSide::along, wires);
}

std::vector<WirePath> FlatFaces::engraved(const RigidMotion& frame, const std::vector<StrokeOutline>& strokes,
                                          double depth) {
  std::vector<WirePath> holes;
  for (const StrokeOutline& stroke : strokes) {
    std::vector<int> high;
    std::vector<int> low;
    for (const Vec2& p : stroke) {
      high.push_back(corner(frame.apply({p.x, p.y, 0.0})));
      low.push_back(corner(frame.apply({p.x, p.y, -depth})));
    }
    const std::size_t count = stroke.size();
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t next = (i + 1) % count;
      // The stroke runs counter-clockwise, its inside at the left: there the wall looks.
      const Vec2 along = stroke[next] - stroke[i];
      const Vec3 inward = frame.turn(unit(Vec3{-along.y, along.x, 0.0}));
      face(frame.apply({stroke[i].x, stroke[i].y, 0.0}), inward,
           {loop({low[i], low[next], high[next], high[i]}, inward)});
    }
    // Strokes need not be convex: their own turn is taken, not measured.
    face(frame.apply({0, 0, -depth}), frame.z, {closed(low)});
    std::reverse(high.begin(), high.end());
    holes.push_back(closed(high));
  }
  return holes;
}

}  // namespace culmwright
