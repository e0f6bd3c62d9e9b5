/// Guides built face by face against the same guides built by booleans, an independent way to one solid. One
/// guide by default; those of many random jobs with CULMWRIGHT_LONG_TESTS set.
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GProp_GProps.hxx>
#include <TopoDS_Solid.hxx>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <gp_Ax2.hxx>

#include "outside/exact_mesh.hpp"
#include "random_guides.hpp"
#include "solid/boolean.hpp"
#include "solid/curves.hpp"
#include "solid/guide_solid.hpp"
#include "solid/patch.hpp"

using namespace culmwright;

namespace {

/// Letters and windows are left out: booleans would take minutes over them.
GuidePlan without_outlines(GuidePlan plan) {
  plan.texts.clear();
  plan.sights.clear();
  return plan;
}

TopoDS_Shape cylinder(const RigidMotion& frame, double radius, double from, double to) {
  const gp_Ax2 axes(point_of(frame.apply({0, 0, from})), direction_of(frame.z), direction_of(frame.x));
  return BRepPrimAPI_MakeCylinder(axes, radius, to - from).Shape();
}

struct Heights {
  double low = 1e300;
  double high = -1e300;
};

/// Of a face inside and around a circle, along its axis.
Heights heights_over(const GuideFace& face, const RigidMotion& frame, double radius) {
  Heights heights;
  for (int i = 0; i < 48; ++i) {
    for (const double share : {0.0, 0.5, 1.0}) {
      const Vec2 xy = direction(Angle::from_degrees(7.5 * i)) * (share * radius);
      const double height = face.meet(frame, xy).height;
      heights.low = std::min(heights.low, height);
      heights.high = std::max(heights.high, height);
    }
  }
  return heights;
}

/// Everything under the inner face around a boss, so that the boss's foot can be cut to it.
TopoDS_Shape block_under(const GuideFace& face, const RigidMotion& frame, double radius, double deep) {
  double low_theta = 1e300;
  double high_theta = -1e300;
  double low_at = 1e300;
  double high_at = -1e300;
  for (int i = 0; i < 48; ++i) {
    const GuideFace::Meeting meeting =
        face.meet(frame, direction(Angle::from_degrees(7.5 * i)) * (radius + 0.5));
    low_theta = std::min(low_theta, meeting.theta);
    high_theta = std::max(high_theta, meeting.theta);
    low_at = std::min(low_at, meeting.at);
    high_at = std::max(high_at, meeting.at);
  }
  const auto patch = windowed_patch([&](double theta, double at) { return face.point(theta, at); },
                                    even_values(low_theta, high_theta, 60), even_values(low_at, high_at, 80));
  const Vec3 down = frame.z * -deep;
  return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(patch, 1e-7).Face(), gp_Vec(down.x, down.y, down.z))
      .Shape();
}

Solid by_booleans(const GuidePlan& plan) {
  GuidePlan saddle = plan;
  saddle.holes.clear();
  saddle.pegs.clear();
  saddle.post.reset();
  const Solid base = build_guide(saddle, 0.0);
  std::vector<TopoDS_Shape> added;
  std::vector<TopoDS_Shape> bores;
  for (const GuideBoss* boss : plan.bosses()) {
    const RigidMotion frame = rim_frame(boss->drilling);
    const Heights inner = heights_over(plan.inner, frame, boss->boss_radius);
    const double low = inner.low - 1.0;
    const TopoDS_Shape block = block_under(plan.inner, frame, boss->boss_radius, inner.high - low + 3.0);
    added.push_back(
        cut(plan.name, "foot of " + boss->id, cylinder(frame, boss->boss_radius, low, boss->top), {block}));
    bores.push_back(cylinder(frame, boss->bore_radius, low, boss->top + 1.0));
    if (!boss->side) continue;
    bores.push_back(
        cylinder(side_frame(frame, *boss->side), boss->side->radius, 0.0, boss->boss_radius + 1.0));
  }
  if (plan.post) {
    const RigidMotion frame = rim_frame({plan.post->axis_point, plan.post->up, plan.post->radius});
    const Heights inner = heights_over(plan.inner, frame, plan.post->radius);
    const Heights outer = heights_over(plan.outer, frame, plan.post->radius);
    added.push_back(cylinder(frame, plan.post->radius, plan.post->foot, 0.5 * (inner.high + outer.low)));
  }
  const TopoDS_Solid whole = fuse(plan.name, "bosses onto the saddle", base.occt_shape(), added);
  return Solid(plan.name, cut(plan.name, "bores out of the guide", whole, bores));
}

double exact_volume(const Solid& solid) {
  GProp_GProps weight;
  BRepGProp::VolumeProperties(solid.occt_shape(), weight, 1e-6);
  return weight.Mass();
}

/// Greatest distance of one mesh's vertices, which lie on the true faces, from the other mesh.
double farthest(const Mesh& vertices_of, const Mesh& mesh) {
  double greatest = 0.0;
  for (const double d : test::distances_from(mesh, vertices_of.vertices)) greatest = std::max(greatest, d);
  return greatest;
}

struct Comparison {
  int guides = 0;
  int refused = 0;  ///< booleans that did not come out sound: that is why guides are not built so
  double volume = 0.0;
  double distance = 0.0;
};

void compare(const GuidePlan& plan, Comparison& so_far) {
  INFO(plan.name);
  const Expectation expected = expectation_of(plan);
  const Solid direct = build_guide(plan, 0.0);
  REQUIRE(hold(direct, expected, guide_mesh_accuracy()).sound());
  ++so_far.guides;
  try {
    const Solid cut_out = by_booleans(plan);
    require_sound(hold(cut_out, expected, guide_mesh_accuracy()), "booleans");
    const double volume = exact_volume(direct);
    so_far.volume = std::max(so_far.volume, std::abs(exact_volume(cut_out) / volume - 1.0));
    const Mesh one = direct.mesh(guide_mesh_accuracy());
    const Mesh other = cut_out.mesh(guide_mesh_accuracy());
    so_far.distance = std::max({so_far.distance, farthest(one, other), farthest(other, one)});
  } catch (const GeometryError& error) {
    ++so_far.refused;
    std::printf("  by booleans: %s\n", error.what());
  }
}

}  // namespace

TEST_CASE("a guide built face by face and by booleans is one solid: same volume, same faces") {
  const Tube tube{test::round_tube(16.0, 16.0, 140.0, 4.0)};
  Instrument instrument = test::three_in_a_row(tube);
  instrument.keys.resize(1);
  Comparison found;
  compare(without_outlines(plan_guides(tube, instrument, Shop{}).at(0)), found);
  CHECK(found.refused == 0);
  CHECK(found.volume < 2e-5);
  CHECK(found.distance < guide_mesh_accuracy().chord + gate_distance_room);
}

TEST_CASE("random guides built face by face and by booleans are the same") {
  const int wanted = test::long_jobs(0, 40);
  const unsigned seed = 1618;
  test::Draw draw(seed);
  Comparison found;
  for (int job = 0; job < wanted; ++job) {
    const Tube tube = test::random_tube(draw);
    if (!check_shape(tube).empty()) continue;
    const Instrument instrument = test::random_instrument(draw, tube);
    std::vector<GuidePlan> plans;
    try {
      plans = plan_guides(tube, instrument, Shop{});
    } catch (const GeometryError&) {
      continue;
    }
    for (const GuidePlan& plan : plans) compare(without_outlines(plan), found);
  }
  if (wanted == 0) return;
  std::printf(
      "seed %u: %d jobs, %d guides, %d refused when built by booleans; volumes within %.2e, faces within "
      "%.4f\n",
      seed, wanted, found.guides, found.refused, found.volume, found.distance);
  CHECK(found.volume < 1e-4);
  CHECK(found.distance < guide_mesh_accuracy().chord + gate_distance_room);
}
