#include "solid/patch.hpp"

#include <catch2/catch.hpp>

#include "shapes.hpp"

using namespace culmwright;

namespace {

SurfaceFunction skin_of(const Tube& tube) {
  return [tube](double theta, double at) { return tube.skin_point(at, Angle::from_radians(theta)).point; };
}

std::vector<FineRange> ridge_ranges(const Tube& tube) {
  std::vector<FineRange> ranges;
  for (const Node& node : tube.nodes()) {
    const double half = 0.5 * (node.band + std::abs(node.at_far - node.at_line));
    ranges.push_back({node.at() - half, node.at() + half});
  }
  return ranges;
}

std::vector<double> even(double from, double to, int count) {
  std::vector<double> values;
  for (int i = 0; i < count; ++i) values.push_back(from + (to - from) * i / (count - 1));
  return values;
}

}  // namespace

TEST_CASE("a windowed patch over a bowed oval skin with ridges keeps to a micrometre") {
  const Tube tube{test::culm()};
  const std::vector<double> at = graded_values(0.0, 420.0, 4.0, 0.3, ridge_ranges(tube));
  const auto patch = windowed_patch(skin_of(tube), even(-1.4, 1.4, 49), at);
  CHECK(patch_error(patch, skin_of(tube)) < 0.001);
}

TEST_CASE("a periodic patch closes smoothly and keeps to a micrometre wherever its seam lies") {
  const Tube tube{test::culm()};
  const std::vector<double> at = graded_values(0.0, 420.0, 4.0, 0.3, ridge_ranges(tube));
  for (const double seam : {-pi, 0.3}) {
    const auto patch = periodic_patch(skin_of(tube), seam, 96, at);
    CHECK(patch->IsUPeriodic());
    CHECK(patch_error(patch, skin_of(tube)) < 0.001);
    CHECK(patch->Value(seam, 200.0).Distance(patch->Value(seam + 2.0 * pi, 200.0)) < 1e-12);
  }
}

TEST_CASE("a patch over a round cylinder lies on it, its normal toward the axis") {
  const auto round = [](double theta, double at) {
    return Vec3{15.0 * std::cos(theta), 15.0 * std::sin(theta), -at};
  };
  const auto patch = windowed_patch(round, even(-1.0, 1.0, 33), even(0.0, 50.0, 9));
  CHECK(patch_error(patch, round) < 1e-4);
  gp_Pnt p;
  gp_Vec u, v;
  patch->D1(0.0, 25.0, p, u, v);
  CHECK(u.Crossed(v).X() < 0.0);
}

TEST_CASE("graded values keep their ends, rise, and are fine where asked") {
  const std::vector<double> values = graded_values(0.0, 100.0, 4.0, 0.5, {{30.0, 40.0}});
  CHECK(values.front() == 0.0);
  CHECK(values.back() == 100.0);
  for (std::size_t i = 1; i < values.size(); ++i) {
    const double step = values[i] - values[i - 1];
    CHECK(step > 0.0);
    CHECK(step <= 4.0);
    if (values[i] > 30.0 && values[i - 1] < 40.0) CHECK(step < 0.65);
    if (values[i - 1] > 30.0 && values[i] < 40.0) CHECK(step <= 0.5 + 1e-9);
  }
}
