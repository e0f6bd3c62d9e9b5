#pragma once
/// Cylinders that stand on, hang from or pass through a sheet, for direct construction. All take the frame of
/// the cylinder: z along its axis; its seam lies at the frame's x.
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>

#include "solid/direct_builder.hpp"
#include "solid/sheet.hpp"

namespace culmwright {

/// A closed edge around a cylinder; its parameter is the angle φ from the frame's x.
struct Rim {
  TopoDS_Edge edge;
  TopoDS_Vertex vertex;
  double height = 0.0;  ///< of the vertex along the axis
};

/// Solves where a cylinder meets a sheet, on the patch itself, lays the edge on both and cuts it out of the
/// sheet.
Rim rim_on_sheet(DirectBuilder& make, Sheet& sheet, const RigidMotion& frame,
                 const Handle(Geom_CylindricalSurface) & cylinder);

/// The circle at a height, laid on the cylinder and on a plane square to the axis whose origin lies on the
/// axis and whose x is the frame's.
Rim rim_on_plane(DirectBuilder& make, const RigidMotion& frame, double height,
                 const Handle(Geom_CylindricalSurface) & cylinder, const Handle(Geom_Plane) & plane);

/// Where a cylinder crosses another one square to its axis and through it, on one side. `frame`, `cylinder`:
/// the wider one, its seam on the other side; `across`: the narrower one's frame, z outward, x along the
/// wider one's axis. Laid on both; it runs counter-clockwise on the wider one.
Rim rim_on_cylinder(DirectBuilder& make, const RigidMotion& frame,
                    const Handle(Geom_CylindricalSurface) & cylinder, const RigidMotion& across,
                    const Handle(Geom_CylindricalSurface) & crossing);

/// The face of the cylinder between two rims, `low` at the lesser height. `holes`: clockwise on it.
void add_cylinder(DirectBuilder& make, const RigidMotion& frame,
                  const Handle(Geom_CylindricalSurface) & cylinder, const Rim& low, const Rim& high,
                  FaceSide side, const std::vector<WirePath>& holes = {});

}  // namespace culmwright
