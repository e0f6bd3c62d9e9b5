#include "plan/bed_layout.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <optional>

#include "base/problem.hpp"

namespace culmwright {

namespace {

/// Sizes that differ by less are the same: what single precision of an STL file can tell.
constexpr double same_size = 1e-6;

struct Rectangle {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

bool within(const Rectangle& inner, const Rectangle& outer) {
  return inner.x >= outer.x - same_size && inner.y >= outer.y - same_size &&
         inner.x + inner.width <= outer.x + outer.width + same_size &&
         inner.y + inner.height <= outer.y + outer.height + same_size;
}

bool meet(const Rectangle& a, const Rectangle& b) {
  return a.x < b.x + b.width - same_size && b.x < a.x + a.width - same_size &&
         a.y < b.y + b.height - same_size && b.y < a.y + a.height - same_size;
}

/// One bed, its free rectangles kept maximal. Parts carry their gap on the right and above; the bed is wider
/// by one gap, so that the last part's gap may lie outside.
class Bed {
 public:
  explicit Bed(const BedRoom& room)
      : free_{{room.free_edge, room.free_edge, room.bed_x - 2.0 * room.free_edge + room.gap,
               room.bed_y - 2.0 * room.free_edge + room.gap}} {}

  struct Found {
    double short_side = std::numeric_limits<double>::infinity();
    double long_side = std::numeric_limits<double>::infinity();
    Rectangle taken;
    bool turned = false;
    /// Nearer the bed's corner where two places are equally tight.
    bool better_than(const Found& other) const {
      if (std::abs(short_side - other.short_side) > same_size) return short_side < other.short_side;
      if (std::abs(long_side - other.long_side) > same_size) return long_side < other.long_side;
      if (std::abs(taken.y - other.taken.y) > same_size) return taken.y < other.taken.y;
      return taken.x < other.taken.x - same_size;
    }
  };

  std::optional<Found> place_for(double width, double height) const {
    std::optional<Found> best;
    for (const Rectangle& room : free_) {
      for (const bool turned : {false, true}) {
        const double w = turned ? height : width;
        const double h = turned ? width : height;
        if (w > room.width + same_size || h > room.height + same_size) continue;
        const double beside = room.width - w, above = room.height - h;
        const Found found{std::min(beside, above), std::max(beside, above), {room.x, room.y, w, h}, turned};
        if (!best || found.better_than(*best)) best = found;
      }
    }
    return best;
  }

  void take(const Rectangle& taken) {
    std::vector<Rectangle> left;
    for (const Rectangle& room : free_) {
      if (!meet(room, taken)) {
        left.push_back(room);
        continue;
      }
      const double right = taken.x + taken.width, top = taken.y + taken.height;
      const double room_right = room.x + room.width, room_top = room.y + room.height;
      const auto keep = [&](Rectangle part) {
        if (part.width > same_size && part.height > same_size) left.push_back(part);
      };
      keep({room.x, room.y, taken.x - room.x, room.height});
      keep({right, room.y, room_right - right, room.height});
      keep({room.x, room.y, room.width, taken.y - room.y});
      keep({room.x, top, room.width, room_top - top});
    }
    free_ = maximal(left);
  }

 private:
  static std::vector<Rectangle> maximal(const std::vector<Rectangle>& all) {
    std::vector<Rectangle> kept;
    for (std::size_t i = 0; i < all.size(); ++i) {
      bool contained = false;
      for (std::size_t j = 0; j < all.size() && !contained; ++j) {
        // Of two equal ones the first stays.
        contained = j != i && within(all[i], all[j]) && (j < i || !within(all[j], all[i]));
      }
      if (!contained) kept.push_back(all[i]);
    }
    return kept;
  }

  std::vector<Rectangle> free_;
};

using Plates = std::vector<std::vector<BedPlace>>;

Plates laid_in_order(const std::vector<BedItem>& items, const std::vector<std::size_t>& order,
                     const BedRoom& room) {
  Plates plates;
  std::vector<Bed> beds;
  for (const std::size_t i : order) {
    const double width = items[i].size_x + room.gap, height = items[i].size_y + room.gap;
    std::size_t bed = 0;
    std::optional<Bed::Found> found;
    // The first bed with room, so that only the last is left with few parts.
    while (bed < beds.size() && !(found = beds[bed].place_for(width, height))) ++bed;
    if (!found) {
      beds.emplace_back(room);
      plates.emplace_back();
      found = beds.back().place_for(width, height);
    }
    require(found.has_value(), "a part that fits the bed found no room on an empty one");
    beds[bed].take(found->taken);
    plates[bed].push_back({i, found->taken.x, found->taken.y, found->turned});
  }
  return plates;
}

double area_on(const std::vector<BedPlace>& plate, const std::vector<BedItem>& items) {
  double sum = 0.0;
  for (const BedPlace& place : plate) sum += items[place.item].size_x * items[place.item].size_y;
  return sum;
}

/// How far from the corner the plates reach, all added up.
double reach(const Plates& plates, const std::vector<BedItem>& items) {
  double sum = 0.0;
  for (const auto& plate : plates) {
    double x = 0.0, y = 0.0;
    for (const BedPlace& place : plate) {
      const BedItem& item = items[place.item];
      x = std::max(x, place.x + (place.turned ? item.size_y : item.size_x));
      y = std::max(y, place.y + (place.turned ? item.size_x : item.size_y));
    }
    sum += x + y;
  }
  return sum;
}

bool better(const Plates& a, const Plates& b, const std::vector<BedItem>& items) {
  if (a.size() != b.size()) return a.size() < b.size();
  const double last_a = area_on(a.back(), items), last_b = area_on(b.back(), items);
  if (std::abs(last_a - last_b) > same_size) return last_a < last_b;
  return reach(a, items) < reach(b, items) - same_size;
}

bool fits_bed(const BedItem& item, const BedRoom& room) {
  const double x = room.bed_x - 2.0 * room.free_edge, y = room.bed_y - 2.0 * room.free_edge;
  return (item.size_x <= x + same_size && item.size_y <= y + same_size) ||
         (item.size_y <= x + same_size && item.size_x <= y + same_size);
}

/// Larger first, by several measures of large.
std::vector<std::vector<std::size_t>> orders_of(const std::vector<BedItem>& items,
                                                const std::vector<std::size_t>& those) {
  const std::function<double(const BedItem&)> measures[] = {
      [](const BedItem& i) { return std::max(i.size_x, i.size_y); },
      [](const BedItem& i) { return std::min(i.size_x, i.size_y); },
      [](const BedItem& i) { return i.size_x * i.size_y; },
      [](const BedItem& i) { return i.size_x + i.size_y; },
      [](const BedItem& i) { return std::abs(i.size_x - i.size_y); },
  };
  std::vector<std::vector<std::size_t>> orders{those};
  for (const auto& measure : measures) {
    orders.push_back(those);
    std::stable_sort(orders.back().begin(), orders.back().end(),
                     [&](std::size_t a, std::size_t b) { return measure(items[a]) > measure(items[b]); });
  }
  return orders;
}

}  // namespace

BedRoom bed_room(const Printer& printer) {
  BedRoom room;
  room.bed_x = printer.bed_x;
  room.bed_y = printer.bed_y;
  return room;
}

BedLayout lay_on_beds(const std::vector<BedItem>& items, const BedRoom& room) {
  BedLayout layout;
  std::vector<std::size_t> those;
  for (std::size_t i = 0; i < items.size(); ++i) {
    require(items[i].size_x >= 0.0 && items[i].size_y >= 0.0,
            "a part of negative size was to lie on the bed");
    (fits_bed(items[i], room) ? those : layout.too_large).push_back(i);
  }
  if (those.empty()) return layout;
  for (const std::vector<std::size_t>& order : orders_of(items, those)) {
    Plates plates = laid_in_order(items, order, room);
    if (layout.plates.empty() || better(plates, layout.plates, items)) layout.plates = std::move(plates);
  }
  for (auto& plate : layout.plates) {
    std::sort(plate.begin(), plate.end(),
              [](const BedPlace& a, const BedPlace& b) { return a.item < b.item; });
  }
  return layout;
}

double filled(const std::vector<BedPlace>& plate, const std::vector<BedItem>& items, const BedRoom& room) {
  return area_on(plate, items) / ((room.bed_x - 2.0 * room.free_edge) * (room.bed_y - 2.0 * room.free_edge));
}

}  // namespace culmwright
