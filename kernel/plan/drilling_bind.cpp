#include "plan/drilling_bind.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/drilling_schedule.hpp"

namespace culmwright {

namespace {

using namespace drilling_practice;

struct Rim {
  std::string id;
  double at = 0.0;
  double around = 0.0;
  double radius = 0.0;
};

/// What lies between the rims of two holes along the grain, where a fibre runs through both.
std::optional<double> web_along(const Tube& tube, const Rim& a, const Rim& b) {
  const double girth = tube.girth(0.5 * (a.at + b.at));
  const double aside = std::abs(std::remainder(a.around - b.around, girth));
  if (aside >= a.radius + b.radius) return std::nullopt;
  return std::abs(a.at - b.at) - a.radius - b.radius;
}

/// Moved away from the row until it is clear of every rim, and kept on the tube.
double binding_at(double at, double away, const std::vector<Rim>& rims, double low, double high) {
  const double room = 0.5 * binding_width + 1.0;
  for (bool moved = true; moved;) {
    moved = false;
    for (const Rim& rim : rims) {
      if (std::abs(at - rim.at) >= rim.radius + room - 1e-9) continue;
      at = rim.at + away * (rim.radius + room);
      moved = true;
    }
  }
  return std::max(low + 0.5 * binding_width, std::min(high - 0.5 * binding_width, at));
}

}  // namespace

std::vector<BoundRow> rows_to_bind(const Tube& tube, const Instrument& instrument) {
  const auto cuts = std::minmax(instrument.mouth_cut_at, instrument.foot_cut_at);
  std::vector<Rim> rims;
  for (const PlacedKey& key : instrument.keys)
    rims.push_back({key.key.id, key.place.at, key.place.around, 0.5 * key.key.hole_diameter});
  std::stable_sort(rims.begin(), rims.end(), [](const Rim& a, const Rim& b) { return a.at < b.at; });
  // Every hole begins in a row of its own; a slim web joins the rows of its holes.
  std::vector<std::size_t> row(rims.size());
  for (std::size_t i = 0; i < row.size(); ++i) row[i] = i;
  std::vector<std::vector<std::string>> why(rims.size());
  for (std::size_t i = 0; i < rims.size(); ++i) {
    const double to_end = std::min(rims[i].at - cuts.first, cuts.second - rims[i].at) - rims[i].radius;
    if (to_end < bind_end_per_diameter * 2.0 * rims[i].radius)
      why[i].push_back(rims[i].id + " is " + fixed_text(to_end, 0) + " from an end");
    for (std::size_t k = 0; k < i; ++k) {
      const std::optional<double> web = web_along(tube, rims[i], rims[k]);
      if (!web || *web >= bind_web_per_diameter * 2.0 * std::max(rims[i].radius, rims[k].radius)) continue;
      why[i].push_back("web of " + fixed_text(*web, 1) + " between " + rims[k].id + " and " + rims[i].id);
      const std::size_t from = row[i], to = row[k];
      for (std::size_t& number : row) number = number == from ? to : number;
    }
  }
  std::vector<BoundRow> rows;
  for (std::size_t number = 0; number < rims.size(); ++number) {
    BoundRow bound;
    double low = 1e300, high = -1e300;
    for (std::size_t i = 0; i < rims.size(); ++i) {
      if (row[i] != number) continue;
      bound.ids.push_back(rims[i].id);
      bound.why.insert(bound.why.end(), why[i].begin(), why[i].end());
      low = std::min(low, rims[i].at - rims[i].radius);
      high = std::max(high, rims[i].at + rims[i].radius);
    }
    if (bound.why.empty()) continue;
    bound.first = binding_at(low - bind_beyond, -1.0, rims, cuts.first, cuts.second);
    bound.last = binding_at(high + bind_beyond, 1.0, rims, cuts.first, cuts.second);
    rows.push_back(std::move(bound));
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const BoundRow& a, const BoundRow& b) { return a.first < b.first; });
  return rows;
}

}  // namespace culmwright
