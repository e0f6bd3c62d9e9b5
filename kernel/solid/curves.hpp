#pragma once
/// Small pieces of geometry that direct construction is made of. For this folder.
#include <Geom2d_Curve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <gp_Ax3.hxx>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

inline gp_Pnt point_of(Vec3 p) {
  return {p.x, p.y, p.z};
}
inline gp_Dir direction_of(Vec3 d) {
  return {d.x, d.y, d.z};
}
inline Vec3 vec_of(const gp_Pnt& p) {
  return {p.X(), p.Y(), p.Z()};
}
inline Vec3 vec_of(const gp_Vec& v) {
  return {v.X(), v.Y(), v.Z()};
}
inline gp_Ax3 axes_of(const RigidMotion& frame) {
  return {point_of(frame.origin), direction_of(frame.z), direction_of(frame.x)};
}

/// From a point of the parameter plane, with its distance from there as parameter.
Handle(Geom2d_Line) line_2d(Vec2 from, Vec2 along);
/// The straight curve between two points with the parameters 0 to 1.
Handle(Geom_BSplineCurve) straight(Vec3 a, Vec3 b);
/// The surface of straight lines between two curves of the same knots: v = 0 on `low`, 1 on `high`.
Handle(Geom_BSplineSurface)
    ruled(const Handle(Geom_BSplineCurve) & low, const Handle(Geom_BSplineCurve) & high);
/// A curve of a plane in the plane's own coordinates: exact, its poles are mapped.
Handle(Geom2d_Curve) on_plane(const Handle(Geom_BSplineCurve) & curve, const gp_Ax3& axes);
/// `count` values from `from` to `to`, both included.
std::vector<double> even_values(double from, double to, int count);

}  // namespace culmwright
