#pragma once
/// Edges, corners and surfaces of a seated part while it is being built: each made when first asked for and
/// shared by all that touch it. For this folder.
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Plane.hxx>
#include <set>
#include <utility>
#include <vector>

#include "plan/seated_part.hpp"
#include "solid/direct_builder.hpp"

namespace culmwright {

/// An edge with the samples that made it.
struct SeatedEdge {
  TopoDS_Edge edge;
  Handle(Geom_BSplineCurve) curve;
  int corner[2] = {};  ///< where it begins and ends
  std::vector<double> t;
  std::vector<Vec2> xy;
  std::vector<Vec3> points;
  std::vector<Vec2> on_skin;  ///< of an edge on a skin level: its places on the patch
  int level = -1;             ///< −1: on none
};

/// An edge as a wire runs through it.
struct SeatedUse {
  int edge = 0;
  bool forward = true;
};
using SeatedWire = std::vector<SeatedUse>;

class SeatedBuilder {
 public:
  SeatedBuilder(const SeatedPart& plan, const Tube& tube, double nudge);

  DirectBuilder& make() { return make_; }
  const SeatedEdge& edge(int index) const { return edges_[index]; }

  /// The corner of a level there.
  int corner(int level, Vec2 xy);
  /// One that lies on no level.
  int free_corner(Vec3 p);
  Vec3 point(int corner) const { return corners_[corner].point; }
  /// The edge over a piece of a path, and which way it runs.
  SeatedUse on_level(int level, const PathPiece& piece);
  /// Upward between two corners that stand one above the other, divided at the corners between them.
  SeatedWire upright(int low, int high);
  /// The straight edge between two corners.
  SeatedUse straight_edge(int from, int to);
  /// Through points of space at the parameters, from corner to corner.
  int free_edge(const std::vector<double>& t, const std::vector<Vec3>& points, int from, int to);

  /// The surface of a level.
  struct Surface {
    Handle(Geom_Surface) surface;
    Handle(Geom_Plane) plane;  ///< where it is one
    Handle(Geom_BSplineSurface) patch;
    bool swaps = false;  ///< counter-clockwise in xy is clockwise on it, and its own normal looks down
  };
  const Surface& surface(int level);
  /// Lays an edge on a level's surface: its own, or one that it lies on as well.
  void lay_on_level(int edge, int level);
  /// A plane face through a point; the wires may run either way: they are turned, the first one outer.
  void plane_face(Vec3 point, Vec3 normal, Vec3 x, std::vector<SeatedWire> wires);

  WirePath path_of(const SeatedWire& wire) const;

 private:
  struct Corner {
    int level = -1;
    Vec3 point;
    TopoDS_Vertex vertex;
  };
  int add_corner(int level, Vec3 p);
  Vec2 place_on_skin(int level, Vec2 xy, const Vec2* guess);
  Vec3 point_on(int level, Vec2 xy, Vec2* place);
  std::vector<double> samples_of(const PathPiece& piece, int level) const;
  Surface make_skin(int level) const;
  Surface make_graph(int level) const;
  /// All that lies on the level, seen along z.
  std::pair<Vec2, Vec2> window_of(int level) const;

  const SeatedPart& plan_;
  const Tube& tube_;
  double nudge_;
  DirectBuilder make_;
  std::vector<Surface> surfaces_;
  std::vector<double> skin_middle_;  ///< of each skin level: θ that its patch counts from
  std::vector<Corner> corners_;
  std::vector<SeatedEdge> edges_;
  std::set<std::pair<int, int>> laid_;
};

}  // namespace culmwright
