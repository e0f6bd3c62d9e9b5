#include "solid/guide_border.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom_Plane.hxx>
#include <algorithm>

#include "solid/curves.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

constexpr double least_piece = 0.5;  ///< of a foot's edge

/// Foot 0 lies toward lesser θ, end 0 toward end A of the tube.
struct FootPiece {
  TopoDS_Edge edge;  ///< toward end B
  Handle(Geom_BSplineCurve) curve;
};
struct Border {
  TopoDS_Vertex corner[2][2];  ///< [foot][end]
  Vec3 point[2][2];
  TopoDS_Edge end[2];  ///< toward growing θ
  Handle(Geom_BSplineCurve) end_curve[2];
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
  border.point[foot][0] = vec_of(curve.in_space->StartPoint());
  border.point[foot][1] = vec_of(curve.in_space->EndPoint());
}

/// The patch's own line at its end: exact, and plane.
void add_end(DirectBuilder& make, const GuidePlan& plan, const Sheet& sheet, int end, Border& border) {
  const double at = end == 0 ? plan.at.from : plan.at.to;
  const auto theta = [&](int foot) {
    const double guess = plan.foot_theta(sheet.face, foot == 0 ? -1 : 1, at);
    return meet_plane(sheet.surface, plan.foot.point, plan.foot.up, guess, at);
  };
  const double from = theta(0);
  const double to = theta(1);
  const Handle(Geom_BSplineCurve) curve = Handle(Geom_BSplineCurve)::DownCast(sheet.surface->VIso(at));
  curve->Segment(from, to);
  border.end_curve[end] = curve;
  border.end[end] = make.edge(curve, from, to, border.corner[0][end], border.corner[1][end]);
  make.lay(border.end[end], sheet.surface, line_2d({0.0, at}, {1.0, 0.0}), 64);
}

Border border_of(DirectBuilder& make, const GuidePlan& plan, const Sheet& sheet) {
  Border border;
  for (int foot = 0; foot < 2; ++foot) add_foot(make, plan, sheet, foot, border);
  for (int end = 0; end < 2; ++end) add_end(make, plan, sheet, end, border);
  return border;
}

/// The straight edges from the inner to the outer sheet at the four corners.
struct Uprights {
  TopoDS_Edge edge[2][2];  ///< [foot][end]
  Handle(Geom_BSplineCurve) curve[2][2];
};

void add_end_face(DirectBuilder& make, const GuidePlan& plan, int end, const Border& inner,
                  const Border& outer, const Uprights& uprights) {
  const bool first = end == 0;
  const gp_Ax3 axes(gp_Pnt(0, 0, first ? -plan.at.from : -plan.at.to), gp_Dir(0, 0, first ? 1 : -1),
                    gp_Dir(1, 0, 0));
  const Handle(Geom_Plane) plane = new Geom_Plane(axes);
  make.lay(inner.end[end], plane, on_plane(inner.end_curve[end], axes), 64);
  make.lay(outer.end[end], plane, on_plane(outer.end_curve[end], axes), 64);
  for (int foot = 0; foot < 2; ++foot) {
    make.lay(uprights.edge[foot][end], plane, on_plane(uprights.curve[foot][end], axes), 4);
  }
  make.face(plane, FaceSide::along,
            {{{outer.end[end], first},
              {uprights.edge[first ? 1 : 0][end], false},
              {inner.end[end], !first},
              {uprights.edge[first ? 0 : 1][end], true}}});
}

void add_foot_face(DirectBuilder& make, const GuidePlan& plan, int foot, const Border& inner,
                   const Border& outer, const Uprights& uprights) {
  const gp_Ax3 axes(point_of(plan.foot.point), direction_of(-plan.foot.up), gp_Dir(0, 0, 1));
  const Handle(Geom_Plane) plane = new Geom_Plane(axes);
  for (const Border* border : {&inner, &outer}) {
    for (const FootPiece& piece : border->foot[foot])
      make.lay(piece.edge, plane, on_plane(piece.curve, axes), 16);
  }
  for (int end = 0; end < 2; ++end) {
    make.lay(uprights.edge[foot][end], plane, on_plane(uprights.curve[foot][end], axes), 4);
  }
  const bool greater = foot == 1;
  WirePath path = outer.foot_path(foot, greater);
  path.push_back({uprights.edge[foot][greater ? 1 : 0], false});
  append(path, inner.foot_path(foot, !greater));
  path.push_back({uprights.edge[foot][greater ? 0 : 1], true});
  make.face(plane, FaceSide::along, {path});
}

void add_sheet(DirectBuilder& make, const Sheet& sheet, const Border& border, FaceSide side) {
  WirePath path{{border.end[0], true}};
  append(path, border.foot_path(1, true));
  path.push_back({border.end[1], false});
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
  Uprights uprights;
  for (int foot = 0; foot < 2; ++foot) {
    for (int end = 0; end < 2; ++end) {
      uprights.curve[foot][end] = straight(in.point[foot][end], out.point[foot][end]);
      uprights.edge[foot][end] =
          make.edge(uprights.curve[foot][end], 0.0, 1.0, in.corner[foot][end], out.corner[foot][end]);
    }
  }
  for (int end = 0; end < 2; ++end) add_end_face(make, plan, end, in, out, uprights);
  for (int foot = 0; foot < 2; ++foot) add_foot_face(make, plan, foot, in, out, uprights);
  add_sheet(make, inner, in, FaceSide::along);
  add_sheet(make, outer, out, FaceSide::against);
}

}  // namespace culmwright
