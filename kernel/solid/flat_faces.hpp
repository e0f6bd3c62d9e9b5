#pragma once
/// Plane faces with straight edges for direct construction: corners and edges are shared by number.
#include <Geom_BSplineCurve.hxx>
#include <map>
#include <utility>
#include <vector>

#include "plan/stroke_letters.hpp"
#include "solid/direct_builder.hpp"

namespace culmwright {

class FlatFaces {
 public:
  explicit FlatFaces(DirectBuilder& make) : make_(make) {}

  int corner(Vec3 p);
  /// One whose vertex is already there.
  int corner(Vec3 p, const TopoDS_Vertex& vertex);
  /// The straight edge between two corners, made when first asked for.
  EdgeUse side(int from, int to);
  /// A closed line through the corners, as it is or turned round so that it runs counter-clockwise (or
  /// clockwise) seen from where the normal points. Precondition: it is convex and all sides are straight.
  WirePath loop(std::vector<int> corners, Vec3 normal, bool counter_clockwise = true);
  /// A face in the plane through a point; every edge of its wires is a B-spline that lies in it.
  void face(Vec3 point, Vec3 normal, const std::vector<WirePath>& wires);
  /// Strokes cut `depth` deep into a plane whose frame has z out of the material: walls and floors are added,
  /// the loops to be left out of the plane's face are returned.
  std::vector<WirePath> engraved(const RigidMotion& frame, const std::vector<StrokeOutline>& strokes,
                                 double depth);

 private:
  WirePath closed(const std::vector<int>& corners);

  DirectBuilder& make_;
  std::vector<Vec3> points_;
  std::vector<TopoDS_Vertex> vertices_;
  std::map<std::pair<int, int>, TopoDS_Edge> edges_;
};

}  // namespace culmwright
