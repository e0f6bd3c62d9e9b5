#include "solid/curves.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TColgp_Array2OfPnt.hxx>

#include "solid/spline.hpp"

namespace culmwright {

Handle(Geom2d_Line) line_2d(Vec2 from, Vec2 along) {
  return new Geom2d_Line(gp_Pnt2d(from.x, from.y), gp_Dir2d(along.x, along.y));
}

std::vector<double> even_values(double from, double to, int count) {
  std::vector<double> values;
  for (int i = 0; i < count; ++i) values.push_back(from + (to - from) * i / (count - 1));
  return values;
}

Handle(Geom_BSplineCurve) straight(Vec3 a, Vec3 b) {
  TColgp_Array1OfPnt poles(1, 2);
  poles(1) = point_of(a);
  poles(2) = point_of(b);
  return new Geom_BSplineCurve(poles, real_array({0.0, 1.0}), integer_array({2, 2}), 1);
}

Handle(Geom_BSplineSurface)
    ruled(const Handle(Geom_BSplineCurve) & low, const Handle(Geom_BSplineCurve) & high) {
  TColgp_Array2OfPnt poles(1, low->NbPoles(), 1, 2);
  for (int i = 1; i <= low->NbPoles(); ++i) {
    poles(i, 1) = low->Pole(i);
    poles(i, 2) = high->Pole(i);
  }
  return new Geom_BSplineSurface(poles, low->Knots(), real_array({0.0, 1.0}), low->Multiplicities(),
                                 integer_array({2, 2}), low->Degree(), 1);
}

Handle(Geom2d_Curve) on_plane(const Handle(Geom_BSplineCurve) & curve, const gp_Ax3& axes) {
  TColgp_Array1OfPnt2d poles(1, curve->NbPoles());
  for (int i = 1; i <= curve->NbPoles(); ++i) {
    const gp_Vec off(axes.Location(), curve->Pole(i));
    poles(i) = gp_Pnt2d(off.Dot(axes.XDirection()), off.Dot(axes.YDirection()));
  }
  return new Geom2d_BSplineCurve(poles, curve->Knots(), curve->Multiplicities(), curve->Degree());
}

}  // namespace culmwright
