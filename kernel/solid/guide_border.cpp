#include "solid/guide_border.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom_Plane.hxx>
#include <algorithm>

#include "solid/curves.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

constexpr double least_piece = 0.5;  ///< of a foot's edge
constexpr int along_points = 9;      ///< of a side along a tongue or notch

/// Foot 0 lies toward lesser θ, end 0 toward end A of the tube.
struct FootPiece {
  TopoDS_Edge edge;  ///< toward end B
  Handle(Geom_BSplineCurve) curve;
};
struct Corner {
  Vec2 place;  ///< (θ, at)
  Vec3 point;
  TopoDS_Vertex vertex;
};
/// One side of an end, which runs across the tube, or along it beside a tongue or notch. Its curve runs
/// toward growing θ, or toward end B.
struct EndSide {
  TopoDS_Edge edge;
  Handle(Geom_BSplineCurve) curve;
  bool along = false;
  bool forward = true;  ///< the curve runs as the end does, toward growing θ
};
struct EndLine {
  std::vector<Corner> corners;  ///< from foot 0 to foot 1
  std::vector<EndSide> sides;

  WirePath path(bool toward_growing) const {
    WirePath path;
    for (const EndSide& side : sides) path.push_back({side.edge, side.forward == toward_growing});
    if (!toward_growing) std::reverse(path.begin(), path.end());
    return path;
  }
};
struct Border {
  TopoDS_Vertex corner[2][2];  ///< [foot][end]
  Vec3 point[2][2];
  EndLine end[2];
  std::vector<FootPiece> foot[2];

  WirePath foot_path(int side, bool toward_b) const {
    WirePath path;
    for (const FootPiece& piece : foot[side]) path.push_back({piece.edge, toward_b});
    if (!toward_b) std::reverse(path.begin(), path.end());
    return path;
  }
};

void append(WirePath& path, const WirePath& more) {
  path.insert(path.end(), more.begin(), more.end());
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

/// Where the field begins or ends to rise, within the guide, with its ends.
std::vector<double> breaks_of(const OffsetField& field, const Span& at) {
  std::vector<double> wanted;
  for (const OffsetPatch& patch : field.patches) {
    wanted.insert(wanted.end(),
                  {patch.at.from - patch.at_step, patch.at.from, patch.at.to, patch.at.to + patch.at_step});
  }
  std::sort(wanted.begin(), wanted.end());
  std::vector<double> breaks{at.from};
  for (const double w : wanted) {
    if (w > breaks.back() + least_piece && w < at.to - least_piece) breaks.push_back(w);
  }
  breaks.push_back(at.to);
  return breaks;
}

/// One foot's curve: on the patch and in space, over the places of the patch's own samples and between.
struct FootCurve {
  Handle(Geom_BSplineCurve) in_space;
  Handle(Geom2d_BSplineCurve) on_sheet;
};

FootCurve foot_curve(const GuidePlan& plan, const Sheet& sheet, int foot) {
  const std::vector<double> at = with_middles(sheet.at);
  double theta = plan.foot_theta(sheet.face, foot == 0 ? -1 : 1, plan.at.from);
  std::vector<Vec3> points;
  std::vector<Vec2> places;
  for (const double place : at) {
    theta = meet_plane(sheet.surface, plan.foot.point, plan.foot.up, theta, place);
    places.push_back({theta, place});
    points.push_back(vec_of(sheet.surface->Value(theta, place)));
  }
  return {curve_through(at, points), curve_through(at, places)};
}

template <class Curve>
Handle(Curve) piece_of(const Handle(Curve) & curve, double from, double to) {
  const Handle(Curve) piece = Handle(Curve)::DownCast(curve->Copy());
  piece->Segment(from, to);
  return piece;
}

void add_foot(DirectBuilder& make, const GuidePlan& plan, const Sheet& sheet, int foot, Border& border) {
  const FootCurve curve = foot_curve(plan, sheet, foot);
  const std::vector<double> breaks = breaks_of(sheet.face.field(), plan.at);
  std::vector<TopoDS_Vertex> corners;
  for (const double at : breaks) corners.push_back(make.vertex(vec_of(curve.in_space->Value(at))));
  for (std::size_t i = 1; i < breaks.size(); ++i) {
    FootPiece piece;
    piece.curve = piece_of(curve.in_space, breaks[i - 1], breaks[i]);
    piece.edge = make.edge(piece.curve, breaks[i - 1], breaks[i], corners[i - 1], corners[i]);
    const int samples = 3 * piece.curve->NbPoles();
    make.lay(piece.edge, sheet.surface, piece_of(curve.on_sheet, breaks[i - 1], breaks[i]), samples);
    border.foot[foot].push_back(piece);
  }
  border.corner[foot][0] = corners.front();
  border.corner[foot][1] = corners.back();
  border.point[foot][0] = vec_of(curve.in_space->Value(plan.at.from));
  border.point[foot][1] = vec_of(curve.in_space->Value(plan.at.to));
}

const GuideJoint* joint_at(const GuidePlan& plan, int end) {
  for (const GuideJoint& joint : plan.joints) {
    if ((joint.toward == End::a) == (end == 0)) return &joint;
  }
  return nullptr;
}

/// The patch's own line across the tube: exact, and plane.
EndSide side_across(DirectBuilder& make, const Sheet& sheet, const Corner& from, const Corner& to) {
  EndSide side;
  side.curve = Handle(Geom_BSplineCurve)::DownCast(sheet.surface->VIso(from.place.y));
  side.curve->Segment(from.place.x, to.place.x);
  side.edge = make.edge(side.curve, from.place.x, to.place.x, from.vertex, to.vertex);
  make.lay(side.edge, sheet.surface, line_2d({0.0, from.place.y}, {1.0, 0.0}), 64);
  return side;
}

/// Along the tube, through the same places on both sheets, so that a ruled wall stands between them.
EndSide side_along(DirectBuilder& make, const Sheet& sheet, const Corner& from, const Corner& to) {
  EndSide side;
  side.along = true;
  side.forward = from.place.y < to.place.y;
  const Corner& low = side.forward ? from : to;
  const Corner& high = side.forward ? to : from;
  const std::vector<double> at = even_values(low.place.y, high.place.y, along_points);
  std::vector<Vec3> points;
  for (const double place : at) points.push_back(vec_of(sheet.surface->Value(low.place.x, place)));
  side.curve = curve_through(at, points);
  side.edge = make.edge(side.curve, at.front(), at.back(), low.vertex, high.vertex);
  make.lay(side.edge, sheet.surface, line_2d({low.place.x, 0.0}, {0.0, 1.0}), 4 * along_points);
  return side;
}

void add_end(DirectBuilder& make, const GuidePlan& plan, const Sheet& sheet, int end, Border& border) {
  const double at = end == 0 ? plan.at.from : plan.at.to;
  const auto foot = [&](int k) {
    const double guess = plan.foot_theta(sheet.face, k == 0 ? -1 : 1, at);
    const double theta = meet_plane(sheet.surface, plan.foot.point, plan.foot.up, guess, at);
    return Corner{{theta, at}, border.point[k][end], border.corner[k][end]};
  };
  EndLine& line = border.end[end];
  line.corners.push_back(foot(0));
  if (const GuideJoint* joint = joint_at(plan, end)) {
    const double tip = joint->tip_at();
    for (const Vec2 place : {Vec2{joint->theta.from, at}, Vec2{joint->theta.from, tip},
                             Vec2{joint->theta.to, tip}, Vec2{joint->theta.to, at}}) {
      const Vec3 point = vec_of(sheet.surface->Value(place.x, place.y));
      line.corners.push_back({place, point, make.vertex(point)});
    }
  }
  line.corners.push_back(foot(1));
  for (std::size_t i = 1; i < line.corners.size(); ++i) {
    const Corner& from = line.corners[i - 1];
    const Corner& to = line.corners[i];
    line.sides.push_back(from.place.y == to.place.y ? side_across(make, sheet, from, to)
                                                    : side_along(make, sheet, from, to));
  }
}

Border border_of(DirectBuilder& make, const GuidePlan& plan, const Sheet& sheet) {
  Border border;
  for (int foot = 0; foot < 2; ++foot) add_foot(make, plan, sheet, foot, border);
  for (int end = 0; end < 2; ++end) add_end(make, plan, sheet, end, border);
  return border;
}

/// The straight edges from the inner to the outer sheet at the corners of an end.
struct Uprights {
  std::vector<TopoDS_Edge> edges;
  std::vector<Handle(Geom_BSplineCurve)> curves;
};

Uprights uprights_of(DirectBuilder& make, const EndLine& inner, const EndLine& outer) {
  Uprights uprights;
  for (std::size_t i = 0; i < inner.corners.size(); ++i) {
    const Corner& low = inner.corners[i];
    const Corner& high = outer.corners[i];
    uprights.curves.push_back(straight(low.point, high.point));
    uprights.edges.push_back(make.edge(uprights.curves.back(), 0.0, 1.0, low.vertex, high.vertex));
  }
  return uprights;
}

/// Across the tube: in one plane.
void add_flat_side(DirectBuilder& make, bool toward_a, const EndLine& inner, const EndLine& outer,
                   const Uprights& uprights, std::size_t i) {
  const double at = inner.corners[i].place.y;
  const gp_Ax3 axes(gp_Pnt(0, 0, -at), gp_Dir(0, 0, toward_a ? 1 : -1), gp_Dir(1, 0, 0));
  const Handle(Geom_Plane) plane = new Geom_Plane(axes);
  make.lay(inner.sides[i].edge, plane, on_plane(inner.sides[i].curve, axes), 64);
  make.lay(outer.sides[i].edge, plane, on_plane(outer.sides[i].curve, axes), 64);
  for (const std::size_t k : {i, i + 1}) {
    make.lay(uprights.edges[k], plane, on_plane(uprights.curves[k], axes), 4);
  }
  make.face(plane, FaceSide::along,
            {{{outer.sides[i].edge, toward_a},
              {uprights.edges[toward_a ? i + 1 : i], false},
              {inner.sides[i].edge, !toward_a},
              {uprights.edges[toward_a ? i : i + 1], true}}});
}

/// Along the tube, beside a tongue or notch: a wall of straight lines along the skin's normal.
void add_side_wall(DirectBuilder& make, bool toward_a, const EndLine& inner, const EndLine& outer,
                   const Uprights& uprights, std::size_t i) {
  const EndSide& low = inner.sides[i];
  const EndSide& high = outer.sides[i];
  const Handle(Geom_BSplineSurface) wall = ruled(low.curve, high.curve);
  const std::size_t first = low.forward ? i : i + 1;
  const std::size_t last = low.forward ? i + 1 : i;
  make.lay(low.edge, wall, line_2d({0.0, 0.0}, {1.0, 0.0}), 8);
  make.lay(high.edge, wall, line_2d({0.0, 1.0}, {1.0, 0.0}), 8);
  make.lay(uprights.edges[first], wall, line_2d({low.curve->FirstParameter(), 0.0}, {0.0, 1.0}), 4);
  make.lay(uprights.edges[last], wall, line_2d({low.curve->LastParameter(), 0.0}, {0.0, 1.0}), 4);
  // Its own normal looks toward lesser θ. As the end runs, the material lies toward end B at end 0 and toward
  // end A at end 1: beside a side that runs toward B that is the lesser θ at end 0.
  const bool material_at_greater = low.forward != toward_a;
  make.face(
      wall, material_at_greater ? FaceSide::along : FaceSide::against,
      {{{low.edge, true}, {uprights.edges[last], true}, {high.edge, false}, {uprights.edges[first], false}}});
}

void add_end_faces(DirectBuilder& make, int end, const EndLine& inner, const EndLine& outer,
                   const Uprights& uprights) {
  for (std::size_t i = 0; i < inner.sides.size(); ++i) {
    const auto add = inner.sides[i].along ? add_side_wall : add_flat_side;
    add(make, end == 0, inner, outer, uprights, i);
  }
}

void add_foot_face(DirectBuilder& make, const GuidePlan& plan, int foot, const Border& inner,
                   const Border& outer, const Uprights (&uprights)[2]) {
  const gp_Ax3 axes(point_of(plan.foot.point), direction_of(-plan.foot.up), gp_Dir(0, 0, 1));
  const Handle(Geom_Plane) plane = new Geom_Plane(axes);
  for (const Border* border : {&inner, &outer}) {
    for (const FootPiece& piece : border->foot[foot])
      make.lay(piece.edge, plane, on_plane(piece.curve, axes), 16);
  }
  const bool greater = foot == 1;
  TopoDS_Edge upright[2];
  for (int end = 0; end < 2; ++end) {
    const Uprights& at_end = uprights[end];
    upright[end] = greater ? at_end.edges.back() : at_end.edges.front();
    const auto& curve = greater ? at_end.curves.back() : at_end.curves.front();
    make.lay(upright[end], plane, on_plane(curve, axes), 4);
  }
  WirePath path = outer.foot_path(foot, greater);
  path.push_back({upright[greater ? 1 : 0], false});
  append(path, inner.foot_path(foot, !greater));
  path.push_back({upright[greater ? 0 : 1], true});
  make.face(plane, FaceSide::along, {path});
}

void add_sheet(DirectBuilder& make, const Sheet& sheet, const Border& border, FaceSide side) {
  WirePath path = border.end[0].path(true);
  append(path, border.foot_path(1, true));
  append(path, border.end[1].path(false));
  append(path, border.foot_path(0, false));
  std::vector<WirePath> wires{path};
  wires.insert(wires.end(), sheet.holes.begin(), sheet.holes.end());
  make.face(sheet.surface, side, wires);
}

}  // namespace

void add_sides_and_sheets(DirectBuilder& make, const GuidePlan& plan, const Sheet& inner,
                          const Sheet& outer) {
  const Border in = border_of(make, plan, inner);
  const Border out = border_of(make, plan, outer);
  const Uprights uprights[2] = {uprights_of(make, in.end[0], out.end[0]),
                                uprights_of(make, in.end[1], out.end[1])};
  for (int end = 0; end < 2; ++end) add_end_faces(make, end, in.end[end], out.end[end], uprights[end]);
  for (int foot = 0; foot < 2; ++foot) add_foot_face(make, plan, foot, in, out, uprights);
  add_sheet(make, inner, in, FaceSide::along);
  add_sheet(make, outer, out, FaceSide::against);
}

}  // namespace culmwright
