#include "plan/guide_groups.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace culmwright {

namespace {

double turn_between(double from, double to) {
  return std::remainder(to - from, 2.0 * pi);
}

bool reaches(const HoleToGroup& hole, double middle) {
  return std::abs(turn_between(middle, hole.theta)) <= hole.reach + 1e-12;
}

/// Middles that serve every hole when the first stands at the end of hole `first`'s arc: going around, a new
/// one is set where the arc that ends first would be missed.
std::vector<double> middles_from(const std::vector<HoleToGroup>& holes, int first) {
  std::vector<bool> served(holes.size(), false);
  std::vector<double> middles;
  double start = holes[first].theta + holes[first].reach;
  double middle = start;
  for (std::size_t guard = 0; guard <= holes.size(); ++guard) {
    middles.push_back(middle);
    double nearest_end = 1e300;
    for (std::size_t i = 0; i < holes.size(); ++i) {
      if (reaches(holes[i], middle)) served[i] = true;
      if (served[i]) continue;
      double end = holes[i].theta + holes[i].reach - start;
      end -= 2.0 * pi * std::floor(end / (2.0 * pi));
      nearest_end = std::min(nearest_end, end);
    }
    if (nearest_end > 1e299) break;
    middle = start + nearest_end;
  }
  return middles;
}

/// Sets the middle as near as all holes allow to half way between the outermost of them.
void centre(HoleGroup& group, const std::vector<HoleToGroup>& holes) {
  double low = 1e300;
  double high = -1e300;
  double from = -1e300;
  double to = 1e300;
  for (const int i : group.holes) {
    const double theta = group.middle + turn_between(group.middle, holes[i].theta);
    low = std::min(low, theta);
    high = std::max(high, theta);
    from = std::max(from, theta - holes[i].reach);
    to = std::min(to, theta + holes[i].reach);
  }
  group.middle = std::clamp(0.5 * (low + high), from, to);
}

}  // namespace

std::vector<HoleGroup> groups_around(const std::vector<HoleToGroup>& holes) {
  std::vector<double> best;
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const std::vector<double> middles = middles_from(holes, static_cast<int>(i));
    if (best.empty() || middles.size() < best.size()) best = middles;
  }
  std::vector<HoleGroup> groups;
  for (const double middle : best) groups.push_back({middle, {}});
  for (std::size_t i = 0; i < holes.size(); ++i) {
    HoleGroup* nearest = nullptr;
    double least = 1e300;
    for (HoleGroup& group : groups) {
      const double away = std::abs(turn_between(group.middle, holes[i].theta));
      if (!reaches(holes[i], group.middle) || away >= least) continue;
      least = away;
      nearest = &group;
    }
    nearest->holes.push_back(static_cast<int>(i));
  }
  groups.erase(
      std::remove_if(groups.begin(), groups.end(), [](const HoleGroup& g) { return g.holes.empty(); }),
      groups.end());
  for (HoleGroup& group : groups) {
    std::stable_sort(group.holes.begin(), group.holes.end(),
                     [&](int a, int b) { return holes[a].at < holes[b].at; });
    centre(group, holes);
  }
  return groups;
}

std::vector<HoleGroup> runs_along(const HoleGroup& group, const std::vector<HoleToGroup>& holes,
                                  double longest) {
  const auto cut = [&](double limit) {
    std::vector<HoleGroup> runs;
    for (const int i : group.holes) {
      if (runs.empty() || holes[i].at - holes[runs.back().holes.front()].at > limit) {
        runs.push_back({group.middle, {}});
      }
      runs.back().holes.push_back(i);
    }
    return runs;
  };
  const std::size_t fewest = cut(longest).size();
  double low = 0.0;
  double high = longest;
  while (high - low > 0.1) {
    const double limit = 0.5 * (low + high);
    (cut(limit).size() > fewest ? low : high) = limit;
  }
  std::vector<HoleGroup> runs = cut(high);
  for (HoleGroup& run : runs) centre(run, holes);
  return runs;
}

}  // namespace culmwright
