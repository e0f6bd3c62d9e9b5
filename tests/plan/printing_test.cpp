#include "plan/printing.hpp"

#include <catch2/catch.hpp>

using namespace culmwright;

namespace {

/// A table: a plate 40 × 20 × 4 with its underside at z = 30, on a foot of 20 × 20.
Mesh table_on_a_foot() {
  Mesh mesh;
  const auto box = [&](Vec3 low, Vec3 high) {
    const int first = static_cast<int>(mesh.vertices.size());
    for (int i = 0; i < 8; ++i) {
      mesh.vertices.push_back({i & 1 ? high.x : low.x, i & 2 ? high.y : low.y, i & 4 ? high.z : low.z});
    }
    const int quads[6][4] = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4},
                             {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
    for (const auto& q : quads) {
      mesh.triangles.push_back({first + q[0], first + q[1], first + q[2]});
      mesh.triangles.push_back({first + q[0], first + q[2], first + q[3]});
    }
  };
  box({0, 0, 0}, {20, 20, 30});
  box({0, 0, 30}, {40, 20, 34});
  return mesh;
}

constexpr RigidMotion as_is{};
/// The part's z down.
const RigidMotion head_down{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {}};

}  // namespace

TEST_CASE("overhang is what looks down steeper than 45 degrees and does not stand on the bed") {
  const auto choices = judged_positions(table_on_a_foot(), {{0, 0, 1}}, {{"upright", as_is}}, Printer{});
  REQUIRE(choices.size() == 1);
  // The plate's whole underside counts, and so does the part of it that stands on the foot: two boxes.
  CHECK(choices[0].overhang_area == Approx(40.0 * 20.0));
  CHECK(choices[0].size.z == Approx(34.0));
  CHECK(choices[0].sagging_bores == 0);
  CHECK(choices[0].fits);
}

TEST_CASE(
    "of positions that fit the one with the fewest sagging bores is best, then the one with less overhang") {
  const Mesh mesh = table_on_a_foot();
  const RigidMotion on_side{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}, {}};
  const auto choices = judged_positions(mesh, {{0, 0, 1}, {0, 0.1, 1}},
                                        {{"on its side", on_side}, {"upright", as_is}}, Printer{});
  CHECK(choices[0].name == "upright");
  CHECK(choices[1].sagging_bores == 2);
  CHECK(choices[1].reason.find("sag") != std::string::npos);
  const auto turned = judged_positions(mesh, {}, {{"upright", as_is}, {"head down", head_down}}, Printer{});
  CHECK(turned[0].name == "head down");
  Printer low;
  low.height = 10.0;
  CHECK_FALSE(judged_positions(mesh, {}, {{"upright", as_is}}, low)[0].fits);
}
