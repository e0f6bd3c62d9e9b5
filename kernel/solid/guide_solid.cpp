#include "solid/guide_solid.hpp"

#include <cmath>

#include "solid/curves.hpp"
#include "solid/guarded.hpp"
#include "solid/guide_border.hpp"
#include "solid/outline_walls.hpp"
#include "solid/round_parts.hpp"

namespace culmwright {

namespace {

constexpr double seam_per_nudge = 35.0;  ///< radians per mm

/// A frame turned about its z.
RigidMotion turned(const RigidMotion& frame, double by) {
  return {frame.x * std::cos(by) + frame.y * std::sin(by), frame.y * std::cos(by) - frame.x * std::sin(by),
          frame.z, frame.origin};
}

class GuideBuilder {
 public:
  GuideBuilder(const GuidePlan& plan, double nudge)
      : plan_(plan),
        nudge_(nudge),
        make_(plan.name),
        inner_(make_sheet(plan.inner, plan.reach(), nudge)),
        outer_(make_sheet(plan.outer, plan.reach(), nudge)) {}

  Solid build() {
    for (const GuideBoss* boss : plan_.bosses()) add_boss(*boss);
    if (plan_.post) add_post(*plan_.post);
    make_.stage("sighting windows");
    for (const SightingWindow& sight : plan_.sights) add_opening(make_, inner_, outer_, sight.corners);
    for (const EngravedText& text : plan_.texts) {
      make_.stage("engraving of " + text.text);
      for (const EngravedStroke& stroke : text.strokes) {
        add_stroke(make_, outer_, stroke.corners, guide_sizes::engraving);
      }
    }
    make_.stage("ends and feet");
    add_sides_and_sheets(make_, plan_, inner_, outer_);
    return make_.finish();
  }

 private:
  void add_boss(const GuideBoss& hole) {
    make_.stage("boss of " + hole.id);
    const RigidMotion own = rim_frame(hole.drilling);
    // A side bore stays clear of the seams.
    const double seam = hole.side ? hole.side->toward.radians() + pi : 0.0;
    const RigidMotion frame = turned(own, seam + seam_per_nudge * nudge_);
    const Handle(Geom_CylindricalSurface) boss =
        new Geom_CylindricalSurface(axes_of(frame), hole.boss_radius);
    const Handle(Geom_CylindricalSurface) bore =
        new Geom_CylindricalSurface(axes_of(frame), hole.bore_radius);
    RigidMotion top_frame = frame;
    top_frame.origin = frame.apply({0, 0, hole.top});
    const Handle(Geom_Plane) top = new Geom_Plane(axes_of(top_frame));
    const Rim foot = rim_on_sheet(make_, outer_, frame, boss);
    const Rim mouth = rim_on_sheet(make_, inner_, frame, bore);
    const Rim boss_top = rim_on_plane(make_, frame, hole.top, boss, top);
    const Rim bore_top = rim_on_plane(make_, frame, hole.top, bore, top);
    std::vector<WirePath> through_boss;
    std::vector<WirePath> through_bore;
    if (hole.side) {
      const RigidMotion across = side_frame(own, *hole.side);
      const Handle(Geom_CylindricalSurface) side =
          new Geom_CylindricalSurface(axes_of(across), hole.side->radius);
      const Rim inside = rim_on_cylinder(make_, frame, bore, across, side);
      const Rim outside = rim_on_cylinder(make_, frame, boss, across, side);
      add_cylinder(make_, across, side, inside, outside, FaceSide::against);
      through_bore.push_back({{inside.edge, false}});
      through_boss.push_back({{outside.edge, false}});
    }
    add_cylinder(make_, frame, boss, foot, boss_top, FaceSide::along, through_boss);
    add_cylinder(make_, frame, bore, mouth, bore_top, FaceSide::against, through_bore);
    make_.face(top, FaceSide::along, {{{boss_top.edge, true}}, {{bore_top.edge, false}}});
  }

  void add_post(const StopPost& post) {
    make_.stage("stop");
    const RigidMotion frame =
        turned(rim_frame({post.axis_point, post.up, post.radius}), seam_per_nudge * nudge_);
    const Handle(Geom_CylindricalSurface) side = new Geom_CylindricalSurface(axes_of(frame), post.radius);
    // The post's foot faces down: its plane is turned over about the frame's x.
    const RigidMotion down{frame.x, -frame.y, -frame.z, frame.apply({0, 0, post.foot})};
    const Handle(Geom_Plane) plane = new Geom_Plane(axes_of(down));
    const Rim root = rim_on_sheet(make_, inner_, frame, side);
    const Rim foot = rim_on_plane(make_, frame, post.foot, side, plane);
    add_cylinder(make_, frame, side, foot, root, FaceSide::along);
    make_.face(plane, FaceSide::along, {{{foot.edge, false}}});
  }

  const GuidePlan& plan_;
  double nudge_;
  DirectBuilder make_;
  Sheet inner_;
  Sheet outer_;
};

}  // namespace

Solid build_guide(const GuidePlan& plan, double nudge) {
  return guarded(plan.name, "building face by face", [&] { return GuideBuilder(plan, nudge).build(); });
}

MeshAccuracy guide_mesh_accuracy() {
  return {0.025, 0.35, 0.016, 0.12};
}

Solid build_guide(const GuidePlan& plan, GateLog& log) {
  return build_sound([&](double nudge) { return build_guide(plan, nudge); }, expectation_of(plan), log,
                     guide_mesh_accuracy());
}

}  // namespace culmwright
