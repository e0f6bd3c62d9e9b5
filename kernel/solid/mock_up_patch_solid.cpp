#include "solid/mock_up_patch_solid.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom_Plane.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include "solid/curves.hpp"
#include "solid/guarded.hpp"
#include "solid/outline_walls.hpp"
#include "solid/patch.hpp"
#include "solid/ridges.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

constexpr double sheet_margin = 0.8;  ///< of a sheet beyond the outline
const double sheet_step_around = 3.0 * pi / 180.0;
constexpr double sheet_step_along = 2.0;
constexpr double ridge_step = 0.3;
constexpr double line_step = 1.2;
constexpr double corner_step = 4.0 * pi / 180.0;
constexpr double ridge_line_step = 0.35;
constexpr int least_steps = 8;
constexpr int edge_steps = 8;  ///< over the quarter turn of the rounded edge
constexpr int notch_steps = 8;

/// A curve of the plan: in (X, Y, c), sampled, and what was made of it.
struct PlanCurve {
  std::vector<double> t;
  std::vector<Vec2> XY;
  std::vector<double> c;
  std::vector<Vec3> points;
  Handle(Geom_BSplineCurve) curve;
  TopoDS_Edge edge;
};

class PatchBuilder {
 public:
  PatchBuilder(const MockUpPatchPlan& plan, double nudge)
      : plan_(plan),
        make_(plan.part()),
        pieces_(patch_pieces(plan)),
        bottom_(sheet_at(plan.low, nudge)),
        top_(sheet_at(plan.high, nudge)) {}

  Solid build() {
    make_.stage("side walls and edge");
    add_rims();
    make_.stage("notch");
    add_notch();
    make_.stage("engraving of " + plan_.patch.id);
    for (const StrokeOutline& stroke : plan_.strokes)
      add_stroke(make_, top_, on_sheet(stroke), patch_sizes::engraving);
    make_.stage("underside and top");
    add_sheet(bottom_, low_path_, FaceSide::along);
    add_sheet(top_, high_path_, FaceSide::against);
    return make_.finish();
  }

 private:
  Vec2 place(Vec2 XY) const {
    const Vec2 xy = plan_.on_chart(XY);
    return {plan_.chart.theta(xy).radians(), plan_.chart.at() + xy.x};
  }
  Vec3 point(Vec2 XY, double c) const { return plan_.chart.point(plan_.on_chart(XY), c); }

  /// Counter-clockwise in (X, Y) is clockwise in (θ, at).
  std::vector<Vec2> on_sheet(const StrokeOutline& stroke) const {
    std::vector<Vec2> corners;
    for (const Vec2& p : stroke) corners.push_back(place(p));
    std::reverse(corners.begin(), corners.end());
    return corners;
  }

  Sheet sheet_at(double c, double nudge) const {
    const SkinChart& chart = plan_.chart;
    const double half = 0.5 * plan_.outline.length + sheet_margin;
    double low = chart.theta().radians();
    double high = low;
    for (const double x : {-half, -0.5 * half, 0.0, 0.5 * half, half}) {
      low = std::min(low, chart.theta({x, -0.5 * plan_.outline.width - sheet_margin}).radians());
      high = std::max(high, chart.theta({x, 0.5 * plan_.outline.width + sheet_margin}).radians());
    }
    const int steps = std::max(least_steps, static_cast<int>(std::ceil((high - low) / sheet_step_around)));
    const double turn = nudge / plan_.chart.place(Vec2{}, 0.0).radius;
    const std::vector<double> along = graded_values(chart.at() - half + nudge, chart.at() + half + nudge,
                                                    sheet_step_along, ridge_step, ridge_ranges(chart.tube()));
    std::optional<Section> section;
    const auto f = [&](double t, double at) {
      if (!section || section->at() != at) section = chart.tube().section(at);
      return SkinChart::point(*section, Angle::from_radians(t), c);
    };
    OffsetField field;
    field.level = c;
    const GuideFace face(smooth_tube(chart.tube()), chart.theta().radians(), field);
    return {face, along, windowed_patch(f, even_values(low + turn, high + turn, steps + 1), along), {}};
  }

  /// Samples of a piece, ends included.
  std::vector<double> samples_of(const PatchPiece& piece) const {
    const double half = 0.5 * plan_.outline.length;
    bool ridge = false;
    for (const FineRange& range : ridge_ranges(plan_.chart.tube()))
      ridge = ridge || (range.from < plan_.chart.at() + half && range.to > plan_.chart.at() - half);
    double step = ridge ? ridge_line_step : line_step;
    if (piece.is_corner()) step = std::min(step, corner_step * plan_.outline.corner);
    const int steps = std::max(least_steps, static_cast<int>(std::ceil(piece.length() / step)));
    return even_values(0.0, 1.0, steps + 1);
  }

  PlanCurve sampled(std::vector<double> t, const std::function<Vec2(double)>& XY,
                    const std::function<double(double)>& c) const {
    PlanCurve curve;
    curve.t = std::move(t);
    for (const double s : curve.t) {
      curve.XY.push_back(XY(s));
      curve.c.push_back(c(s));
      curve.points.push_back(point(curve.XY.back(), curve.c.back()));
    }
    curve.curve = curve_through(curve.t, curve.points);
    return curve;
  }
  void make_edge(PlanCurve& curve, const TopoDS_Vertex& first, const TopoDS_Vertex& last) {
    curve.edge = make_.edge(curve.curve, curve.t.front(), curve.t.back(), first, last);
  }
  int samples(const PlanCurve& curve) const { return 4 * static_cast<int>(curve.t.size()) + 1; }

  void lay_on_sheet(const PlanCurve& curve, const Sheet& sheet) {
    std::vector<Vec2> places;
    for (const Vec2& p : curve.XY) places.push_back(place(p));
    make_.lay(curve.edge, sheet.surface, curve_through(curve.t, places), samples(curve));
  }

  /// Three levels of rim (foot of the wall, shoulder, top) and what joins them.
  void add_rims() {
    const std::size_t count = pieces_.size();
    const double shoulder = plan_.high - plan_.edge;
    std::vector<TopoDS_Vertex> corner[3];
    for (std::size_t i = 0; i <= count; ++i) {
      const Vec2 outer = i < count ? pieces_[i].at(0.0, 0.0) : pieces_.back().at(1.0, 0.0);
      const Vec2 inner = i < count ? pieces_[i].at(0.0, plan_.edge) : pieces_.back().at(1.0, plan_.edge);
      corner[0].push_back(make_.vertex(point(outer, plan_.low)));
      corner[1].push_back(make_.vertex(point(outer, shoulder)));
      corner[2].push_back(make_.vertex(point(inner, plan_.high)));
    }
    std::vector<TopoDS_Edge> upright;
    std::vector<PlanCurve> quarter;
    for (std::size_t i = 0; i <= count; ++i) {
      const PatchPiece& piece = pieces_[std::min(i, count - 1)];
      const double t = i < count ? 0.0 : 1.0;
      upright.push_back(
          make_.edge(straight(point(piece.at(t, 0.0), plan_.low), point(piece.at(t, 0.0), shoulder)), 0.0,
                     1.0, corner[0][i], corner[1][i]));
      quarter.push_back(sampled(
          even_values(0.0, 0.5 * pi, edge_steps + 1),
          [&](double psi) { return piece.at(t, plan_.edge * (1.0 - std::cos(psi))); },
          [&](double psi) { return plan_.high - plan_.edge * (1.0 - std::sin(psi)); }));
      make_edge(quarter.back(), corner[1][i], corner[2][i]);
    }
    for (std::size_t i = 0; i < count; ++i) {
      PlanCurve rims[3];
      for (int k = 0; k < 3; ++k) {
        const double inset = k == 2 ? plan_.edge : 0.0;
        const double c = k == 0 ? plan_.low : k == 1 ? shoulder : plan_.high;
        rims[k] = sampled(
            samples_of(pieces_[i]), [&](double t) { return pieces_[i].at(t, inset); },
            [&](double) { return c; });
        make_edge(rims[k], corner[k][i], corner[k][i + 1]);
      }
      add_wall(rims[0], rims[1], upright[i], upright[i + 1]);
      add_round(pieces_[i], rims[1], rims[2], quarter[i], quarter[i + 1]);
      lay_on_sheet(rims[0], bottom_);
      lay_on_sheet(rims[2], top_);
      low_path_.push_back({rims[0].edge, true});
      high_path_.push_back({rims[2].edge, true});
    }
    for (int k = 0; k < 3; ++k) {
      begin_[k] = corner[k].front();
      end_[k] = corner[k].back();
    }
    begin_upright_ = upright.front();
    end_upright_ = upright.back();
    begin_quarter_ = quarter.front();
    end_quarter_ = quarter.back();
  }

  void add_wall(const PlanCurve& low, const PlanCurve& high, const TopoDS_Edge& left,
                const TopoDS_Edge& right) {
    const Handle(Geom_BSplineSurface) wall = ruled(low.curve, high.curve);
    make_.lay(low.edge, wall, line_2d({0.0, 0.0}, {1.0, 0.0}), 8);
    make_.lay(high.edge, wall, line_2d({0.0, 1.0}, {1.0, 0.0}), 8);
    make_.lay(left, wall, line_2d({0.0, 0.0}, {0.0, 1.0}), 4);
    make_.lay(right, wall, line_2d({1.0, 0.0}, {0.0, 1.0}), 4);
    make_.face(wall, FaceSide::along, {{{low.edge, true}, {right, true}, {high.edge, false}, {left, false}}});
  }

  void add_round(const PatchPiece& piece, const PlanCurve& low, const PlanCurve& high, const PlanCurve& left,
                 const PlanCurve& right) {
    const auto f = [&](double t, double psi) {
      return point(piece.at(t, plan_.edge * (1.0 - std::cos(psi))),
                   plan_.high - plan_.edge * (1.0 - std::sin(psi)));
    };
    const Handle(Geom_BSplineSurface) round = windowed_patch(f, low.t, left.t);
    make_.lay(low.edge, round, line_2d({0.0, 0.0}, {1.0, 0.0}), samples(low));
    make_.lay(high.edge, round, line_2d({0.0, 0.5 * pi}, {1.0, 0.0}), samples(high));
    make_.lay(left.edge, round, line_2d({0.0, 0.0}, {0.0, 1.0}), samples(left));
    make_.lay(right.edge, round, line_2d({1.0, 0.0}, {0.0, 1.0}), samples(right));
    make_.face(round, FaceSide::along,
               {{{low.edge, true}, {right.edge, true}, {high.edge, false}, {left.edge, false}}});
  }

  /// One side of the notch, Y = side · notch_half. Its edges at the underside and top run outward from the
  /// floor.
  struct NotchSide {
    PlanCurve low;
    PlanCurve high;
    TopoDS_Edge inner;  ///< upward, where it meets the floor
    TopoDS_Vertex corner[2];
  };

  NotchSide add_notch_side(double side) {
    const double Y = side * plan_.notch_half;
    const double floor = plan_.notch_floor;
    const double outer = plan_.edge_at_notch(0.0);
    const double inner = plan_.edge_at_notch(plan_.edge);
    const bool first = side > 0.0;
    const TopoDS_Vertex* rim = first ? begin_ : end_;
    NotchSide made;
    made.corner[0] = make_.vertex(point({floor, Y}, plan_.low));
    made.corner[1] = make_.vertex(point({floor, Y}, plan_.high));
    const auto along_x = [&](double to, double c) {
      return sampled(
          even_values(floor, to, notch_steps + 1),
          [&](double X) {
            return Vec2{X, Y};
          },
          [c](double) { return c; });
    };
    made.low = along_x(outer, plan_.low);
    make_edge(made.low, made.corner[0], rim[0]);
    made.high = along_x(inner, plan_.high);
    make_edge(made.high, made.corner[1], rim[2]);
    made.inner = make_.edge(straight(point({floor, Y}, plan_.low), point({floor, Y}, plan_.high)), 0.0, 1.0,
                            made.corner[0], made.corner[1]);
    const auto f = [&](double X, double c) { return point({X, Y}, c); };
    const Handle(Geom_BSplineSurface) wall =
        windowed_patch(f, even_values(floor, outer, notch_steps + 1), even_values(plan_.low, plan_.high, 4));
    make_.lay(made.low.edge, wall, line_2d({0.0, plan_.low}, {1.0, 0.0}), samples(made.low));
    make_.lay(made.high.edge, wall, line_2d({0.0, plan_.high}, {1.0, 0.0}), samples(made.high));
    make_.lay(made.inner, wall, segment_2d({floor, plan_.low}, {floor, plan_.high}), 4);
    const TopoDS_Edge& upright = first ? begin_upright_ : end_upright_;
    make_.lay(upright, wall, segment_2d({outer, plan_.low}, {outer, plan_.high - plan_.edge}), 4);
    const PlanCurve& quarter = first ? begin_quarter_ : end_quarter_;
    std::vector<Vec2> places;
    for (std::size_t i = 0; i < quarter.t.size(); ++i) places.push_back({quarter.XY[i].x, quarter.c[i]});
    make_.lay(quarter.edge, wall, curve_through(quarter.t, places), samples(quarter));
    make_.face(wall, first ? FaceSide::along : FaceSide::against,
               {{{made.low.edge, true},
                 {upright, true},
                 {quarter.edge, true},
                 {made.high.edge, false},
                 {made.inner, false}}});
    return made;
  }

  /// A straight curve of the parameter plane with the parameters 0 to 1.
  static Handle(Geom2d_BSplineCurve) segment_2d(Vec2 from, Vec2 to) {
    return curve_through(even_values(0.0, 1.0, 4), std::vector<Vec2>{from, from + (to - from) * (1.0 / 3.0),
                                                                     from + (to - from) * (2.0 / 3.0), to});
  }

  void add_notch() {
    const NotchSide left = add_notch_side(1.0);    // where the outline begins
    const NotchSide right = add_notch_side(-1.0);  // where it ends
    const double floor = plan_.notch_floor;
    const auto across = [&](double c) {
      return sampled(
          even_values(-plan_.notch_half, plan_.notch_half, notch_steps + 1),
          [&](double Y) {
            return Vec2{floor, Y};
          },
          [c](double) { return c; });
    };
    PlanCurve low = across(plan_.low);
    make_edge(low, right.corner[0], left.corner[0]);
    PlanCurve high = across(plan_.high);
    make_edge(high, right.corner[1], left.corner[1]);
    // The floor looks toward the mouth end.
    const Vec3 middle = point({floor, 0.0}, plan_.low);
    const gp_Ax3 axes(point_of(middle), gp_Dir(0, 0, -plan_.mouth), gp_Dir(1, 0, 0));
    const Handle(Geom_Plane) plane = new Geom_Plane(axes);
    make_.lay(low.edge, plane, on_plane(low.curve, axes), samples(low));
    make_.lay(high.edge, plane, on_plane(high.curve, axes), samples(high));
    for (const NotchSide* side : {&left, &right}) {
      const double Y = side == &left ? plan_.notch_half : -plan_.notch_half;
      make_.lay(side->inner, plane,
                on_plane(straight(point({floor, Y}, plan_.low), point({floor, Y}, plan_.high)), axes), 4);
    }
    make_.face(plane, FaceSide::along,
               {{{low.edge, true}, {left.inner, true}, {high.edge, false}, {right.inner, false}}});
    const PlanCurve* lows[3] = {&right.low, &low, &left.low};
    const PlanCurve* highs[3] = {&right.high, &high, &left.high};
    for (int i = 0; i < 3; ++i) {
      lay_on_sheet(*lows[i], bottom_);
      lay_on_sheet(*highs[i], top_);
      low_path_.push_back({lows[i]->edge, i > 0});
      high_path_.push_back({highs[i]->edge, i > 0});
    }
  }

  /// The paths run counter-clockwise in (X, Y): turned round for (θ, at).
  void add_sheet(const Sheet& sheet, const WirePath& path, FaceSide side) {
    WirePath outer;
    for (std::size_t i = path.size(); i-- > 0;) outer.push_back({path[i].edge, !path[i].forward});
    std::vector<WirePath> wires{outer};
    wires.insert(wires.end(), sheet.holes.begin(), sheet.holes.end());
    make_.face(sheet.surface, side, wires);
  }

  const MockUpPatchPlan& plan_;
  DirectBuilder make_;
  std::vector<PatchPiece> pieces_;
  Sheet bottom_;
  Sheet top_;
  WirePath low_path_;
  WirePath high_path_;
  TopoDS_Vertex begin_[3];
  TopoDS_Vertex end_[3];
  TopoDS_Edge begin_upright_;
  TopoDS_Edge end_upright_;
  PlanCurve begin_quarter_;
  PlanCurve end_quarter_;
};

}  // namespace

Solid build_mock_up_patch(const MockUpPatchPlan& plan, double nudge) {
  return guarded(plan.part(), "building face by face", [&] { return PatchBuilder(plan, nudge).build(); });
}

Solid mock_up_patch_solid(const MockUpPatchPlan& plan, GateLog& log) {
  return build_sound([&](double nudge) { return build_mock_up_patch(plan, nudge); }, expectation_of(plan),
                     log, mock_up_patch_accuracy);
}

}  // namespace culmwright
