#include "tube/bow_seen.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

const double least_sine = std::sin(15.0 * pi / 180.0);

bool has_heights(const Survey& survey) {
  return std::any_of(survey.stations.begin(), survey.stations.end(), [](const Station& station) {
    return std::count_if(station.heights.begin(), station.heights.end(),
                         [](const auto& height) { return height.has_value(); }) > 2;
  });
}

}  // namespace

BowSeen bow_seen(const Survey& survey) {
  if (has_heights(survey)) return {true, true};
  BowSeen seen;
  for (const BowReading& one : survey.bow) {
    const Vec2 n = direction(one.facing);
    if (std::abs(n.y) < least_sine) seen.to_line = true;
    if (std::abs(n.x) < least_sine) seen.sideways = true;
    for (const BowReading& other : survey.bow) {
      if (std::abs(cross(n, direction(other.facing))) >= least_sine) return {true, true};
    }
  }
  return seen;
}

}  // namespace culmwright
