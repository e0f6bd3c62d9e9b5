#include "plan/cradle_facets.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace culmwright {

namespace {

using namespace cradle_sizes;

constexpr double turn = 2.0 * pi;

struct AtAngle {
  double theta = 0.0;
  std::size_t key = 0;
};

BoreAngle joined(const std::vector<AtAngle>& run, const Instrument& instrument) {
  BoreAngle bores;
  bores.axis = Angle::from_radians(0.5 * (run.front().theta + run.back().theta));
  bores.off = Angle::from_radians(0.5 * (run.back().theta - run.front().theta));
  std::vector<std::size_t> keys;
  for (const AtAngle& one : run) keys.push_back(one.key);
  std::sort(keys.begin(), keys.end());
  for (const std::size_t key : keys) bores.ids.push_back(instrument.keys[key].key.id);
  return bores;
}

BoreAngle turned(BoreAngle bores, double by) {
  bores.axis = Angle::from_radians(bores.axis.radians() + by);
  return bores;
}

/// Cost of the angles strictly between two facets (or beyond the only one): one each, and a little for what
/// it leans; infinite where one leans too far.
double cost_between(const std::vector<BoreAngle>& angles, int left, int right, Angle clear) {
  const int count = static_cast<int>(angles.size());
  double cost = 0.0;
  for (int i = left + 1; i < right; ++i) {
    double lean = std::numeric_limits<double>::infinity();
    if (left >= 0) lean = angles[i].axis.degrees() - angles[left].axis.degrees();
    if (right < count) lean = std::min(lean, angles[right].axis.degrees() - angles[i].axis.degrees());
    if (lean > greatest_wedge_deg) return std::numeric_limits<double>::infinity();
    if (left >= 0 && right < count) {
      const double half = 0.5 * (angles[right].axis.degrees() - angles[left].axis.degrees());
      if (lean > half - clear.degrees()) return std::numeric_limits<double>::infinity();
    }
    cost += 1.0 + 5e-4 * lean * lean;
  }
  return cost;
}

}  // namespace

std::vector<BoreAngle> bore_angles(const Instrument& instrument) {
  std::vector<AtAngle> all;
  for (std::size_t i = 0; i < instrument.keys.size(); ++i) {
    const Vec3 axis = instrument.keys[i].drilling.axis;
    all.push_back({std::atan2(axis.y, axis.x), i});
  }
  if (all.empty()) return {};
  std::sort(all.begin(), all.end(), [](const AtAngle& a, const AtAngle& b) {
    return a.theta < b.theta || (a.theta == b.theta && a.key < b.key);
  });
  // Begin after the widest gap.
  std::size_t first = 0;
  double widest = all.front().theta + turn - all.back().theta;
  for (std::size_t i = 1; i < all.size(); ++i) {
    if (all[i].theta - all[i - 1].theta > widest) {
      widest = all[i].theta - all[i - 1].theta;
      first = i;
    }
  }
  std::rotate(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(first), all.end());
  for (AtAngle& one : all) {
    if (one.theta < all.front().theta) one.theta += turn;
  }
  std::vector<BoreAngle> angles;
  std::vector<AtAngle> run;
  for (const AtAngle& one : all) {
    if (!run.empty() && one.theta - run.front().theta > same_facet_deg * pi / 180.0) {
      angles.push_back(joined(run, instrument));
      run.clear();
    }
    run.push_back(one);
  }
  angles.push_back(joined(run, instrument));
  return angles;
}

std::vector<std::vector<BoreAngle>> cradle_groups(const std::vector<BoreAngle>& angles, Angle widest) {
  const std::size_t count = angles.size();
  std::vector<std::vector<BoreAngle>> best;
  double best_span = 0.0;
  for (std::size_t start = 0; start < count; ++start) {
    std::vector<std::vector<BoreAngle>> groups;
    double span = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t k = (start + i) % count;
      const BoreAngle bores = turned(angles[k], k < start ? turn : 0.0);
      if (groups.empty() || bores.axis.radians() - groups.back().front().axis.radians() > widest.radians())
        groups.emplace_back();
      groups.back().push_back(bores);
      span = std::max(span, bores.axis.radians() - groups.back().front().axis.radians());
    }
    if (best.empty() || groups.size() < best.size() ||
        (groups.size() == best.size() && span < best_span - 1e-9)) {
      best = groups;
      best_span = span;
    }
  }
  return best;
}

std::vector<int> choose_facets(const std::vector<BoreAngle>& angles, Angle apart, Angle clear,
                               const std::vector<bool>& barred) {
  const int count = static_cast<int>(angles.size());
  const double infinite = std::numeric_limits<double>::infinity();
  std::vector<double> cost(count, infinite);
  std::vector<int> before(count, -1);
  for (int j = 0; j < count; ++j) {
    if (barred[j]) continue;
    cost[j] = cost_between(angles, -1, j, clear);
    for (int k = 0; k < j; ++k) {
      if (angles[j].axis.radians() - angles[k].axis.radians() < apart.radians()) continue;
      const double with = cost[k] + cost_between(angles, k, j, clear);
      if (with < cost[j]) {
        cost[j] = with;
        before[j] = k;
      }
    }
  }
  int last = -1;
  double least = infinite;
  for (int j = 0; j < count; ++j) {
    const double whole = cost[j] + cost_between(angles, j, count, clear);
    if (whole < least) {
      least = whole;
      last = j;
    }
  }
  std::vector<int> chosen;
  for (; last >= 0; last = before[last]) chosen.push_back(last);
  std::reverse(chosen.begin(), chosen.end());
  return chosen;
}

}  // namespace culmwright
