#include "solid/fit_gauge_solid.hpp"

#include <BRep_Tool.hxx>
#include <Geom2d_Circle.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Plane.hxx>
#include <cmath>

#include "solid/curves.hpp"
#include "solid/guarded.hpp"
#include "solid/plane_texts.hpp"
#include "solid/round_parts.hpp"

namespace culmwright {

namespace {

using namespace gauge_sizes;

constexpr double seam_per_nudge = 35.0;  ///< radians per mm
constexpr int samples = 16;

/// A level plane, looking up or down, and what is cut out of its outline.
struct LevelFace {
  Handle(Geom_Plane) plane;
  std::vector<WirePath> wires;
  bool up = true;

  LevelFace(double z, bool looks_up) : up(looks_up) {
    const gp_Dir normal(0, 0, looks_up ? 1.0 : -1.0);
    plane = new Geom_Plane(gp_Ax3(gp_Pnt(0, 0, z), normal, gp_Dir(1, 0, 0)));
  }
  Vec2 in_plane(Vec2 p) const { return {p.x, up ? p.y : -p.y}; }
};

class GaugeBuilder {
 public:
  GaugeBuilder(const FitGauge& gauge, double nudge)
      : gauge_(gauge),
        make_(gauge.part()),
        flat_(make_),
        turn_(Angle::from_radians(seam_per_nudge * nudge)) {}

  Solid build() {
    LevelFace back(0.0, false);
    LevelFace upper(thickness, true);
    add_outline(back, upper);
    for (const GaugeRow& row : gauge_.rows) {
      make_.stage("row " + std::to_string(static_cast<int>(row.fit)));
      for (const GaugeSpot& spot : row.spots) {
        if (row.pegs()) {
          add_peg(upper, spot);
        } else {
          add_hole(back, upper, spot);
        }
      }
    }
    make_.stage("engraving");
    for (WirePath& hole : texts_in(flat_, gauge_.texts, {0, 0, thickness}, {0, 0, 1}, engraving)) {
      lay_straight(upper, hole);
      upper.wires.push_back(std::move(hole));
    }
    for (const LevelFace* face : {&back, &upper}) make_.face(face->plane, FaceSide::along, face->wires);
    return make_.finish();
  }

 private:
  void lay_straight(const LevelFace& face, const WirePath& wire) {
    for (const EdgeUse& use : wire) {
      double from = 0.0;
      double to = 0.0;
      const auto curve = Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(use.edge, from, to));
      make_.lay(use.edge, face.plane, on_plane(curve, face.plane->Position()), 4);
    }
  }

  void add_outline(LevelFace& back, LevelFace& upper) {
    make_.stage("outline");
    const Vec2 corners[4] = {{0, 0}, {gauge_.length, 0}, {gauge_.length, gauge_.width}, {0, gauge_.width}};
    const Vec3 normals[4] = {{0, -1, 0}, {1, 0, 0}, {0, 1, 0}, {-1, 0, 0}};
    std::vector<int> low;
    std::vector<int> high;
    for (const Vec2& p : corners) {
      low.push_back(flat_.corner({p.x, p.y, 0.0}));
      high.push_back(flat_.corner({p.x, p.y, thickness}));
    }
    for (std::size_t i = 0; i < 4; ++i) {
      const std::size_t next = (i + 1) % 4;
      flat_.face({corners[i].x, corners[i].y, 0.0}, normals[i],
                 {flat_.loop({low[i], low[next], high[next], high[i]}, normals[i])});
    }
    back.wires.push_back(flat_.loop(low, {0, 0, -1}));
    upper.wires.push_back(flat_.loop(high, {0, 0, 1}));
    for (const LevelFace* face : {&back, &upper}) lay_straight(*face, face->wires.front());
  }

  RigidMotion frame_at(const GaugeSpot& spot) const {
    const Vec3 x{turn_.cos(), turn_.sin(), 0.0};
    return {x, {-x.y, x.x, 0.0}, {0, 0, 1}, {spot.middle.x, spot.middle.y, 0.0}};
  }

  /// The circle at the plane's height, counter-clockwise seen from above.
  Rim rim_in(const LevelFace& face, const RigidMotion& frame, double height,
             const Handle(Geom_CylindricalSurface) & cylinder) {
    const double radius = cylinder->Radius();
    Rim rim;
    rim.height = height;
    rim.vertex = make_.vertex(frame.apply({radius, 0, height}));
    const gp_Ax2 axes(point_of(frame.apply({0, 0, height})), direction_of(frame.z), direction_of(frame.x));
    rim.edge = make_.edge(new Geom_Circle(axes, radius), 0.0, 2.0 * pi, rim.vertex, rim.vertex);
    make_.lay(rim.edge, cylinder, line_2d({0.0, height}, {1.0, 0.0}), samples);
    const Vec2 middle = face.in_plane({frame.origin.x, frame.origin.y});
    const Vec2 x = face.in_plane({frame.x.x, frame.x.y});
    const gp_Ax22d in_plane(gp_Pnt2d(middle.x, middle.y), gp_Dir2d(x.x, x.y), face.up);
    make_.lay(rim.edge, face.plane, new Geom2d_Circle(in_plane, radius), samples);
    return rim;
  }

  void add_hole(LevelFace& back, LevelFace& upper, const GaugeSpot& spot) {
    const RigidMotion frame = frame_at(spot);
    const Handle(Geom_CylindricalSurface) wall =
        new Geom_CylindricalSurface(axes_of(frame), 0.5 * spot.diameter);
    const Rim low = rim_in(back, frame, 0.0, wall);
    const Rim high = rim_in(upper, frame, thickness, wall);
    back.wires.push_back({{low.edge, true}});
    upper.wires.push_back({{high.edge, false}});
    add_cylinder(make_, frame, wall, low, high, FaceSide::against);
  }

  void add_peg(LevelFace& upper, const GaugeSpot& spot) {
    const RigidMotion frame = frame_at(spot);
    const Handle(Geom_CylindricalSurface) wall =
        new Geom_CylindricalSurface(axes_of(frame), 0.5 * spot.diameter);
    LevelFace top(thickness + peg_height, true);
    const Rim low = rim_in(upper, frame, thickness, wall);
    const Rim high = rim_in(top, frame, thickness + peg_height, wall);
    upper.wires.push_back({{low.edge, false}});
    add_cylinder(make_, frame, wall, low, high, FaceSide::along);
    make_.face(top.plane, FaceSide::along, {{{high.edge, true}}});
  }

  const FitGauge& gauge_;
  DirectBuilder make_;
  FlatFaces flat_;
  Angle turn_;
};

}  // namespace

Solid fit_gauge_solid(const FitGauge& gauge, GateLog& log) {
  const auto build = [&](double nudge) {
    return guarded(gauge.part(), "building face by face", [&] { return GaugeBuilder(gauge, nudge).build(); });
  };
  return build_sound(build, expectation_of(gauge), log, gauge_accuracy);
}

}  // namespace culmwright
