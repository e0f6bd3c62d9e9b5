#include "hand/hand_sizes.hpp"

#include <algorithm>
#include <array>

#include "base/problem.hpp"

namespace culmwright {

namespace {

constexpr std::size_t count = 9;
using Quantiles = std::array<double, count>;
constexpr Quantiles percentiles{1, 5, 10, 25, 50, 75, 90, 95, 99};
constexpr Quantiles women_length{160.0, 165.0, 169.0, 174.0, 180.0, 187.0, 194.0, 199.0, 207.0};
constexpr Quantiles women_breadth{69.85, 72.0, 73.0, 75.0, 78.0, 80.0, 83.0, 85.0, 87.0};
constexpr Quantiles men_length{172.0, 177.0, 181.0, 187.0, 193.0, 200.0, 206.0, 210.0, 218.0};
constexpr Quantiles men_breadth{78.0, 81.0, 83.0, 85.0, 88.0, 91.0, 94.0, 96.0, 99.0};

/// Mean of the means of women and men, 0.4322 and 0.4572.
constexpr double breadth_share = 0.4447;

double quantile(const Quantiles& table, double percentile) {
  const double wanted = std::clamp(percentile, percentiles.front(), percentiles.back());
  std::size_t i = 1;
  while (i + 1 < count && percentiles[i] < wanted) ++i;
  const double share = (wanted - percentiles[i - 1]) / (percentiles[i] - percentiles[i - 1]);
  return table[i - 1] + share * (table[i] - table[i - 1]);
}

}  // namespace

HandSize hand_at_percentile(HandSet set, double percentile) {
  const bool women = set == HandSet::women;
  HandSize size;
  size.length = quantile(women ? women_length : men_length, percentile);
  size.breadth = quantile(women ? women_breadth : men_breadth, percentile);
  return size;
}

HandSize in_millimetres(const PlayerHand& hand) {
  if (hand.percentile) return hand_at_percentile(hand.set.value_or(HandSet::women), *hand.percentile);
  require(hand.length.has_value(), "a hand has a length or a percentile");
  return {*hand.length, hand.breadth.value_or(breadth_share * *hand.length)};
}

}  // namespace culmwright
