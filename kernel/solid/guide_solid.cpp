#include "solid/guide_solid.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Circle.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include "base/problem.hpp"
#include "solid/direct_builder.hpp"
#include "solid/guarded.hpp"
#include "solid/patch.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

constexpr double degree_rad = pi / 180.0;
/// The patches reach beyond the feet by so much, that every foot curve lies inside them.
constexpr double patch_half_deg = 94.0;
constexpr double step_around_deg = 4.0;
constexpr double fine_around_deg = 1.6;
constexpr double step_along = 4.0;
constexpr double fine_along = 0.33;
constexpr int rim_points = 96;
constexpr int rim_padding = 12;    ///< points beyond a full turn, so that the ends' knots are out of reach
constexpr int stroke_points = 5;   ///< of an engraved stroke, on an even part of the outer face
constexpr int window_points = 25;  ///< of an opening, which may cross the flank of a pad
constexpr int floor_samples = 6;
constexpr double knots_per_nudge = 60.0;  ///< degrees of patch edge per mm
constexpr double seam_per_nudge = 35.0;   ///< radians per mm

gp_Pnt point_of(Vec3 p) {
  return {p.x, p.y, p.z};
}
gp_Dir direction_of(Vec3 d) {
  return {d.x, d.y, d.z};
}
Vec3 vec_of(const gp_Pnt& p) {
  return {p.X(), p.Y(), p.Z()};
}

/// A frame whose z is the axis, turned about it.
RigidMotion turned(const RigidMotion& frame, double by) {
  return {frame.x * std::cos(by) + frame.y * std::sin(by), frame.y * std::cos(by) - frame.x * std::sin(by),
          frame.z, frame.origin};
}

gp_Ax3 axes_of(const RigidMotion& frame) {
  return {point_of(frame.origin), direction_of(frame.z), direction_of(frame.x)};
}

Handle(Geom2d_Line) line_2d(Vec2 from, Vec2 along) {
  return new Geom2d_Line(gp_Pnt2d(from.x, from.y), gp_Dir2d(along.x, along.y));
}

/// The values and one between each two.
std::vector<double> with_middles(const std::vector<double>& values) {
  std::vector<double> more{values.front()};
  for (std::size_t i = 1; i < values.size(); ++i) {
    more.push_back(0.5 * (values[i - 1] + values[i]));
    more.push_back(values[i]);
  }
  return more;
}

std::vector<double> even_values(double from, double to, int count) {
  std::vector<double> values;
  for (int i = 0; i < count; ++i) values.push_back(from + (to - from) * i / (count - 1));
  return values;
}

/// The straight curve between two points with the parameters 0 to 1.
Handle(Geom_BSplineCurve) straight(Vec3 a, Vec3 b) {
  TColgp_Array1OfPnt poles(1, 2);
  poles(1) = point_of(a);
  poles(2) = point_of(b);
  return new Geom_BSplineCurve(poles, real_array({0.0, 1.0}), integer_array({2, 2}), 1);
}

/// The surface of straight lines between two curves of the same knots: v = 0 on `low`, 1 on `high`.
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

/// A plane with the curve's image in its own coordinates: exact, the poles are mapped.
Handle(Geom2d_Curve) on_plane(const Handle(Geom_BSplineCurve) & curve, const gp_Ax3& axes) {
  TColgp_Array1OfPnt2d poles(1, curve->NbPoles());
  for (int i = 1; i <= curve->NbPoles(); ++i) {
    const gp_Vec off(axes.Location(), curve->Pole(i));
    poles(i) = gp_Pnt2d(off.Dot(axes.XDirection()), off.Dot(axes.YDirection()));
  }
  return new Geom2d_BSplineCurve(poles, curve->Knots(), curve->Multiplicities(), curve->Degree());
}

/// A closed curve around a cylinder where it meets a patch, with the edge's parameter φ around the axis.
struct Rim {
  TopoDS_Edge edge;
  TopoDS_Vertex vertex;
  double height = 0.0;  ///< of the vertex along the axis
};

/// A patch and the face of the plan that it stands for.
struct Sheet {
  GuideFace face;
  std::vector<double> at;  ///< where along the tube the patch was sampled
  Handle(Geom_BSplineSurface) surface;
  std::vector<WirePath> holes;
};

/// The place on the patch itself where the line through (xy, ·) of the frame meets it.
Vec2 meet_patch(const Handle(Geom_BSplineSurface) & patch, const RigidMotion& frame, Vec2 xy, Vec2 guess) {
  Vec2 uv = guess;
  for (int i = 0; i < 30; ++i) {
    gp_Pnt p;
    gp_Vec by_u;
    gp_Vec by_v;
    patch->D1(uv.x, uv.y, p, by_u, by_v);
    const Vec3 off3 = vec_of(p) - frame.origin;
    const Vec3 u3{by_u.X(), by_u.Y(), by_u.Z()};
    const Vec3 v3{by_v.X(), by_v.Y(), by_v.Z()};
    const Vec2 off{dot(off3, frame.x) - xy.x, dot(off3, frame.y) - xy.y};
    const Vec2 a{dot(u3, frame.x), dot(u3, frame.y)};
    const Vec2 b{dot(v3, frame.x), dot(v3, frame.y)};
    const double det = cross(a, b);
    const Vec2 step{cross(off, b) / det, cross(a, off) / det};
    uv = uv - step;
    if (std::abs(step.x) < 1e-13 && std::abs(step.y) < 1e-12) break;
  }
  return uv;
}

class GuideBuilder {
 public:
  GuideBuilder(const GuidePlan& plan, double nudge)
      : plan_(plan),
        nudge_(nudge),
        make_(plan.name),
        inner_(sheet_of(plan.inner)),
        outer_(sheet_of(plan.outer)) {}

  Solid build() {
    for (const GuideHole& hole : plan_.holes) add_boss(hole);
    if (plan_.post) add_post(*plan_.post);
    for (const SightingWindow& sight : plan_.sights) add_cut(sight.corners, inner_);
    for (const EngravedText& text : plan_.texts) {
      for (const EngravedStroke& stroke : text.strokes) add_stroke(stroke);
    }
    add_sides();
    return make_.finish();
  }

 private:
  Sheet sheet_of(const GuideFace& face) const {
    std::vector<FineRange> around;
    std::vector<FineRange> along;
    for (const OffsetPatch& patch : face.field().patches) {
      along.push_back({patch.at.from - patch.at_step, patch.at.from});
      along.push_back({patch.at.to, patch.at.to + patch.at_step});
      if (!patch.theta) continue;
      around.push_back({patch.theta->from - patch.theta_step, patch.theta->from});
      around.push_back({patch.theta->to, patch.theta->to + patch.theta_step});
    }
    const double half = (patch_half_deg + knots_per_nudge * nudge_) * degree_rad;
    const std::vector<double> theta =
        graded_values(face.middle() - half, face.middle() + half, step_around_deg * degree_rad,
                      fine_around_deg * degree_rad, around);
    const std::vector<double> at =
        graded_values(plan_.at.from, plan_.at.to, step_along + 10.0 * nudge_, fine_along, along);
    std::optional<Section> section;
    const auto point = [&](double t, double place) {
      if (!section || section->at() != place) section = face.base().section(place);
      return face.jet(*section, t).point;
    };
    return {face, at, windowed_patch(point, theta, at), {}};
  }

  /// Solves the rim of a cylinder on a sheet, lays it on both and cuts the sheet with it.
  Rim add_rim(Sheet& sheet, const RigidMotion& frame, const Handle(Geom_CylindricalSurface) & cylinder) {
    const double radius = cylinder->Radius();
    const double step = 2.0 * pi / rim_points;
    const GuideFace::Meeting start = sheet.face.meet(frame, Vec2{radius, 0.0});
    Vec2 uv{start.theta, start.at};
    std::vector<double> phi;
    std::vector<Vec3> points;
    std::vector<Vec2> places;
    std::vector<Vec2> unrolled;
    for (int i = -rim_padding; i <= rim_points + rim_padding; ++i) {
      const Vec2 aim = direction(Angle::from_radians(i * step)) * radius;
      uv = meet_patch(sheet.surface, frame, aim, uv);
      const Vec3 p = vec_of(sheet.surface->Value(uv.x, uv.y));
      phi.push_back(i * step);
      points.push_back(p);
      places.push_back(uv);
      unrolled.push_back({i * step, dot(p - frame.origin, frame.z)});
    }
    const auto cut = [&](const auto& curve) {
      curve->Segment(0.0, 2.0 * pi);
      return curve;
    };
    const auto in_space = cut(curve_through(phi, points));
    const auto on_sheet = cut(curve_through(phi, places));
    const auto on_cylinder = cut(curve_through(phi, unrolled));
    Rim rim;
    rim.vertex = make_.vertex(points[rim_padding]);
    rim.height = unrolled[rim_padding].y;
    rim.edge = make_.edge(in_space, 0.0, 2.0 * pi, rim.vertex, rim.vertex);
    make_.lay(rim.edge, sheet.surface, on_sheet, 5 * rim_points + 1);
    make_.lay(rim.edge, cylinder, on_cylinder, 5 * rim_points + 1);
    sheet.holes.push_back({{rim.edge, true}});  // φ runs clockwise in (θ, at)
    return rim;
  }

  /// A circle around a frame at a height, laid on its cylinder and on a plane square to the axis.
  Rim add_circle(const RigidMotion& frame, double height, const Handle(Geom_CylindricalSurface) & cylinder,
                 const Handle(Geom_Plane) & plane) {
    const double radius = cylinder->Radius();
    const Vec3 middle = frame.apply({0, 0, height});
    Rim rim;
    rim.height = height;
    rim.vertex = make_.vertex(frame.apply({radius, 0, height}));
    const Handle(Geom_Circle) circle =
        new Geom_Circle(gp_Ax2(point_of(middle), direction_of(frame.z), direction_of(frame.x)), radius);
    rim.edge = make_.edge(circle, 0.0, 2.0 * pi, rim.vertex, rim.vertex);
    make_.lay(rim.edge, cylinder, line_2d({0.0, height}, {1.0, 0.0}), 16);
    const bool same_way = plane->Position().Direction().Dot(direction_of(frame.z)) > 0.0;
    const gp_Ax22d axes(gp_Pnt2d(0, 0), gp_Dir2d(1, 0), same_way);
    make_.lay(rim.edge, plane, new Geom2d_Circle(axes, radius), 16);
    return rim;
  }

  /// The cylinder between two rims, with its seam.
  void add_cylinder(const Handle(Geom_CylindricalSurface) & cylinder, const Rim& low, const Rim& high,
                    FaceSide side) {
    const RigidMotion& frame = frame_;
    const Vec3 foot = frame.apply({cylinder->Radius(), 0, 0});
    const Handle(Geom_Line) line = new Geom_Line(point_of(foot), direction_of(frame.z));
    const TopoDS_Edge seam = make_.edge(line, low.height, high.height, low.vertex, high.vertex);
    make_.lay_seam(seam, cylinder, line_2d({2.0 * pi, 0.0}, {0.0, 1.0}), line_2d({0.0, 0.0}, {0.0, 1.0}), 8);
    make_.face(cylinder, side, {{{low.edge, true}, {seam, true}, {high.edge, false}, {seam, false}}});
  }

  void add_boss(const GuideHole& hole) {
    make_.stage("boss of " + hole.id);
    frame_ = turned(rim_frame(hole.drilling), seam_per_nudge * nudge_);
    const Handle(Geom_CylindricalSurface) boss =
        new Geom_CylindricalSurface(axes_of(frame_), hole.boss_radius);
    const Handle(Geom_CylindricalSurface) bore =
        new Geom_CylindricalSurface(axes_of(frame_), hole.bore_radius);
    RigidMotion top_frame = frame_;
    top_frame.origin = frame_.apply({0, 0, hole.top});
    const Handle(Geom_Plane) top = new Geom_Plane(axes_of(top_frame));
    const Rim foot = add_rim(outer_, frame_, boss);
    const Rim mouth = add_rim(inner_, frame_, bore);
    const Rim boss_top = add_circle(frame_, hole.top, boss, top);
    const Rim bore_top = add_circle(frame_, hole.top, bore, top);
    add_cylinder(boss, foot, boss_top, FaceSide::along);
    add_cylinder(bore, mouth, bore_top, FaceSide::against);
    make_.face(top, FaceSide::along, {{{boss_top.edge, true}}, {{bore_top.edge, false}}});
  }

  void add_post(const StopPost& post) {
    make_.stage("stop");
    frame_ = turned(rim_frame({post.axis_point, post.up, post.radius}), seam_per_nudge * nudge_);
    const Handle(Geom_CylindricalSurface) side = new Geom_CylindricalSurface(axes_of(frame_), post.radius);
    // The post's foot faces down: its plane's normal is turned about the frame's x.
    const RigidMotion down{frame_.x, -frame_.y, -frame_.z, frame_.apply({0, 0, post.foot})};
    const Handle(Geom_Plane) plane = new Geom_Plane(axes_of(down));
    const Rim root = add_rim(inner_, frame_, side);
    const Rim foot = add_circle(frame_, post.foot, side, plane);
    add_cylinder(side, foot, root, FaceSide::along);
    make_.face(plane, FaceSide::along, {{{foot.edge, false}}});
  }

  /// The edges of an outline of straight lines in (θ, at) on a patch, each with its own length as parameter.
  struct Outline {
    std::vector<TopoDS_Vertex> corners;
    std::vector<Vec3> points;
    std::vector<TopoDS_Edge> edges;
    std::vector<Handle(Geom_BSplineCurve)> curves;
  };

  Outline outline_on(const Handle(Geom_BSplineSurface) & patch, const std::vector<Vec2>& corners, int count) {
    Outline outline;
    for (const Vec2& c : corners) {
      outline.points.push_back(vec_of(patch->Value(c.x, c.y)));
      outline.corners.push_back(make_.vertex(outline.points.back()));
    }
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const std::size_t next = (i + 1) % corners.size();
      const Vec2 side = corners[next] - corners[i];
      const double reach = length(side);
      const std::vector<double> t = even_values(0.0, reach, count);
      std::vector<Vec3> points;
      for (const double s : t) {
        const Vec2 c = corners[i] + side * (s / reach);
        points.push_back(vec_of(patch->Value(c.x, c.y)));
      }
      outline.curves.push_back(curve_through(t, points));
      outline.edges.push_back(
          make_.edge(outline.curves.back(), 0.0, reach, outline.corners[i], outline.corners[next]));
      make_.lay(outline.edges.back(), patch, line_2d(corners[i], side), 6 * count + 1);
    }
    return outline;
  }

  /// Ruled walls from a low outline (floor or inner patch) up to the outer patch.
  void add_walls(const Outline& low, const Outline& high) {
    const std::size_t count = low.edges.size();
    std::vector<TopoDS_Edge> posts;
    for (std::size_t i = 0; i < count; ++i) {
      posts.push_back(
          make_.edge(straight(low.points[i], high.points[i]), 0.0, 1.0, low.corners[i], high.corners[i]));
    }
    for (std::size_t i = 0; i < count; ++i) {
      const Handle(Geom_BSplineSurface) wall = ruled(low.curves[i], high.curves[i]);
      const double reach = low.curves[i]->LastParameter();
      const TopoDS_Edge& left = posts[i];
      const TopoDS_Edge& right = posts[(i + 1) % count];
      make_.lay(low.edges[i], wall, line_2d({0.0, 0.0}, {1.0, 0.0}), 8);
      make_.lay(high.edges[i], wall, line_2d({0.0, 1.0}, {1.0, 0.0}), 8);
      make_.lay(left, wall, line_2d({0.0, 0.0}, {0.0, 1.0}), 4);
      make_.lay(right, wall, line_2d({reach, 0.0}, {0.0, 1.0}), 4);
      make_.face(wall, FaceSide::along,
                 {{{low.edges[i], true}, {right, true}, {high.edges[i], false}, {left, false}}});
    }
  }

  static WirePath clockwise(const Outline& outline) {
    WirePath path;
    for (std::size_t i = outline.edges.size(); i-- > 0;) path.push_back({outline.edges[i], false});
    return path;
  }

  /// An opening through the saddle.
  void add_cut(const std::vector<Vec2>& corners, Sheet& low_sheet) {
    make_.stage("sighting window");
    const Outline low = outline_on(low_sheet.surface, corners, window_points);
    const Outline high = outline_on(outer_.surface, corners, window_points);
    add_walls(low, high);
    low_sheet.holes.push_back(clockwise(low));
    outer_.holes.push_back(clockwise(high));
  }

  void add_stroke(const EngravedStroke& stroke) {
    make_.stage("engraving");
    const Handle(Geom_BSplineSurface) floor = floor_patch(stroke.corners);
    const Outline low = outline_on(floor, stroke.corners, stroke_points);
    const Outline high = outline_on(outer_.surface, stroke.corners, stroke_points);
    add_walls(low, high);
    outer_.holes.push_back(clockwise(high));
    WirePath path;
    for (const TopoDS_Edge& edge : low.edges) path.push_back({edge, true});
    make_.face(floor, FaceSide::against, {path});
  }

  /// The outer face lowered by the depth of the engraving, as far as the stroke reaches.
  Handle(Geom_BSplineSurface) floor_patch(const std::vector<Vec2>& corners) const {
    Vec2 low = corners[0];
    Vec2 high = corners[0];
    for (const Vec2& c : corners) {
      low = {std::min(low.x, c.x), std::min(low.y, c.y)};
      high = {std::max(high.x, c.x), std::max(high.y, c.y)};
    }
    const Vec2 more = (high - low) * 0.02;
    OffsetField field = plan_.outer.field();
    field.level -= guide_sizes::engraving;
    const GuideFace face(plan_.outer.base(), plan_.middle(), field);
    return windowed_patch([&](double t, double at) { return face.point(t, at); },
                          even_values(low.x - more.x, high.x + more.x, floor_samples),
                          even_values(low.y - more.y, high.y + more.y, floor_samples));
  }

  /// The border of a sheet: its cuts by the end planes and by the foot plane.
  struct Border {
    TopoDS_Vertex corner[2][2];  ///< [side −, +][end toward A, B]
    Vec3 point[2][2];
    TopoDS_Edge end[2];  ///< from side − to side +
    Handle(Geom_BSplineCurve) end_curve[2];
    double end_from[2] = {0.0, 0.0};
    double end_to[2] = {0.0, 0.0};
    TopoDS_Edge foot[2];  ///< from the end toward A to the one toward B
    Handle(Geom_BSplineCurve) foot_curve[2];
    WirePath wire() const { return {{end[0], true}, {foot[1], true}, {end[1], false}, {foot[0], false}}; }
  };

  /// θ on the patch where it meets the foot plane at a place along.
  double foot_on_patch(const Sheet& sheet, double guess, double at) const {
    double theta = guess;
    for (int i = 0; i < 30; ++i) {
      gp_Pnt p;
      gp_Vec by_u;
      gp_Vec by_v;
      sheet.surface->D1(theta, at, p, by_u, by_v);
      const Vec3 up = plan_.foot.up;
      const double step =
          dot(vec_of(p) - plan_.foot.point, up) / (by_u.X() * up.x + by_u.Y() * up.y + by_u.Z() * up.z);
      theta -= step;
      if (std::abs(step) < 1e-14) break;
    }
    return theta;
  }

  Border border_of(const Sheet& sheet) {
    Border border;
    const std::vector<double> at = with_middles(sheet.at);
    std::vector<Vec2> places[2];
    for (int side = 0; side < 2; ++side) {
      double theta = plan_.foot_theta(sheet.face, side == 0 ? -1 : 1, plan_.at.from);
      std::vector<Vec3> points;
      for (const double place : at) {
        theta = foot_on_patch(sheet, theta, place);
        places[side].push_back({theta, place});
        points.push_back(vec_of(sheet.surface->Value(theta, place)));
      }
      border.foot_curve[side] = curve_through(at, points);
      for (int end = 0; end < 2; ++end) {
        border.point[side][end] = end == 0 ? points.front() : points.back();
        border.corner[side][end] = make_.vertex(border.point[side][end]);
      }
      border.foot[side] = make_.edge(border.foot_curve[side], at.front(), at.back(), border.corner[side][0],
                                     border.corner[side][1]);
      make_.lay(border.foot[side], sheet.surface, curve_through(at, places[side]),
                6 * static_cast<int>(at.size()) + 1);
    }
    for (int end = 0; end < 2; ++end) {
      const double place = end == 0 ? plan_.at.from : plan_.at.to;
      border.end_from[end] = end == 0 ? places[0].front().x : places[0].back().x;
      border.end_to[end] = end == 0 ? places[1].front().x : places[1].back().x;
      const Handle(Geom_BSplineCurve) curve = Handle(Geom_BSplineCurve)::DownCast(sheet.surface->VIso(place));
      curve->Segment(border.end_from[end], border.end_to[end]);
      border.end_curve[end] = curve;
      border.end[end] = make_.edge(curve, border.end_from[end], border.end_to[end], border.corner[0][end],
                                   border.corner[1][end]);
      make_.lay(border.end[end], sheet.surface, line_2d({0.0, place}, {1.0, 0.0}), 64);
    }
    return border;
  }

  void add_sides() {
    make_.stage("sides");
    const Border in = border_of(inner_);
    const Border out = border_of(outer_);
    TopoDS_Edge across[2][2];  // from the inner to the outer sheet
    Handle(Geom_BSplineCurve) line[2][2];
    for (int side = 0; side < 2; ++side) {
      for (int end = 0; end < 2; ++end) {
        line[side][end] = straight(in.point[side][end], out.point[side][end]);
        across[side][end] =
            make_.edge(line[side][end], 0.0, 1.0, in.corner[side][end], out.corner[side][end]);
      }
    }
    for (int end = 0; end < 2; ++end) {
      const double place = end == 0 ? plan_.at.from : plan_.at.to;
      const gp_Ax3 axes(gp_Pnt(0, 0, -place), gp_Dir(0, 0, end == 0 ? 1 : -1), gp_Dir(1, 0, 0));
      const Handle(Geom_Plane) plane = new Geom_Plane(axes);
      make_.lay(in.end[end], plane, on_plane(in.end_curve[end], axes), 64);
      make_.lay(out.end[end], plane, on_plane(out.end_curve[end], axes), 64);
      for (int side = 0; side < 2; ++side)
        make_.lay(across[side][end], plane, on_plane(line[side][end], axes), 4);
      const bool first = end == 0;
      const WirePath path{{out.end[end], first},
                          {across[first ? 1 : 0][end], false},
                          {in.end[end], !first},
                          {across[first ? 0 : 1][end], true}};
      make_.face(plane, FaceSide::along, {path});
    }
    for (int side = 0; side < 2; ++side) {
      const gp_Ax3 axes(point_of(plan_.foot.point), direction_of(-plan_.foot.up), gp_Dir(0, 0, 1));
      const Handle(Geom_Plane) plane = new Geom_Plane(axes);
      make_.lay(in.foot[side], plane, on_plane(in.foot_curve[side], axes), 64);
      make_.lay(out.foot[side], plane, on_plane(out.foot_curve[side], axes), 64);
      for (int end = 0; end < 2; ++end)
        make_.lay(across[side][end], plane, on_plane(line[side][end], axes), 4);
      const bool plus = side == 1;
      const WirePath path{{out.foot[side], plus},
                          {across[side][plus ? 1 : 0], false},
                          {in.foot[side], !plus},
                          {across[side][plus ? 0 : 1], true}};
      make_.face(plane, FaceSide::along, {path});
    }
    add_sheet(inner_, in, FaceSide::along);
    add_sheet(outer_, out, FaceSide::against);
  }

  void add_sheet(const Sheet& sheet, const Border& border, FaceSide side) {
    std::vector<WirePath> wires{border.wire()};
    wires.insert(wires.end(), sheet.holes.begin(), sheet.holes.end());
    make_.face(sheet.surface, side, wires);
  }

  const GuidePlan& plan_;
  double nudge_;
  DirectBuilder make_;
  Sheet inner_;
  Sheet outer_;
  RigidMotion frame_;  ///< of the boss or post being made
};

}  // namespace

Solid build_guide(const GuidePlan& plan, double nudge) {
  return guarded(plan.name, "building face by face", [&] { return GuideBuilder(plan, nudge).build(); });
}

MeshAccuracy guide_mesh_accuracy() {
  return {0.05, 0.35, 0.02, 0.12};
}

Solid build_guide(const GuidePlan& plan, GateLog& log) {
  return build_sound([&](double nudge) { return build_guide(plan, nudge); }, expectation_of(plan), log,
                     guide_mesh_accuracy());
}

}  // namespace culmwright
