#include "plan/bed_layout.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

using namespace culmwright;

namespace {

BedRoom bed(double x, double y, double free_edge, double gap) {
  BedRoom room;
  room.bed_x = x;
  room.bed_y = y;
  room.free_edge = free_edge;
  room.gap = gap;
  return room;
}

struct Box {
  double left, right, low, high;
};

Box box_of(const BedPlace& place, const BedItem& item) {
  const double w = place.turned ? item.size_y : item.size_x;
  const double h = place.turned ? item.size_x : item.size_y;
  return {place.x, place.x + w, place.y, place.y + h};
}

/// Every part on a plate inside the free edge, and a gap between any two, looked at pair by pair.
void check_sound(const BedLayout& layout, const std::vector<BedItem>& items, const BedRoom& room) {
  std::vector<int> seen(items.size(), 0);
  for (const std::size_t i : layout.too_large) ++seen[i];
  for (const auto& plate : layout.plates) {
    REQUIRE_FALSE(plate.empty());
    for (std::size_t a = 0; a < plate.size(); ++a) {
      ++seen[plate[a].item];
      const Box one = box_of(plate[a], items[plate[a].item]);
      CHECK(one.left >= room.free_edge - 1e-5);
      CHECK(one.low >= room.free_edge - 1e-5);
      CHECK(one.right <= room.bed_x - room.free_edge + 1e-5);
      CHECK(one.high <= room.bed_y - room.free_edge + 1e-5);
      for (std::size_t b = 0; b < a; ++b) {
        const Box two = box_of(plate[b], items[plate[b].item]);
        const double apart_x = std::max(one.left - two.right, two.left - one.right);
        const double apart_y = std::max(one.low - two.high, two.low - one.high);
        CHECK(std::max(apart_x, apart_y) >= room.gap - 1e-5);
      }
    }
  }
  CHECK(std::all_of(seen.begin(), seen.end(), [](int n) { return n == 1; }));
}

}  // namespace

TEST_CASE("squares that fill a bed exactly lie on one plate") {
  // Four of 48 with a gap of 4 in 100: a fifth needs a second plate.
  std::vector<BedItem> items(4, {"square", 48, 48});
  const BedRoom room = bed(110, 110, 5, 4);
  BedLayout layout = lay_on_beds(items, room);
  check_sound(layout, items, room);
  CHECK(layout.plates.size() == 1);
  CHECK(filled(layout.plates[0], items, room) == Approx(4 * 48.0 * 48.0 / 10000.0));
  items.push_back({"one more", 48, 48});
  layout = lay_on_beds(items, room);
  check_sound(layout, items, room);
  CHECK(layout.plates.size() == 2);
}

TEST_CASE("a part is turned where only that fits, and a part no bed has room for is named") {
  const std::vector<BedItem> items{{"bar", 30, 180}, {"slab", 200, 200}, {"dot", 5, 5}};
  const BedRoom room = bed(210, 60, 5, 4);
  const BedLayout layout = lay_on_beds(items, room);
  check_sound(layout, items, room);
  REQUIRE(layout.too_large == std::vector<std::size_t>{1});
  REQUIRE(layout.plates.size() == 1);
  CHECK(layout.plates[0][0].turned);
}

TEST_CASE("random parts keep their gaps and never need more plates than shelves would") {
  std::mt19937 draw(20250801);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(draw()) / 4294967296.0;
  };
  for (int round = 0; round < 40; ++round) {
    const BedRoom room = bed(uniform(120, 260), uniform(120, 260), 5, uniform(1, 6));
    std::vector<BedItem> items;
    const int count = 1 + static_cast<int>(draw() % 60);
    for (int i = 0; i < count; ++i) items.push_back({"part", uniform(6, 70), uniform(6, 70)});
    const BedLayout layout = lay_on_beds(items, room);
    INFO("round " << round);
    check_sound(layout, items, room);
    // Next-fit shelves by falling height, the plainest method.
    std::vector<BedItem> by_height = items;
    for (BedItem& item : by_height) {
      if (item.size_y > item.size_x) std::swap(item.size_x, item.size_y);
    }
    std::sort(by_height.begin(), by_height.end(),
              [](const BedItem& a, const BedItem& b) { return a.size_y > b.size_y; });
    const double wide = room.bed_x - 2 * room.free_edge, high = room.bed_y - 2 * room.free_edge;
    std::size_t plates = 1;
    double x = 0, y = 0, shelf = 0;
    for (const BedItem& item : by_height) {
      if (x + item.size_x > wide) {
        y += shelf + room.gap;
        x = shelf = 0;
      }
      if (y + item.size_y > high) {
        ++plates;
        x = y = shelf = 0;
      }
      shelf = std::max(shelf, item.size_y);
      x += item.size_x + room.gap;
    }
    CHECK(layout.plates.size() <= plates);
    // Nor fewer than their area allows.
    double area = 0;
    for (const BedItem& item : items) area += item.size_x * item.size_y;
    CHECK(static_cast<double>(layout.plates.size()) >= area / (wide * high));
  }
}

TEST_CASE("nothing to lay out gives no plates") {
  CHECK(lay_on_beds({}, bed(200, 200, 5, 4)).plates.empty());
}
