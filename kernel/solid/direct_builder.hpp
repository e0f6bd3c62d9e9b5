#pragma once
/// Makes a solid face by face from surfaces and curves that are already known; no boolean, no sewing. Edges
/// and vertices are shared, and each edge carries the deviation that was measured between its curve in space
/// and its curves on its faces.
///
/// Rules that keep every face right side out:
///   - a wire is given in the surface's own (u, v): the outer one counter-clockwise, holes clockwise;
///   - a face is `along` its surface's normal ∂u × ∂v when that points out of the material, else `against`.
#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <Geom_Surface.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Vertex.hxx>
#include <string>
#include <vector>

#include "base/vec.hpp"
#include "solid/solid.hpp"

namespace culmwright {

/// An edge as a wire runs through it.
struct EdgeUse {
  TopoDS_Edge edge;
  bool forward = true;
};
using WirePath = std::vector<EdgeUse>;

enum class FaceSide { along, against };

class DirectBuilder {
 public:
  /// `part`: for error messages, and the name of the solid.
  explicit DirectBuilder(std::string part);

  /// What is being made, for error messages.
  void stage(std::string what) { stage_ = std::move(what); }
  TopoDS_Vertex vertex(Vec3 p);
  /// An edge on the curve between two of its parameters; `first` and `last` may be one vertex. Its ends may
  /// lie beside the vertices by what the tolerances then say.
  TopoDS_Edge edge(const Handle(Geom_Curve) & curve, double from, double to, const TopoDS_Vertex& first,
                   const TopoDS_Vertex& last);
  /// Lays the edge on a surface by a curve with the edge's own parameters; measures the deviation at
  /// `samples` places. Throws GeometryError when it exceeds `greatest_deviation`.
  void lay(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface,
           const Handle(Geom2d_Curve) & on_surface, int samples);
  /// The seam of a surface that closes in u: at its end and at its beginning.
  void lay_seam(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface,
                const Handle(Geom2d_Curve) & at_end, const Handle(Geom2d_Curve) & at_begin, int samples);
  /// Adds a face. The first wire is the outer one.
  void face(const Handle(Geom_Surface) & surface, FaceSide side, const std::vector<WirePath>& wires);
  /// The closed solid. Call once.
  Solid finish();

  /// Greater deviations are a fault of the curves, not a matter of tolerance.
  static constexpr double greatest_deviation = 0.005;

 private:
  void widen(const TopoDS_Edge& edge, double deviation);
  double deviation(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface,
                   const Handle(Geom2d_Curve) & on_surface, int samples) const;

  std::string part_;
  std::string stage_ = "building face by face";
  TopoDS_Shell shell_;
};

}  // namespace culmwright
