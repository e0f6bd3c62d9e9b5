#include "plan/guide_cover.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/angle.hpp"
#include "plan/guide_plan.hpp"

namespace culmwright {

namespace {

constexpr long most_steps = 200000;  ///< of one count of guides
constexpr long pairs_per_step =
    64;  ///< judging a set looks at pairs of holes: so many take as long as a step
constexpr int most_measures = 1500;  ///< of one count of guides
constexpr int one_peg_points = 1;
constexpr int middle_stop_points = 2;
constexpr int sighting_points = 10;

double turn_between(double from, double to) {
  return std::remainder(to - from, 2.0 * pi);
}

/// As near as all holes allow to half way between the outermost of them.
double centre(const CoverTask& task, const std::vector<int>& holes, const Span& allowed) {
  const double first = task.holes[holes.front()].theta;
  double low = 0.0;
  double high = 0.0;
  for (const int i : holes) {
    const double off = turn_between(first, task.holes[i].theta);
    low = std::min(low, off);
    high = std::max(high, off);
  }
  return std::clamp(first + 0.5 * (low + high), allowed.from, allowed.to);
}

class CoverSearch {
 public:
  explicit CoverSearch(const CoverTask& task) : task_(task) {
    for (std::size_t i = 0; i < task.holes.size(); ++i) order_.push_back(static_cast<int>(i));
    std::stable_sort(order_.begin(), order_.end(),
                     [&](int a, int b) { return task.holes[a].at < task.holes[b].at; });
  }

  Cover run() {
    bool proven = true;
    for (most_ = fewest_possible(); !found_; ++most_) proven = search() && proven;
    if (best_.points >= sighting_points) proven = search_one_more() && proven;
    best_.proven = proven;
    return best_;
  }

 private:
  /// Sets of at most `most_` guides. False when it was cut short.
  bool search() {
    steps_ = 0;
    measured_ = 0;
    cut_short_ = false;
    add_hole(0);
    return !cut_short_;
  }

  /// One guide more, if fewer are then set by eye.
  bool search_one_more() {
    const Cover fewest = best_;
    const bool proven = search();  // most_ already stands one higher
    if (best_.points / sighting_points >= fewest.points / sighting_points) best_ = fewest;
    return proven;
  }

  /// Holes of which no two can be in one guide need a guide each.
  int fewest_possible() const {
    std::vector<int> alone;
    for (const int hole : order_) {
      const auto together = [&](int other) { return narrowed(group_of(other), hole).has_value(); };
      if (std::none_of(alone.begin(), alone.end(), together)) alone.push_back(hole);
    }
    return static_cast<int>(alone.size());
  }

  double length_at_least() const {
    double sum = 0.0;
    for (const Group& group : groups_) {
      sum += task_.holes[group.holes.back()].at - task_.holes[group.holes.front()].at + task_.ends;
    }
    return sum;
  }

  /// Holes of one guide, in order along, with the directions from which it may drill them all (as
  /// common_middles finds them, kept while the group grows).
  struct Group {
    std::vector<int> holes;
    Span middles;
  };
  Group group_of(int hole) const {
    const HoleToCover& only = task_.holes[hole];
    return {{hole}, {only.theta - only.reach, only.theta + only.reach}};
  }

  /// The middles that are left when a later hole joins; nothing where it cannot.
  std::optional<Span> narrowed(const Group& group, int hole) const {
    const HoleToCover& more = task_.holes[hole];
    const HoleToCover& first = task_.holes[group.holes.front()];
    if (more.at - first.at > task_.longest) return {};
    const auto apart = [&](int other) { return task_.apart[hole][other]; };
    if (std::any_of(group.holes.begin(), group.holes.end(), apart)) return {};
    const double theta = first.theta + turn_between(first.theta, more.theta);
    const Span left{std::max(group.middles.from, theta - more.reach),
                    std::min(group.middles.to, theta + more.reach)};
    if (left.from > left.to + 1e-12) return {};
    return left;
  }

  void add_hole(std::size_t index) {
    if (++steps_ > most_steps) cut_short_ = true;
    if (cut_short_) return;
    if (found_ && best_.points == 0 && length_at_least() >= best_.length - 1e-9) return;
    if (index == order_.size()) return judge();
    const int hole = order_[index];
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      const auto middles = narrowed(groups_[g], hole);
      if (!middles) continue;
      const Span before = groups_[g].middles;
      groups_[g].middles = *middles;
      groups_[g].holes.push_back(hole);
      add_hole(index + 1);
      groups_[g].holes.pop_back();
      groups_[g].middles = before;
    }
    if (static_cast<int>(groups_.size()) >= most_) return;
    groups_.push_back(group_of(hole));
    add_hole(index + 1);
    groups_.pop_back();
  }

  const GuideMeasure& measured(const HoleGroup& group) {
    const auto known = measures_.find(group.holes);
    if (known != measures_.end()) return known->second;
    if (++measured_ > most_measures && found_) cut_short_ = true;
    return measures_.emplace(group.holes, task_.measure(group)).first->second;
  }

  void judge() {
    const long holes_in_all = static_cast<long>(order_.size());
    steps_ += holes_in_all * holes_in_all / pairs_per_step;
    Cover cover;
    std::vector<GuideMeasure> measures;
    for (const Group& group : groups_) {
      const std::vector<int>& holes = group.holes;
      cover.guides.push_back({centre(task_, holes, *common_middles(task_, holes, {})), holes});
      measures.push_back(measured(cover.guides.back()));
      if (!measures.back().feasible) return;
      cover.length += measures.back().length;
    }
    cover.points = points_of(task_, cover.guides, measures);
    const bool better = !found_ || cover.points < best_.points ||
                        (cover.points == best_.points && cover.length < best_.length - 1e-9);
    if (!better) return;
    found_ = true;
    best_ = std::move(cover);
  }

  const CoverTask& task_;
  std::vector<int> order_;
  std::vector<Group> groups_;
  std::map<std::vector<int>, GuideMeasure> measures_;
  Cover best_;
  bool found_ = false;
  bool cut_short_ = false;
  int most_ = 0;
  long steps_ = 0;
  int measured_ = 0;
};

}  // namespace

std::optional<Span> common_middles(const CoverTask& task, const std::vector<int>& drilled,
                                   const std::vector<int>& pegs) {
  const double first = task.holes[drilled.front()].theta;
  Span middles{-1e300, 1e300};
  Span at{1e300, -1e300};
  const auto narrow = [&](const HoleToCover& hole, double reach) {
    const double theta = first + turn_between(first, hole.theta);
    middles = {std::max(middles.from, theta - reach), std::min(middles.to, theta + reach)};
    at = {std::min(at.from, hole.at), std::max(at.to, hole.at)};
  };
  for (const int i : drilled) narrow(task.holes[i], task.holes[i].reach);
  for (const int i : pegs) narrow(task.holes[i], task.holes[i].peg_reach);
  const double longest = pegs.empty() ? task.longest : task.longest_pegged;
  if (middles.from > middles.to + 1e-12 || at.length() > longest) return {};
  return Span{middles.from, std::max(middles.from, middles.to)};
}

std::vector<std::vector<int>> peg_choices(const CoverTask& task, const HoleGroup& group,
                                          const std::vector<int>& drilled_before) {
  struct Choice {
    std::vector<int> pegs;
    double merit;
  };
  std::vector<Choice> pairs;
  std::vector<Choice> single;
  for (std::size_t a = 0; a < drilled_before.size(); ++a) {
    const int first = drilled_before[a];
    if (!common_middles(task, group.holes, {first})) continue;
    single.push_back({{first}, -std::abs(turn_between(group.middle, task.holes[first].theta))});
    for (std::size_t b = a + 1; b < drilled_before.size(); ++b) {
      const int second = drilled_before[b];
      const double apart = std::abs(task.holes[first].at - task.holes[second].at);
      if (apart < guide_sizes::least_pegs_apart || !common_middles(task, group.holes, {first, second}))
        continue;
      pairs.push_back({{first, second}, apart});
    }
  }
  std::vector<std::vector<int>> choices;
  for (std::vector<Choice>* some : {&pairs, &single}) {
    std::stable_sort(some->begin(), some->end(),
                     [](const Choice& a, const Choice& b) { return a.merit > b.merit + 1e-9; });
    for (Choice& choice : *some) choices.push_back(std::move(choice.pegs));
  }
  return choices;
}

int points_of(const CoverTask& task, const std::vector<HoleGroup>& guides,
              const std::vector<GuideMeasure>& measures) {
  std::vector<int> drilled;
  std::vector<bool> set(guides.size(), false);
  int points = 0;
  const auto settle = [&](std::size_t i, int cost) {
    set[i] = true;
    points += cost;
    drilled.insert(drilled.end(), guides[i].holes.begin(), guides[i].holes.end());
  };
  for (std::size_t i = 0; i < guides.size(); ++i) {
    points += measures[i].straps_missing;
    if (measures[i].stop_on_line) settle(i, 0);
  }
  for (std::size_t turn = 0; turn < guides.size(); ++turn) {
    int least = sighting_points + 1;
    std::size_t next = 0;
    for (std::size_t i = 0; i < guides.size(); ++i) {
      if (set[i]) continue;
      const auto pegs = peg_choices(task, guides[i], drilled);
      int cost = measures[i].stop_on_middle ? middle_stop_points : sighting_points;
      if (!pegs.empty()) cost = pegs.front().size() == 2 ? 0 : one_peg_points;
      if (cost >= least) continue;
      least = cost;
      next = i;
    }
    if (least > sighting_points) break;
    settle(next, least);
  }
  return points;
}

Cover cover_holes(const CoverTask& task) {
  if (task.holes.empty()) return {};
  return CoverSearch(task).run();
}

}  // namespace culmwright
