#include "solid/outline_wire.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>

namespace culmwright {

TopoDS_Wire outline_wire(const RoundedRectangle& outline, double z) {
  const double x = 0.5 * outline.length - outline.corner;
  const double y = 0.5 * outline.width - outline.corner;
  const gp_Pnt middles[4] = {{x, y, z}, {-x, y, z}, {-x, -y, z}, {x, -y, z}};
  const gp_Vec starts[4] = {{1, 0, 0}, {0, 1, 0}, {-1, 0, 0}, {0, -1, 0}};
  BRepBuilderAPI_MakeWire wire;
  for (int i = 0; i < 4; ++i) {
    const gp_Vec ahead = starts[(i + 1) % 4] * outline.corner;
    if (outline.corner > 0.0) {
      const gp_Circ circle(gp_Ax2(middles[i], gp_Dir(0, 0, 1), gp_Dir(starts[i])), outline.corner);
      wire.Add(BRepBuilderAPI_MakeEdge(circle, 0.0, 0.5 * pi));
    }
    const gp_Pnt from = middles[i].Translated(ahead);
    const gp_Pnt to = middles[(i + 1) % 4].Translated(ahead);
    if (from.Distance(to) > 1e-9) wire.Add(BRepBuilderAPI_MakeEdge(from, to));
  }
  return wire.Wire();
}

}  // namespace culmwright
