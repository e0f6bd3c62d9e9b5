#include <catch2/catch.hpp>

#include "plan/printing.hpp"
#include "plan/sample_cups.hpp"
#include "plan/skin_ray.hpp"
#include "solid/admesh.hpp"
#include "solid/cup_solid.hpp"

using namespace culmwright;
using samples::placed_key;

namespace {

constexpr CupKind all_kinds[] = {CupKind::switch_seat, CupKind::touch_cap, CupKind::padded_cup, CupKind::plug,
                                 CupKind::sleeve};

std::string failures_of(const GateLog& log) {
  std::string text;
  for (const GateEntry& entry : log) text += entry.failure + "\n";
  return text;
}

}  // namespace

TEST_CASE("every kind of cup on a culm passes the gate at the first build") {
  const Tube tube(test::culm());
  for (const CupKind kind : all_kinds) {
    const CupPlan plan = plan_cup(tube, placed_key(tube, {150, 20}, 10.0, kind), Shop{}, End::a);
    GateLog log;
    cup_solid(plan, tube, log);
    INFO("kind " << static_cast<int>(kind) << ": " << failures_of(log));
    CHECK(log.size() == 1);
  }
}

TEST_CASE("cups of all sizes, round and long, anywhere on a culm, pass the gate at the first build") {
  const Tube tube(test::culm());
  int number = 0;
  for (double hole = 5.0; hole <= 16.0; hole += 1.0, ++number) {
    const double around = -45.0 + 8.0 * number;
    const double at = 30.0 + 31.0 * number;  // ridges among them
    const Touch touch = number % 3 == 0   ? Touch{16, 16, 8}
                        : number % 3 == 1 ? Touch{22, 15, 5}
                                          : Touch{18, 14, 7};
    const CupKind kind = number % 2 == 0 ? CupKind::touch_cap : CupKind::padded_cup;
    const CupPlan plan = plan_cup(tube, placed_key(tube, {at, around}, hole, kind, touch), Shop{}, End::b);
    GateLog log;
    INFO("hole " << hole << " at " << at << ", " << around);
    CHECK_NOTHROW(cup_solid(plan, tube, log));
    INFO(failures_of(log));
    CHECK(log.size() == 1);
  }
}

TEST_CASE("a cup's seat lies the glue line outside the skin at its own place, and its spigot in the hole") {
  const Tube tube(test::culm());
  const PlacedKey key = placed_key(tube, {92.4, -14}, 9.0, CupKind::touch_cap);  // on a ridge
  const CupPlan plan = plan_cup(tube, key, Shop{}, End::a);
  GateLog log;
  const Mesh mesh = moved(cup_solid(plan, tube, log).mesh(cup_accuracy), plan.to_tube);
  int on_seat = 0;
  for (const Vec3& p : mesh.vertices) {
    const Vec3 from_hole = p - key.drilling.point;
    const double up = dot(from_hole, key.drilling.axis);
    const double r = length(from_hole - key.drilling.axis * up);
    const double outside = tube.outside(p);
    // Nothing of the cup is in the wall but the spigot, and the spigot is narrower than the hole.
    if (outside < 0.05) CHECK(r < key.drilling.radius - 0.1);
    CHECK(outside > -tube.section(-p.z).wall(tube.skin_point(key.place).theta) - 1.0);
    if (r > key.drilling.radius && std::abs(outside - 0.1) < 0.002) ++on_seat;
  }
  CHECK(on_seat > 100);
}

TEST_CASE("a cup with a way weighs the way less than one without, and has one more hole") {
  // Two routes to one number: the difference of two meshes, and the way's own volume by the formula for a
  // cylinder between two crossed cylinders (the plug table's), with a floor for its upper end.
  const Tube tube(test::round_tube(16, 16, 300, 4));
  CupPlan with = plan_cup(tube, placed_key(tube, {150, 0}, 10.0, CupKind::sleeve), Shop{}, End::a);
  with.id.reset();
  with.countersink = 0.0;
  CupPlan without = with;
  without.way_radius.reset();
  GateLog log;
  const Mesh open = cup_solid(with, tube, log).mesh({0.002, 0.05});
  const Mesh closed = cup_solid(without, tube, log).mesh({0.002, 0.05});
  const double way = over_disc(*with.way_radius, [&](Vec2 p) {
    const double ground = std::sqrt(std::pow(16.0 - with.spigot_length, 2) - p.y * p.y) - 16.0;
    return with.top - ground;
  });
  CHECK(volume(closed) - volume(open) == Approx(way).epsilon(0.001));
  CHECK(inspect(open).genus == inspect(closed).genus + 1);
}

TEST_CASE("a cup's notch points to the mouth end") {
  const Tube tube(test::round_tube(16, 16, 300, 4));
  for (const End mouth : {End::a, End::b}) {
    const CupPlan plan = plan_cup(tube, placed_key(tube, {150, 0}, 10.0, CupKind::plug), Shop{}, mouth);
    GateLog log;
    const Mesh mesh = moved(cup_solid(plan, tube, log).mesh(cup_accuracy), plan.to_tube);
    double toward_a = 0.0;
    double toward_b = 0.0;
    // Where the mesh is cut by the plane along the touch's middle line.
    for (const auto& facet : mesh.triangles) {
      for (int k = 0; k < 3; ++k) {
        const Vec3 p = mesh.vertices[facet[k]];
        const Vec3 q = mesh.vertices[facet[(k + 1) % 3]];
        if ((p.y < 0.0) == (q.y < 0.0)) continue;
        const double z = p.z + (q.z - p.z) * p.y / (p.y - q.y);
        toward_a = std::max(toward_a, z + 150.0);
        toward_b = std::max(toward_b, -z - 150.0);
      }
    }
    CHECK((mouth == End::a ? toward_b - toward_a : toward_a - toward_b) == Approx(0.8).margin(0.03));
  }
}

TEST_CASE("admesh finds nothing to mend in a cup laid on the bed") {
  const Tube tube(test::culm());
  for (const CupKind kind : all_kinds) {
    const CupPlan plan = plan_cup(tube, placed_key(tube, {150, 20}, 10.0, kind), Shop{}, End::a);
    GateLog log;
    const OnBed bed = on_bed(cup_solid(plan, tube, log).mesh(cup_accuracy), plan.lie);
    test::check_by_admesh(bed.mesh, plan.part());
  }
}

TEST_CASE("the same plan gives the same mesh, to the last bit") {
  const Tube tube(test::culm());
  const CupPlan plan =
      plan_cup(tube, placed_key(tube, {150, 20}, 10.0, CupKind::switch_seat), Shop{}, End::a);
  GateLog log;
  const std::string once = stl_bytes(cup_solid(plan, tube, log).mesh(cup_accuracy), "cup");
  const std::string again = stl_bytes(cup_solid(plan, tube, log).mesh(cup_accuracy), "cup");
  CHECK(once == again);
}
