#include "plan/guide_companions.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace culmwright {

namespace {

constexpr std::size_t most_kept = 40;
constexpr std::size_t most_starts = 24;  ///< from which holes that exclude each other are gathered

}  // namespace

double turn_between(double from, double to) {
  return std::remainder(to - from, 2.0 * pi);
}

Companions::Companions(const CoverTask& task) : task_(task), count_(task.holes.size()) {
  for (std::size_t i = 0; i < count_; ++i) order_.push_back(static_cast<int>(i));
  std::stable_sort(order_.begin(), order_.end(),
                   [&](int a, int b) { return task.holes[a].at < task.holes[b].at; });
  turns_.reserve(count_ * count_);
  for (const HoleToCover& from : task.holes) {
    for (const HoleToCover& to : task.holes) turns_.push_back(turn_between(from.theta, to.theta));
  }
  find_pairs();
  find_bounds();
}

OpenGroup Companions::group_of(int hole) const {
  const HoleToCover& only = task_.holes[hole];
  return {{hole}, {only.theta - only.reach, only.theta + only.reach}};
}

std::optional<Span> Companions::narrowed(const OpenGroup& group, int hole) const {
  const HoleToCover& more = task_.holes[hole];
  const int first = group.holes.front();
  if (more.at - task_.holes[first].at > task_.longest) return {};
  const double theta = task_.holes[first].theta + turns_[first * count_ + hole];
  const Span left{std::max(group.middles.from, theta - more.reach),
                  std::min(group.middles.to, theta + more.reach)};
  if (left.from > left.to + 1e-12) return {};
  const std::vector<bool>& apart = task_.apart[hole];
  for (const int other : group.holes) {
    if (apart[other]) return {};
  }
  return left;
}

int Companions::fewest() const {
  std::size_t most = 0;
  const std::size_t step = std::max<std::size_t>(1, count_ / most_starts);
  for (std::size_t start = 0; start < count_; start += step) {
    std::vector<int> alone{order_[start]};
    add_alone(0, alone);
    most = std::max(most, alone.size());
  }
  return static_cast<int>(most);
}

void Companions::add_alone(std::size_t from, std::vector<int>& alone) const {
  for (std::size_t i = from; i < count_; ++i) {
    const char* together = &together_[order_[i] * count_];
    if (std::none_of(alone.begin(), alone.end(), [&](int other) { return together[other]; })) {
      alone.push_back(order_[i]);
    }
  }
}

void Companions::find_pairs() {
  together_.assign(count_ * count_, 1);
  for (std::size_t i = 0; i < count_; ++i) {
    const OpenGroup first = group_of(order_[i]);
    for (std::size_t k = i + 1; k < count_; ++k) {
      const int a = order_[i];
      const int b = order_[k];
      together_[a * count_ + b] = together_[b * count_ + a] = narrowed(first, b).has_value();
    }
  }
}

void Companions::find_bounds() {
  std::vector<int> from(count_ + 1, 0);
  for (std::size_t i = count_; i-- > 0;) {
    std::vector<int> alone;
    add_alone(i, alone);
    from[i] = std::max(from[i + 1], static_cast<int>(alone.size()));
  }
  beyond_.assign(count_, 0);
  for (const int hole : order_) {
    const double end = task_.holes[hole].at + task_.longest;
    const auto first =
        std::find_if(order_.begin(), order_.end(), [&](int other) { return task_.holes[other].at > end; });
    beyond_[hole] = from[first - order_.begin()];
  }
}

std::vector<std::vector<OpenGroup>> promising_sets(const Companions& companions) {
  struct Partial {
    std::vector<OpenGroup> groups;
    double freedom = 0.0;  ///< how far the middles of its groups may still move
  };
  std::vector<Partial> kept(1);
  for (const int hole : companions.order()) {
    std::vector<Partial> next;
    for (const Partial& partial : kept) {
      for (std::size_t g = 0; g < partial.groups.size(); ++g) {
        const auto middles = companions.narrowed(partial.groups[g], hole);
        if (!middles) continue;
        next.push_back(partial);
        OpenGroup& joined = next.back().groups[g];
        next.back().freedom += middles->length() - joined.middles.length();
        joined.middles = *middles;
        joined.holes.push_back(hole);
      }
      next.push_back(partial);
      next.back().groups.push_back(companions.group_of(hole));
      next.back().freedom += next.back().groups.back().middles.length();
    }
    // More guides have more freedom: the count goes first.
    std::stable_sort(next.begin(), next.end(), [](const Partial& a, const Partial& b) {
      if (a.groups.size() != b.groups.size()) return a.groups.size() < b.groups.size();
      return a.freedom > b.freedom + 1e-9;
    });
    if (next.size() > most_kept) next.resize(most_kept);
    kept = std::move(next);
  }
  std::vector<std::vector<OpenGroup>> sets;
  for (Partial& partial : kept) sets.push_back(std::move(partial.groups));
  return sets;
}

}  // namespace culmwright
