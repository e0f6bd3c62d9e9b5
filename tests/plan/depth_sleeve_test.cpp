#include "plan/depth_sleeve.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace culmwright;

namespace {

DepthAtHole hole_at(const std::string& id, double stop_at, double far_wall, double drill = 3.0) {
  DepthAtHole hole;
  hole.id = id;
  hole.drill = drill;
  hole.bush_outside = 6.0;
  hole.depth.stop_at = stop_at;
  hole.depth.far_wall = far_wall;
  return hole;
}

/// The fewest depths that serve all: every stop is tried as a depth, smallest sets first.
int fewest(const std::vector<DepthAtHole>& holes) {
  const int count = static_cast<int>(holes.size());
  int least = count;
  for (int set = 1; set < 1 << count; ++set) {
    bool all = true;
    for (const DepthAtHole& hole : holes) {
      bool served = false;
      for (int k = 0; k < count; ++k) {
        const double depth = holes[static_cast<std::size_t>(k)].depth.stop_at;
        served = served || ((set >> k & 1) != 0 && depth >= hole.depth.stop_at - 1e-9 &&
                            depth <= hole.depth.far_wall - 3.0 + 1e-9 &&
                            depth <= hole.depth.stop_at + sleeve_sizes::deeper_at_most + 1e-9);
      }
      all = all && served;
    }
    if (!all) continue;
    int used = 0;
    for (int k = 0; k < count; ++k) used += set >> k & 1;
    least = std::min(least, used);
  }
  return least;
}

}  // namespace

TEST_CASE("a sleeve's length is what the drill stands out less the depth") {
  // A jobber drill of 3 has flutes of 33 (DIN 338, from memory); 5 of its shank stand out as well.
  const DepthSleeves planned = plan_depth_sleeves({hole_at("L1", 17.24, 40.0)}, Shop{});
  REQUIRE(planned.sleeves.size() == 1);
  const DepthSleeve& sleeve = planned.sleeves[0];
  CHECK(sleeve.depth == Approx(17.3));
  CHECK(sleeve.length == Approx(20.5));
  CHECK(sleeve.stands_out() == Approx(37.8));
  CHECK(sleeve.room_left == Approx(22.7));
  // It bears on the rim of a bush of 6 and leaves room around a drill of 3.
  CHECK(2.0 * sleeve.bore_radius > 3.0);
  CHECK(2.0 * sleeve.bore_radius < 6.0 - 1.2);
  CHECK(sleeve.across > 6.0);
}

TEST_CASE("the drawer's own flutes count before the standard's") {
  Shop shop;
  shop.drills = {{DrillKind::twist, 3.0, 3.0, 0.0, 28.0, {}}};
  CHECK(drill_reach(shop, 3.0) == Approx(33.0));
  CHECK(drill_reach(shop, 8.0) == Approx(75.0 + 5.0));  // DIN 338: 75, from memory
}

TEST_CASE("as few sleeves as can be serve every hole, none deeper than it may go") {
  std::mt19937 generator(5);
  std::uniform_real_distribution<double> stops(12.0, 24.0), rooms(3.0, 12.0);
  for (int i = 0; i < 60; ++i) {
    std::vector<DepthAtHole> holes;
    for (int k = 0; k < 7; ++k) {
      const double stop = std::round(10.0 * stops(generator)) / 10.0;
      holes.push_back(hole_at("K" + std::to_string(k), stop, stop + rooms(generator)));
    }
    const DepthSleeves planned = plan_depth_sleeves(holes, Shop{});
    REQUIRE(planned.left_out.empty());
    CHECK(static_cast<int>(planned.sleeves.size()) == fewest(holes));
    std::vector<std::string> served;
    for (const DepthSleeve& sleeve : planned.sleeves) {
      for (const std::string& id : sleeve.ids) {
        served.push_back(id);
        const auto hole =
            std::find_if(holes.begin(), holes.end(), [&](const DepthAtHole& h) { return h.id == id; });
        CHECK(sleeve.depth >= hole->depth.stop_at - 1e-9);
        CHECK(hole->depth.far_wall - sleeve.depth >= 3.0 - 1e-9);
        CHECK(sleeve.depth - hole->depth.stop_at <= 3.0 + 1e-9);
      }
    }
    std::sort(served.begin(), served.end());
    CHECK(served.size() == holes.size());
    CHECK(std::unique(served.begin(), served.end()) == served.end());
  }
}

TEST_CASE("drills of different diameters have sleeves of their own") {
  CHECK(plan_depth_sleeves({hole_at("L1", 17.0, 40.0), hole_at("L2", 17.0, 40.0, 4.0)}, Shop{})
            .sleeves.size() == 2);
}

TEST_CASE("a hole without room before the far wall and a drill that is too short are left out by name") {
  Shop shop;
  shop.drills = {{DrillKind::twist, 3.0, 3.0, 0.0, 16.0, {}}};
  const DepthSleeves planned =
      plan_depth_sleeves({hole_at("near", 12.0, 14.0), hole_at("deep", 18.0, 40.0)}, shop);
  CHECK(planned.sleeves.empty());
  REQUIRE(planned.left_out.size() == 2);
  CHECK(planned.left_out[0].find("near: the far wall") == 0);
  CHECK(planned.left_out[1].find("deep: a drill of 3") == 0);
}

TEST_CASE("depth, length and holes stand on the flats; what finds no room is said") {
  std::vector<DepthAtHole> holes;
  for (const char* id : {"L1", "L2", "L3", "R1", "R2", "R3", "a long name"}) {
    holes.push_back(hole_at(id, 17.0, 40.0));
  }
  const DepthSleeve sleeve = plan_depth_sleeves(holes, Shop{}).sleeves.at(0);
  std::string all;
  for (const PlaneText& text : sleeve.texts) {
    all += text.text + " ";
    double low = 1e300, high = -1e300;
    for (const StrokeOutline& stroke : text.strokes) {
      for (const Vec2& p : stroke) {
        const Vec3 q = text.frame.apply({p.x, p.y, 0.0});
        low = std::min(low, q.z);
        high = std::max(high, q.z);
        CHECK(std::abs(p.y) < 0.5 * sleeve.flat_width());
      }
    }
    CHECK(low > 0.5);
    CHECK(high < sleeve.length - 0.5);
  }
  CHECK(all.find("D17.0 L21.0 L1 L2 L3 R1") == 0);
  REQUIRE(sleeve.notes.size() == 1);
  CHECK(sleeve.notes[0].find("a long name") != std::string::npos);
}
