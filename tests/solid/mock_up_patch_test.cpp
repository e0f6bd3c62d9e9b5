#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <random>

#include "plan/printing.hpp"
#include "shapes.hpp"
#include "solid/admesh.hpp"
#include "solid/mock_up_patch_solid.hpp"

using namespace culmwright;
using namespace culmwright::test;

namespace {

MockUpPatch patch(const std::string& id, SkinPlace place, double length, double width, double corner) {
  return {id, "touch", place, length, width, corner, 0.0};
}

/// Anywhere on a culm, ridges among the places, of any shape a touch, rest or slider has.
MockUpPatch any_patch(std::mt19937& generator, const Tube& tube, int number) {
  const auto between = [&](double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(generator);
  };
  const double length = between(7.0, number % 5 == 0 ? 70.0 : 25.0);
  const double width = between(6.0, 22.0);
  const bool round = number % 4 == 0;
  const double corner = round ? 0.5 * width : between(0.0, 0.5 * std::min(length, width));
  const double girth = tube.girth(0.5 * tube.length());
  return patch("P" + std::to_string(number), {between(5.0, tube.length() - 5.0), between(-0.5, 0.5) * girth},
               round ? width : length, width, corner);
}

}  // namespace

TEST_CASE("patches of every shape anywhere on a culm pass the gate at the first build") {
  const bool campaign = std::getenv("CULMWRIGHT_LONG_TESTS") != nullptr;
  std::mt19937 generator(71);
  const Tube tube{culm()};
  const int count = campaign ? 300 : 16;
  int retried = 0;
  for (int i = 0; i < count; ++i) {
    const MockUpPatch one = any_patch(generator, tube, i);
    const MockUpPatchPlan plan = plan_mock_up_patch(tube, one, i % 2 == 0 ? End::a : End::b, Shop{});
    GateLog log;
    INFO(one.id << ": " << one.length << " × " << one.width << ", corner " << one.corner_radius << " at "
                << one.place.at << ", " << one.place.around);
    CHECK_NOTHROW(mock_up_patch_solid(plan, log));
    INFO(log.front().failure);
    CHECK(log.size() == 1);
    retried += static_cast<int>(log.size()) - 1;
  }
  std::printf("%d mock-up patches, seed 71, %d builds repeated\n", count, retried);
}

TEST_CASE("the underside of a patch lies the glue line over the skin, its top as high as the foam") {
  const Tube tube{culm()};
  for (const double at : {150.0, 92.4}) {  // the second on a ridge
    const MockUpPatchPlan plan = plan_mock_up_patch(tube, patch("K1", {at, -14}, 20, 14, 5), End::a, Shop{});
    GateLog log;
    const Mesh mesh = mock_up_patch_solid(plan, log).mesh(mock_up_patch_accuracy);
    double least = 1e300;
    double greatest = 0.0;
    int on_underside = 0;
    for (const Vec3& p : mesh.vertices) {
      Angle theta;
      const double c = tube.section(-p.z).outside({p.x, p.y}, &theta);
      least = std::min(least, c);
      greatest = std::max(greatest, c);
      on_underside += std::abs(c - 0.1) < 0.002;
    }
    CHECK(least == Approx(0.1).margin(0.004));
    CHECK(greatest == Approx(3.0).margin(0.004));
    CHECK(on_underside > 60);
  }
}

TEST_CASE("a patch's notch points to the mouth end and its id is read with the mouth end up") {
  const Tube tube{round_tube(16.0, 16.0, 200.0, 3.0)};
  for (const End mouth : {End::a, End::b}) {
    const MockUpPatchPlan plan = plan_mock_up_patch(tube, patch("L1", {100, 0}, 24, 18, 6), mouth, Shop{});
    GateLog log;
    const Mesh mesh = mock_up_patch_solid(plan, log).mesh(mock_up_patch_accuracy);
    double toward_a = 0.0;
    double toward_b = 0.0;
    for (const Vec3& p : mesh.vertices) {
      if (std::abs(p.y) > 0.7) continue;  // along the middle line, inside the notch's width
      toward_a = std::max(toward_a, p.z + 100.0);
      toward_b = std::max(toward_b, -p.z - 100.0);
    }
    const double notched = mouth == End::a ? toward_a : toward_b;
    const double whole = mouth == End::a ? toward_b : toward_a;
    CHECK(whole == Approx(12.0).margin(0.1));
    CHECK(notched <= 10.21);
    // The 'L' stands left of the '1' for one who has the mouth end up: to the player's right with A up.
    double first = 0.0;
    for (const Vec2& p : plan.strokes.front()) first += plan.on_chart(p).y;
    CHECK((mouth == End::a ? first < 0.0 : first > 0.0));
  }
}

TEST_CASE("admesh finds nothing to mend in a patch laid on the bed, and it stands on its underside") {
  const Tube tube{culm()};
  const MockUpPatchPlan plan = plan_mock_up_patch(tube, patch("R2", {250, 20}, 18, 18, 9), End::a, Shop{});
  GateLog log;
  const OnBed bed = on_bed(mock_up_patch_solid(plan, log).mesh(mock_up_patch_accuracy), plan.lie);
  test::check_by_admesh(bed.mesh, plan.part());
  // The middle of the top is the highest place, the arch of the underside above the bed.
  double highest = 0.0;
  for (const Vec3& p : bed.mesh.vertices) highest = std::max(highest, p.z);
  CHECK(highest == Approx(3.0 - 0.1 + 2.4).margin(0.6));  // thickness and the arch's rise, w²/8R = 2.4
}
