#include "solid/depth_sleeve_solid.hpp"

#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <cmath>

#include "solid/curves.hpp"
#include "solid/guarded.hpp"
#include "solid/plane_texts.hpp"
#include "solid/round_parts.hpp"

namespace culmwright {

namespace {

using namespace sleeve_sizes;

constexpr double seam_per_nudge = 35.0;  ///< radians per mm

class SleeveBuilder {
 public:
  SleeveBuilder(const DepthSleeve& sleeve, double nudge)
      : sleeve_(sleeve), make_(sleeve.part()), flat_(make_) {
    const double turn = seam_per_nudge * nudge;
    frame_.x = {std::cos(turn), std::sin(turn), 0.0};
    frame_.y = {-std::sin(turn), std::cos(turn), 0.0};
    bore_ = new Geom_CylindricalSurface(axes_of(frame_), sleeve.bore_radius);
  }

  Solid build() {
    make_.stage("corners");
    const double radius = 0.5 * sleeve_.across / std::cos(pi / flats);
    for (int end = 0; end < 2; ++end) {
      for (int i = 0; i < flats; ++i) {
        const Vec2 p = direction(Angle::from_degrees(360.0 * (i - 0.5) / flats)) * radius;
        corner_[end].push_back(flat_.corner({p.x, p.y, end == 0 ? 0.0 : sleeve_.length}));
      }
    }
    make_.stage("flats and engraving");
    for (int i = 0; i < flats; ++i) add_flat(i);
    make_.stage("ends and bore");
    const Rim low = add_end(0);
    const Rim high = add_end(1);
    add_cylinder(make_, frame_, bore_, low, high, FaceSide::against);
    return make_.finish();
  }

 private:
  void add_flat(int i) {
    const Vec2 out = direction(Angle::from_degrees(360.0 * i / flats));
    const Vec3 normal{out.x, out.y, 0.0};
    const Vec3 on = normal * (0.5 * sleeve_.across);
    const std::size_t a = static_cast<std::size_t>(i);
    const std::size_t b = (a + 1) % flats;
    std::vector<WirePath> wires{
        flat_.loop({corner_[0][a], corner_[0][b], corner_[1][b], corner_[1][a]}, normal)};
    for (WirePath& hole : texts_in(flat_, sleeve_.texts, on, normal, engraving))
      wires.push_back(std::move(hole));
    flat_.face(on, normal, wires);
  }

  Rim add_end(int end) {
    const double height = end == 0 ? 0.0 : sleeve_.length;
    const Vec3 normal{0, 0, end == 0 ? -1.0 : 1.0};
    const RigidMotion out = end == 0 ? RigidMotion{frame_.x, -frame_.y, -frame_.z, {}}
                                     : RigidMotion{frame_.x, frame_.y, frame_.z, {0, 0, height}};
    const gp_Ax3 axes = axes_of(out);
    const Handle(Geom_Plane) plane = new Geom_Plane(axes);
    const Rim rim = rim_on_plane(make_, frame_, height, bore_, plane);
    const WirePath outline = flat_.loop(corner_[end], normal);
    for (const EdgeUse& use : outline) {
      double from = 0.0;
      double to = 0.0;
      const auto curve = Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(use.edge, from, to));
      make_.lay(use.edge, plane, on_plane(curve, axes), 4);
    }
    make_.face(plane, FaceSide::along, {outline, {{rim.edge, end == 0}}});
    return rim;
  }

  const DepthSleeve& sleeve_;
  DirectBuilder make_;
  FlatFaces flat_;
  RigidMotion frame_;
  Handle(Geom_CylindricalSurface) bore_;
  std::vector<int> corner_[2];
};

}  // namespace

Solid depth_sleeve_solid(const DepthSleeve& sleeve, GateLog& log) {
  const auto build = [&](double nudge) {
    return guarded(sleeve.part(), "building face by face",
                   [&] { return SleeveBuilder(sleeve, nudge).build(); });
  };
  return build_sound(build, expectation_of(sleeve), log, sleeve_accuracy);
}

}  // namespace culmwright
