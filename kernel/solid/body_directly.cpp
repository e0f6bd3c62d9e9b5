#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <GeomAPI.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Pln.hxx>
#include <optional>

#include "plan/skin_ray.hpp"
#include "solid/body_routes.hpp"
#include "solid/direct_builder.hpp"
#include "solid/guarded.hpp"
#include "solid/outline_pieces.hpp"
#include "solid/patch.hpp"
#include "solid/ridges.hpp"
#include "solid/shells.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

using namespace body_sampling;

constexpr double turn = 2.0 * pi;
constexpr int between = 5;  ///< places between samples where an edge's deviation is measured

gp_Pnt point_of(Vec3 p) {
  return {p.x, p.y, p.z};
}
gp_Dir direction_of(Vec3 d) {
  return {d.x, d.y, d.z};
}
Vec3 vec_of(const gp_Pnt& p) {
  return {p.X(), p.Y(), p.Z()};
}
Handle(Geom2d_Line) line_2d(Vec2 from, Vec2 along) {
  return new Geom2d_Line(gp_Pnt2d(from.x, from.y), gp_Dir2d(along.x, along.y));
}

/// A closed patch all around, between its two end edges, with the rims of what is cut into it.
struct Mantle {
  Handle(Geom_BSplineSurface) surface;
  double seam = 0.0;
  TopoDS_Edge toward_a;  ///< both run toward growing θ
  TopoDS_Edge toward_b;
  TopoDS_Edge seam_edge;
  std::vector<WirePath> rims;
};

/// A rim in pieces: its corners, and the edges between them.
struct Rim {
  std::vector<TopoDS_Vertex> corners;
  std::vector<double> heights;
  std::vector<TopoDS_Edge> edges;
};

/// A circle pierced in a diaphragm, at both of its faces.
struct PiercedHole {
  TopoDS_Edge toward_a;
  TopoDS_Edge toward_b;
};

class BodyBuilder {
 public:
  BodyBuilder(const BodyPlan& plan, const Tube& tube, double nudge)
      : plan_(plan), tube_(tube), nudge_(nudge), make_(plan.part()) {}

  Solid build() {
    make_.stage("skin and bore");
    const auto skin_at =
        graded_values(plan_.from_at, plan_.to_at, skin_step, ridge_step, ridge_ranges(tube_));
    skin_ = mantle(&Section::support, plan_.seam.radians() + nudge_, skin_at);
    for (const Cavity& cavity : plan_.cavities) {
      const auto at = graded_values(cavity.from_at, cavity.to_at, bore_step, bore_step, {});
      bores_.push_back(mantle(&Section::bore_support, plan_.seam.radians() + nudge_, at));
    }
    for (const BodyCut& cut : plan_.cuts) add_cut(cut);
    for (const Diaphragm& diaphragm : plan_.diaphragms) pierced_.push_back(pierce(diaphragm));
    add_levels();
    add_mantle(skin_, FaceSide::against);
    for (const Mantle& bore : bores_) add_mantle(bore, FaceSide::along);
    return with_separate_shells(make_.finish());
  }

 private:
  Mantle mantle(SurfaceJet (Section::*support_of)(Angle) const, double seam, const std::vector<double>& at) {
    std::optional<Section> section;
    const auto point = [&](double theta, double place) {
      if (!section || section->at() != place) section = tube_.section(place);
      const Angle t = Angle::from_radians(theta);
      const SurfaceJet h = ((*section).*support_of)(t);
      const Vec2 p = direction(t) * h.f + tangent(t) * h.f_t;
      return Vec3{p.x, p.y, -place};
    };
    Mantle made;
    made.seam = seam;
    made.surface = periodic_patch(point, seam, steps_around, at);
    const TopoDS_Vertex a = make_.vertex(vec_of(made.surface->Value(seam, at.front())));
    const TopoDS_Vertex b = make_.vertex(vec_of(made.surface->Value(seam, at.back())));
    const auto ring = [&](double place, const TopoDS_Vertex& corner) {
      const TopoDS_Edge edge = make_.edge(made.surface->VIso(place), seam, seam + turn, corner, corner);
      make_.lay(edge, made.surface, line_2d({0.0, place}, {1.0, 0.0}), steps_around);
      return edge;
    };
    made.toward_a = ring(at.front(), a);
    made.toward_b = ring(at.back(), b);
    made.seam_edge = make_.edge(made.surface->UIso(seam), at.front(), at.back(), a, b);
    make_.lay_seam(made.seam_edge, made.surface, line_2d({seam + turn, 0.0}, {0.0, 1.0}),
                   line_2d({seam, 0.0}, {0.0, 1.0}), 16);
    return made;
  }

  void add_mantle(const Mantle& mantle, FaceSide side) {
    std::vector<WirePath> wires{{{mantle.toward_a, true},
                                 {mantle.seam_edge, true},
                                 {mantle.toward_b, false},
                                 {mantle.seam_edge, false}}};
    wires.insert(wires.end(), mantle.rims.begin(), mantle.rims.end());
    make_.face(mantle.surface, side, wires);
  }

  Mantle& bore_at(double at) {
    for (std::size_t i = 0; i < bores_.size(); ++i) {
      if (at >= plan_.cavities[i].from_at && at <= plan_.cavities[i].to_at) return bores_[i];
    }
    throw GeometryError(plan_.part(), "build", "a cut ends in no bore");
  }

  /// θ on the patch where the line through (xy, ·) of the frame meets it; `at` is known, for a cut's axis
  /// lies in a section and its x along the tube.
  static double meet(const Mantle& mantle, const RigidMotion& frame, Vec2 xy, double at, double guess) {
    double theta = guess;
    for (int i = 0; i < 40; ++i) {
      gp_Pnt p;
      gp_Vec by_u;
      gp_Vec by_v;
      mantle.surface->D1(theta, at, p, by_u, by_v);
      const double off = dot(vec_of(p) - frame.origin, frame.y) - xy.y;
      const double step = off / (by_u.X() * frame.y.x + by_u.Y() * frame.y.y + by_u.Z() * frame.y.z);
      theta -= std::clamp(step, -0.2, 0.2);
      if (std::abs(step) < 1e-14) break;
    }
    return theta;
  }

  Rim rim_on(Mantle& mantle, const BodyCut& cut, const std::vector<OutlinePiece>& pieces,
             const std::vector<Handle(Geom_Surface)>& walls) {
    Rim rim;
    const double from_seam = (skin_hit(tube_, cut.frame, {}, 0.0).theta.radians() - mantle.seam) / turn;
    double theta = mantle.seam + turn * (from_seam - std::floor(from_seam));
    std::vector<Handle(Geom_BSplineCurve)> curves;
    std::vector<Handle(Geom2d_BSplineCurve)> places;
    std::vector<Handle(Geom2d_BSplineCurve)> on_walls;
    for (const OutlinePiece& piece : pieces) {
      std::vector<Vec3> points;
      std::vector<Vec2> uv;
      std::vector<Vec2> unrolled;
      for (const double t : piece.parameters()) {
        const Vec2 xy = piece.point(t);
        const double at = -cut.frame.apply({xy.x, xy.y, 0.0}).z;
        theta = meet(mantle, cut.frame, xy, at, theta);
        if (theta <= mantle.seam || theta >= mantle.seam + turn) {
          throw GeometryError(plan_.part(), "build", cut.name + " crosses the seam of the skin");
        }
        points.push_back(vec_of(mantle.surface->Value(theta, at)));
        uv.push_back({theta, at});
        unrolled.push_back({t, dot(points.back() - cut.frame.origin, cut.frame.z)});
      }
      curves.push_back(curve_through(piece.parameters(), points));
      places.push_back(curve_through(piece.parameters(), uv));
      on_walls.push_back(curve_through(piece.parameters(), unrolled));
      rim.corners.push_back(make_.vertex(points.front()));
      rim.heights.push_back(unrolled.front().y);
    }
    WirePath path;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const std::vector<double> t = pieces[i].parameters();
      const int samples = between * static_cast<int>(t.size());
      const TopoDS_Vertex& next = rim.corners[(i + 1) % pieces.size()];
      rim.edges.push_back(make_.edge(curves[i], t.front(), t.back(), rim.corners[i], next));
      make_.lay(rim.edges[i], mantle.surface, places[i], samples);
      make_.lay(rim.edges[i], walls[i], on_walls[i], samples);
      path.push_back({rim.edges[i], true});  // counter-clockwise seen from outside: clockwise in (θ, at)
    }
    mantle.rims.push_back(path);
    return rim;
  }

  static Handle(Geom_Surface) wall_of(const OutlinePiece& piece, const RigidMotion& frame) {
    const Vec3 origin = frame.apply({piece.origin().x, piece.origin().y, 0.0});
    if (piece.is_arc()) {
      const gp_Ax3 axes(point_of(origin), direction_of(frame.z), direction_of(frame.x));
      return new Geom_CylindricalSurface(axes, piece.radius());
    }
    // u along the piece, v along the axis: the normal points out of the opening.
    const Vec3 along = frame.turn({piece.along().x, piece.along().y, 0.0});
    return new Geom_Plane(gp_Ax3(point_of(origin), direction_of(cross(along, frame.z)), direction_of(along)));
  }

  void add_cut(const BodyCut& cut) {
    make_.stage(cut.name);
    const std::vector<OutlinePiece> pieces = outline_pieces(cut.outline);
    std::vector<Handle(Geom_Surface)> walls;
    for (const OutlinePiece& piece : pieces) walls.push_back(wall_of(piece, cut.frame));
    const Rim low = rim_on(bore_at(-cut.frame.origin.z), cut, pieces, walls);
    const Rim high = rim_on(skin_, cut, pieces, walls);
    std::vector<TopoDS_Edge> uprights;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const Vec2 xy = pieces[i].point(pieces[i].parameters().front());
      const Handle(Geom_Line) line =
          new Geom_Line(point_of(cut.frame.apply({xy.x, xy.y, 0.0})), direction_of(cut.frame.z));
      uprights.push_back(make_.edge(line, low.heights[i], high.heights[i], low.corners[i], high.corners[i]));
    }
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const TopoDS_Edge& left = uprights[i];
      const TopoDS_Edge& right = uprights[(i + 1) % pieces.size()];
      make_.lay(left, walls[i], line_2d({pieces[i].parameters().front(), 0.0}, {0.0, 1.0}), 4);
      make_.lay(right, walls[i], line_2d({pieces[i].parameters().back(), 0.0}, {0.0, 1.0}), 4);
      make_.face(walls[i], FaceSide::against,
                 {{{low.edges[i], true}, {right, true}, {high.edges[i], false}, {left, false}}});
    }
  }

  std::optional<PiercedHole> pierce(const Diaphragm& diaphragm) {
    if (!diaphragm.pierced_radius) return {};
    make_.stage("diaphragm");
    const double r = *diaphragm.pierced_radius;
    const gp_Pnt middle(diaphragm.middle.x, diaphragm.middle.y, 0.0);
    const Handle(Geom_CylindricalSurface) wall =
        new Geom_CylindricalSurface(gp_Ax3(middle, gp_Dir(0, 0, 1), gp_Dir(1, 0, 0)), r);
    const auto circle = [&](double at, const TopoDS_Vertex& corner) {
      const gp_Ax2 axes(gp_Pnt(middle.X(), middle.Y(), -at), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0));
      const TopoDS_Edge edge = make_.edge(new Geom_Circle(axes, r), 0.0, turn, corner, corner);
      make_.lay(edge, wall, line_2d({0.0, -at}, {1.0, 0.0}), 16);
      return edge;
    };
    const auto corner = [&](double at) { return make_.vertex({middle.X() + r, middle.Y(), -at}); };
    const TopoDS_Vertex a = corner(diaphragm.from_at);
    const TopoDS_Vertex b = corner(diaphragm.to_at);
    const PiercedHole hole{circle(diaphragm.from_at, a), circle(diaphragm.to_at, b)};
    const Handle(Geom_Line) line = new Geom_Line(gp_Pnt(middle.X() + r, middle.Y(), 0.0), gp_Dir(0, 0, 1));
    const TopoDS_Edge seam = make_.edge(line, -diaphragm.to_at, -diaphragm.from_at, b, a);
    make_.lay_seam(seam, wall, line_2d({turn, 0.0}, {0.0, 1.0}), line_2d({0.0, 0.0}, {0.0, 1.0}), 4);
    make_.face(wall, FaceSide::against,
               {{{hole.toward_b, true}, {seam, true}, {hole.toward_a, false}, {seam, false}}});
    return hole;
  }

  /// A plane face square to the axis. All edges run toward growing θ, counter-clockwise seen from end A.
  void add_level(double at, bool facing_a, const TopoDS_Edge& outer, const std::vector<TopoDS_Edge>& inner) {
    const gp_Ax3 axes(gp_Pnt(0, 0, -at), gp_Dir(0, 0, facing_a ? 1 : -1), gp_Dir(1, 0, 0));
    const Handle(Geom_Plane) plane = new Geom_Plane(axes);
    const auto lay = [&](const TopoDS_Edge& edge) {
      double from = 0.0;
      double to = 0.0;
      make_.lay(edge, plane, GeomAPI::To2d(BRep_Tool::Curve(edge, from, to), plane->Pln()), steps_around);
    };
    lay(outer);
    std::vector<WirePath> wires{{{outer, facing_a}}};
    for (const TopoDS_Edge& edge : inner) {
      lay(edge);
      wires.push_back({{edge, !facing_a}});
    }
    make_.face(plane, FaceSide::along, wires);
  }

  void add_levels() {
    make_.stage("ends and diaphragms");
    std::vector<TopoDS_Edge> in_end_a;
    std::vector<TopoDS_Edge> in_end_b;
    for (std::size_t i = 0; i < plan_.cavities.size(); ++i) {
      if (plan_.cavities[i].open_at_from) in_end_a.push_back(bores_[i].toward_a);
      if (plan_.cavities[i].open_at_to) in_end_b.push_back(bores_[i].toward_b);
    }
    for (std::size_t i = 0; i < plan_.diaphragms.size(); ++i) {
      const Diaphragm& diaphragm = plan_.diaphragms[i];
      std::vector<TopoDS_Edge> a;
      std::vector<TopoDS_Edge> b;
      if (pierced_[i]) a.push_back(pierced_[i]->toward_a);
      if (pierced_[i]) b.push_back(pierced_[i]->toward_b);
      if (diaphragm.from_at == plan_.from_at) in_end_a.insert(in_end_a.end(), a.begin(), a.end());
      if (diaphragm.to_at == plan_.to_at) in_end_b.insert(in_end_b.end(), b.begin(), b.end());
      for (std::size_t k = 0; k < plan_.cavities.size(); ++k) {
        if (plan_.cavities[k].to_at == diaphragm.from_at) {
          add_level(diaphragm.from_at, true, bores_[k].toward_b, a);
        }
        if (plan_.cavities[k].from_at == diaphragm.to_at) {
          add_level(diaphragm.to_at, false, bores_[k].toward_a, b);
        }
      }
    }
    add_level(plan_.from_at, true, skin_.toward_a, in_end_a);
    add_level(plan_.to_at, false, skin_.toward_b, in_end_b);
  }

  const BodyPlan& plan_;
  const Tube& tube_;
  double nudge_;
  DirectBuilder make_;
  Mantle skin_;
  std::vector<Mantle> bores_;
  std::vector<std::optional<PiercedHole>> pierced_;
};

}  // namespace

Solid body_directly(const BodyPlan& plan, const Tube& tube, double nudge) {
  return guarded(plan.part(), "build", [&] { return BodyBuilder(plan, tube, nudge).build(); });
}

}  // namespace culmwright
