#pragma once
/// The edges of a solid, each divided once for all its faces: that is what makes a mesh of them watertight.
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_Vertex.hxx>
#include <utility>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

/// An edge's nodes in the order of its parameter. An edge that is a point has one node many times over.
struct EdgeDivision {
  std::vector<double> parameters;
  std::vector<int> nodes;
};

class EdgeNodes {
 public:
  /// Divides every edge so that its chords keep within `chord` (mm) of the curve and each turns by `angle`
  /// (radians) at most.
  EdgeNodes(const TopoDS_Shape& shape, double chord, double angle);

  double chord() const { return chord_; }
  const EdgeDivision& of(const TopoDS_Edge& edge) const;
  /// Of all nodes so far, in the shape's frame.
  const std::vector<Vec3>& points() const { return points_; }
  std::vector<Vec3> release() { return std::move(points_); }

 private:
  int corner(const TopoDS_Vertex& vertex);
  EdgeDivision divide(const TopoDS_Edge& edge, double chord, double angle);

  double chord_;
  TopTools_IndexedMapOfShape edges_;
  TopTools_IndexedMapOfShape corners_;
  std::vector<int> node_of_corner_;
  std::vector<EdgeDivision> divisions_;
  std::vector<Vec3> points_;
};

}  // namespace culmwright
