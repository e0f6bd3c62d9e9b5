#include "plan/guide_groups.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

#include "base/angle.hpp"
#include "plan/drill_bush.hpp"

using namespace culmwright;

namespace {

double turn_between(double from, double to) {
  return std::abs(std::remainder(to - from, 2.0 * pi));
}

std::vector<HoleToGroup> holes_at(const std::vector<double>& degrees, double reach_deg) {
  std::vector<HoleToGroup> holes;
  for (const double d : degrees)
    holes.push_back({d * pi / 180.0, reach_deg * pi / 180.0, 10.0 * static_cast<double>(holes.size())});
  return holes;
}

void check_partition(const std::vector<HoleGroup>& groups, const std::vector<HoleToGroup>& holes) {
  std::vector<int> seen(holes.size(), 0);
  for (const HoleGroup& group : groups) {
    CHECK(std::is_sorted(group.holes.begin(), group.holes.end(),
                         [&](int a, int b) { return holes[a].at < holes[b].at; }));
    for (const int i : group.holes) {
      ++seen[i];
      CHECK(turn_between(group.middle, holes[i].theta) <= holes[i].reach + 1e-9);
    }
  }
  CHECK(std::all_of(seen.begin(), seen.end(), [](int n) { return n == 1; }));
}

}  // namespace

TEST_CASE("holes within reach of one middle make one group, about half way between the outermost") {
  const auto holes = holes_at({-20.0, 5.0, 40.0}, 60.0);
  const auto groups = groups_around(holes);
  REQUIRE(groups.size() == 1);
  CHECK(groups[0].middle * 180.0 / pi == Approx(10.0));
  check_partition(groups, holes);
}

TEST_CASE("holes in front, behind and across the back seam make as few groups as can be") {
  const auto holes = holes_at({-10.0, 12.0, 175.0, -170.0, 3.0}, 60.0);
  const auto groups = groups_around(holes);
  CHECK(groups.size() == 2);
  check_partition(groups, holes);
}

TEST_CASE("groups around are as few as an exhaustive search over the arcs' ends finds") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> any(-180.0, 180.0);
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<double> degrees(6);
    for (double& d : degrees) d = any(random);
    const auto holes = holes_at(degrees, 25.0 + trial % 40);
    const auto groups = groups_around(holes);
    check_partition(groups, holes);
    // A fewest set of middles can be moved to ends of arcs: try every subset of the six ends.
    std::size_t fewest = 6;
    for (unsigned set = 1; set < 64; ++set) {
      std::size_t size = 0;
      std::vector<bool> served(6, false);
      for (int k = 0; k < 6; ++k) {
        if ((set >> k & 1U) == 0) continue;
        ++size;
        for (int i = 0; i < 6; ++i) {
          if (turn_between(holes[k].theta + holes[k].reach, holes[i].theta) <= holes[i].reach + 1e-9)
            served[i] = true;
        }
      }
      if (std::all_of(served.begin(), served.end(), [](bool s) { return s; }))
        fewest = std::min(fewest, size);
    }
    INFO("trial " << trial);
    CHECK(groups.size() == fewest);
  }
}

TEST_CASE("a long group is cut into as few runs as the length allows, evenly") {
  std::vector<HoleToGroup> holes;
  for (int i = 0; i < 10; ++i) holes.push_back({0.0, 1.0, 20.0 * i});
  const HoleGroup all{0.0, {0, 1, 2, 3, 4, 5, 6, 7, 8, 9}};
  const auto runs = runs_along(all, holes, 125.0);
  REQUIRE(runs.size() == 2);
  CHECK(runs[0].holes.size() == 5);
  CHECK(runs[1].holes.size() == 5);
  CHECK(runs_along(all, holes, 180.0).size() == 1);
}

TEST_CASE("standard drill bushes have the sizes of DIN 179") {
  // DIN 179 / ISO 4247, from memory: bore to outside diameter and lengths.
  CHECK(standard_bush(3.0, 0.0).outside == 6.0);
  CHECK(standard_bush(3.3, 0.0).outside == 6.0);
  CHECK(standard_bush(3.4, 0.0).outside == 7.0);
  CHECK(standard_bush(6.0, 0.0).outside == 10.0);
  CHECK(standard_bush(10.0, 0.0).outside == 15.0);
  CHECK(standard_bush(3.0, 7.0).length == 8.0);
  CHECK(standard_bush(3.0, 8.5).length == 12.0);
  CHECK(standard_bush(3.0, 99.0).length == 16.0);
}

TEST_CASE("a bush from the drawer is taken before the standard's, and its bore allows for fit and printer") {
  Shop shop;
  CHECK(pilot_bush(shop, 7.0).length == 8.0);
  shop.bushes = {{3.0, 6.0, 12.0}, {3.0, 6.0, 10.0}, {4.0, 7.0, 8.0}, {3.0, 6.0, 5.0}};
  CHECK(pilot_bush(shop, 7.0).length == 10.0);
  shop.fits.bush = 0.05;
  shop.printer.hole_undersize = 0.2;
  CHECK(2.0 * bush_bore_radius(shop, shop.bushes[0]) == Approx(6.0 + 2.0 * 0.05 + 0.2));
}
