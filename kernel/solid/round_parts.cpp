#include "solid/round_parts.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Circle.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Line.hxx>
#include <cmath>

#include "solid/curves.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

constexpr int rim_points = 96;   ///< fewer are not always enough for 0.001 mm
constexpr int rim_padding = 12;  ///< more on both sides, so that the ends' knots are out of reach
constexpr int rim_samples = 3 * rim_points + 1;

/// A rim's points in turn: in space, on the sheet, and on the unrolled cylinder.
struct RimCurves {
  std::vector<double> phi;
  std::vector<Vec3> points;
  std::vector<Vec2> places;
  std::vector<Vec2> unrolled;
};

RimCurves solve_rim(const Sheet& sheet, const RigidMotion& frame, double radius) {
  const double step = 2.0 * pi / rim_points;
  const Vec2 first = direction(Angle::from_radians(-rim_padding * step)) * radius;
  const GuideFace::Meeting start = sheet.face.meet(frame, first);
  Vec2 uv{start.theta, start.at};
  RimCurves rim;
  for (int i = -rim_padding; i <= rim_points + rim_padding; ++i) {
    uv = meet_patch(sheet.surface, frame, direction(Angle::from_radians(i * step)) * radius, uv);
    const Vec3 p = vec_of(sheet.surface->Value(uv.x, uv.y));
    rim.phi.push_back(i * step);
    rim.points.push_back(p);
    rim.places.push_back(uv);
    rim.unrolled.push_back({i * step, dot(p - frame.origin, frame.z)});
  }
  return rim;
}

template <class Points>
auto full_turn(const std::vector<double>& phi, const Points& points) {
  const auto curve = curve_through(phi, points);
  curve->Segment(0.0, 2.0 * pi);
  return curve;
}

}  // namespace

Rim rim_on_sheet(DirectBuilder& make, Sheet& sheet, const RigidMotion& frame,
                 const Handle(Geom_CylindricalSurface) & cylinder) {
  const RimCurves solved = solve_rim(sheet, frame, cylinder->Radius());
  Rim rim;
  rim.vertex = make.vertex(solved.points[rim_padding]);
  rim.height = solved.unrolled[rim_padding].y;
  rim.edge = make.edge(full_turn(solved.phi, solved.points), 0.0, 2.0 * pi, rim.vertex, rim.vertex);
  make.lay(rim.edge, sheet.surface, full_turn(solved.phi, solved.places), rim_samples);
  make.lay(rim.edge, cylinder, full_turn(solved.phi, solved.unrolled), rim_samples);
  sheet.holes.push_back({{rim.edge, true}});  // φ runs clockwise in (θ, at)
  return rim;
}

Rim rim_on_plane(DirectBuilder& make, const RigidMotion& frame, double height,
                 const Handle(Geom_CylindricalSurface) & cylinder, const Handle(Geom_Plane) & plane) {
  const double radius = cylinder->Radius();
  Rim rim;
  rim.height = height;
  rim.vertex = make.vertex(frame.apply({radius, 0, height}));
  const gp_Ax2 axes(point_of(frame.apply({0, 0, height})), direction_of(frame.z), direction_of(frame.x));
  rim.edge = make.edge(new Geom_Circle(axes, radius), 0.0, 2.0 * pi, rim.vertex, rim.vertex);
  make.lay(rim.edge, cylinder, line_2d({0.0, height}, {1.0, 0.0}), 16);
  const bool same_way = plane->Position().Direction().Dot(direction_of(frame.z)) > 0.0;
  const gp_Ax22d plane_axes(gp_Pnt2d(0, 0), gp_Dir2d(1, 0), same_way);
  make.lay(rim.edge, plane, new Geom2d_Circle(plane_axes, radius), 16);
  return rim;
}

Rim rim_on_cylinder(DirectBuilder& make, const RigidMotion& frame,
                    const Handle(Geom_CylindricalSurface) & cylinder, const RigidMotion& across,
                    const Handle(Geom_CylindricalSurface) & crossing) {
  const double wide = cylinder->Radius();
  const double narrow = crossing->Radius();
  const RigidMotion to_wide = frame.inverse();
  const double middle = std::atan2(dot(across.z, frame.y), dot(across.z, frame.x));
  const double step = 2.0 * pi / rim_points;
  RimCurves rim;
  for (int i = -rim_padding; i <= rim_points + rim_padding; ++i) {
    const double psi = i * step;
    const double aside = narrow * std::sin(psi);
    const double out = std::sqrt(wide * wide - aside * aside);
    const Vec3 p = across.apply({narrow * std::cos(psi), aside, out});
    const Vec3 q = to_wide.apply(p);
    const double turn = std::remainder(std::atan2(q.y, q.x) - middle, 2.0 * pi);
    const double at = middle < 0.0 ? middle + 2.0 * pi : middle;
    rim.phi.push_back(psi);
    rim.points.push_back(p);
    rim.places.push_back({at + turn, q.z});
    rim.unrolled.push_back({psi, out});
  }
  Rim made;
  made.height = wide;
  made.vertex = make.vertex(rim.points[rim_padding]);
  made.edge = make.edge(full_turn(rim.phi, rim.points), 0.0, 2.0 * pi, made.vertex, made.vertex);
  make.lay(made.edge, cylinder, full_turn(rim.phi, rim.places), rim_samples);
  make.lay(made.edge, crossing, full_turn(rim.phi, rim.unrolled), rim_samples);
  return made;
}

void add_cylinder(DirectBuilder& make, const RigidMotion& frame,
                  const Handle(Geom_CylindricalSurface) & cylinder, const Rim& low, const Rim& high,
                  FaceSide side, const std::vector<WirePath>& holes) {
  const Vec3 foot = frame.apply({cylinder->Radius(), 0, 0});
  const Handle(Geom_Line) line = new Geom_Line(point_of(foot), direction_of(frame.z));
  const TopoDS_Edge seam = make.edge(line, low.height, high.height, low.vertex, high.vertex);
  make.lay_seam(seam, cylinder, line_2d({2.0 * pi, 0.0}, {0.0, 1.0}), line_2d({0.0, 0.0}, {0.0, 1.0}), 8);
  std::vector<WirePath> wires{{{low.edge, true}, {seam, true}, {high.edge, false}, {seam, false}}};
  wires.insert(wires.end(), holes.begin(), holes.end());
  make.face(cylinder, side, wires);
}

}  // namespace culmwright
