#include "solid/collar_solid.hpp"

#include <Geom_Plane.hxx>
#include <algorithm>
#include <optional>

#include "solid/curves.hpp"
#include "solid/guarded.hpp"
#include "solid/outline_walls.hpp"
#include "solid/patch.hpp"

namespace culmwright {

namespace {

constexpr double step_around = 4.0 * pi / 180.0;
constexpr double step_along = 2.0;
constexpr double fine_along = 0.33;
constexpr double step_per_nudge = 10.0;
/// Strokes stand close behind flanks, where knots are dense: their edges are measured more closely.
constexpr int samples_per_span = 16;

std::vector<FineRange> rises_of(const CollarPlan& plan) {
  std::vector<FineRange> rises;
  for (const GuideFace* face : {&plan.inner, &plan.outer}) {
    for (const OffsetPatch& patch : face->field().patches) {
      rises.push_back({patch.at.from - patch.at_step, patch.at.from});
      rises.push_back({patch.at.to, patch.at.to + patch.at_step});
    }
  }
  return rises;
}

/// A face between the split's sides, its border edges: [0] at the lesser parameter.
struct Shell {
  Sheet sheet;
  TopoDS_Vertex corner[2][2];  ///< [side of the split][end]
  Vec3 point[2][2];
  TopoDS_Edge end[2];  ///< toward growing θ
  Handle(Geom_BSplineCurve) end_curve[2];
  Handle(Geom_BSplineCurve) side_curve[2];
  std::vector<TopoDS_Edge> side[2];  ///< pieces of it, toward end B

  WirePath side_path(int which, bool toward_b) const {
    WirePath path;
    for (const TopoDS_Edge& edge : side[which]) path.push_back({edge, toward_b});
    if (!toward_b) std::reverse(path.begin(), path.end());
    return path;
  }
};

void append(WirePath& path, const WirePath& more) {
  path.insert(path.end(), more.begin(), more.end());
}

/// Where the field of either face begins or ends to rise, and half way, with the collar's ends. Both edges of
/// the split's sides are divided there, so that no facet steps over the other's groove.
std::vector<double> breaks_of(const CollarPlan& plan) {
  constexpr double least_piece = 0.5;
  const Span& at = plan.at;
  std::vector<double> wanted;
  for (const FineRange& rise : rises_of(plan)) {
    wanted.insert(wanted.end(), {rise.from, 0.5 * (rise.from + rise.to), rise.to});
  }
  std::sort(wanted.begin(), wanted.end());
  std::vector<double> breaks{at.from};
  for (const double w : wanted) {
    if (w > breaks.back() + least_piece && w < at.to - least_piece) breaks.push_back(w);
  }
  breaks.push_back(at.to);
  return breaks;
}

class CollarBuilder {
 public:
  CollarBuilder(const CollarPlan& plan, double nudge)
      : plan_(plan),
        make_(plan.part()),
        theta_(graded_values(plan.theta.from, plan.theta.to, step_around + nudge, step_around, {})),
        at_(graded_values(plan.at.from, plan.at.to, step_along + step_per_nudge * nudge, fine_along,
                          rises_of(plan))) {}

  Solid build() {
    make_.stage("bore and outside");
    Shell inner = shell(plan_.inner);
    Shell outer = shell(plan_.outer);
    make_.stage("ends and split");
    for (int side = 0; side < 2; ++side) {
      for (int end = 0; end < 2; ++end) {
        upright_curve_[side][end] = straight(inner.point[side][end], outer.point[side][end]);
        upright_[side][end] =
            make_.edge(upright_curve_[side][end], 0.0, 1.0, inner.corner[side][end], outer.corner[side][end]);
      }
    }
    for (int end = 0; end < 2; ++end) add_end(inner, outer, end);
    for (int side = 0; side < 2; ++side) add_side(inner, outer, side);
    make_.stage("window");
    add_opening(make_, inner.sheet, outer.sheet, plan_.window);
    make_.stage("engraving");
    for (const std::vector<Vec2>& corners : plan_.strokes) {
      add_stroke(make_, outer.sheet, corners, collar_sizes::engraving, samples_per_span);
    }
    make_.stage("bore and outside");
    add_shell(inner, FaceSide::along);
    add_shell(outer, FaceSide::against);
    return make_.finish();
  }

 private:
  Shell shell(const GuideFace& face) {
    std::optional<Section> section;
    const auto point = [&](double theta, double at) {
      if (!section || section->at() != at) section = face.base().section(at);
      return face.jet(*section, theta).point;
    };
    Shell shell{{face, at_, windowed_patch(point, theta_, at_), {}}, {}, {}, {}, {}, {}, {}};
    const Handle(Geom_BSplineSurface)& surface = shell.sheet.surface;
    const double u[2] = {theta_.front(), theta_.back()};
    const double v[2] = {at_.front(), at_.back()};
    for (int side = 0; side < 2; ++side) {
      for (int end = 0; end < 2; ++end) {
        shell.point[side][end] = vec_of(surface->Value(u[side], v[end]));
        shell.corner[side][end] = make_.vertex(shell.point[side][end]);
      }
    }
    for (int end = 0; end < 2; ++end) {
      shell.end_curve[end] = Handle(Geom_BSplineCurve)::DownCast(surface->VIso(v[end]));
      shell.end[end] =
          make_.edge(shell.end_curve[end], u[0], u[1], shell.corner[0][end], shell.corner[1][end]);
      make_.lay(shell.end[end], surface, line_2d({0.0, v[end]}, {1.0, 0.0}), 64);
    }
    for (int side = 0; side < 2; ++side) {
      shell.side_curve[side] = Handle(Geom_BSplineCurve)::DownCast(surface->UIso(u[side]));
      add_side_edges(shell, side, u[side]);
    }
    return shell;
  }

  void add_side_edges(Shell& shell, int side, double theta) {
    const std::vector<double> breaks = breaks_of(plan_);
    TopoDS_Vertex last = shell.corner[side][0];
    for (std::size_t i = 1; i < breaks.size(); ++i) {
      const TopoDS_Vertex next = i + 1 == breaks.size()
                                     ? shell.corner[side][1]
                                     : make_.vertex(vec_of(shell.side_curve[side]->Value(breaks[i])));
      shell.side[side].push_back(make_.edge(shell.side_curve[side], breaks[i - 1], breaks[i], last, next));
      make_.lay(shell.side[side].back(), shell.sheet.surface, line_2d({theta, 0.0}, {0.0, 1.0}), 32);
      last = next;
    }
  }

  void add_end(const Shell& inner, const Shell& outer, int end) {
    const bool first = end == 0;
    const gp_Ax3 axes(gp_Pnt(0, 0, first ? -plan_.at.from : -plan_.at.to), gp_Dir(0, 0, first ? 1 : -1),
                      gp_Dir(1, 0, 0));
    const Handle(Geom_Plane) plane = new Geom_Plane(axes);
    make_.lay(inner.end[end], plane, on_plane(inner.end_curve[end], axes), 64);
    make_.lay(outer.end[end], plane, on_plane(outer.end_curve[end], axes), 64);
    for (int side = 0; side < 2; ++side) {
      make_.lay(upright_[side][end], plane, on_plane(upright_curve_[side][end], axes), 4);
    }
    make_.face(plane, FaceSide::along,
               {{{outer.end[end], first},
                 {upright_[first ? 1 : 0][end], false},
                 {inner.end[end], !first},
                 {upright_[first ? 0 : 1][end], true}}});
  }

  void add_side(const Shell& inner, const Shell& outer, int side) {
    const Handle(Geom_BSplineSurface) wall = ruled(inner.side_curve[side], outer.side_curve[side]);
    for (const TopoDS_Edge& edge : inner.side[side])
      make_.lay(edge, wall, line_2d({0.0, 0.0}, {1.0, 0.0}), 16);
    for (const TopoDS_Edge& edge : outer.side[side])
      make_.lay(edge, wall, line_2d({0.0, 1.0}, {1.0, 0.0}), 16);
    for (int end = 0; end < 2; ++end) {
      make_.lay(upright_[side][end], wall, line_2d({end == 0 ? at_.front() : at_.back(), 0.0}, {0.0, 1.0}),
                4);
    }
    // ∂at × outward points toward lesser θ: out of the material on the first side alone.
    WirePath path = inner.side_path(side, true);
    path.push_back({upright_[side][1], true});
    append(path, outer.side_path(side, false));
    path.push_back({upright_[side][0], false});
    make_.face(wall, side == 0 ? FaceSide::along : FaceSide::against, {path});
  }

  void add_shell(const Shell& shell, FaceSide side) {
    WirePath border{{shell.end[0], true}};
    append(border, shell.side_path(1, true));
    border.push_back({shell.end[1], false});
    append(border, shell.side_path(0, false));
    std::vector<WirePath> wires{border};
    wires.insert(wires.end(), shell.sheet.holes.begin(), shell.sheet.holes.end());
    make_.face(shell.sheet.surface, side, wires);
  }

  const CollarPlan& plan_;
  DirectBuilder make_;
  std::vector<double> theta_;
  std::vector<double> at_;
  TopoDS_Edge upright_[2][2];  ///< [side][end], from bore to outside
  Handle(Geom_BSplineCurve) upright_curve_[2][2];
};

}  // namespace

Solid build_collar(const CollarPlan& plan, double nudge) {
  return guarded(plan.part(), "building face by face", [&] { return CollarBuilder(plan, nudge).build(); });
}

Solid collar_solid(const CollarPlan& plan, GateLog& log) {
  const auto build = [&](double nudge) { return build_collar(plan, nudge); };
  return build_sound(build, expectation_of(plan), log, collar_accuracy);
}

}  // namespace culmwright
