#include "plan/guide_cover.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "base/angle.hpp"
#include "plan/guide_companions.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright {

namespace {

constexpr long most_tries = 20000000;  ///< of holes in groups, for one count of guides
/// Judging a set looks at its guides and their pegs: that takes as long as so many tries for a hole.
constexpr long tries_per_hole = 8;
constexpr int most_measures = 4000;  ///< of one count of guides
constexpr int one_peg_points = 1;
constexpr int joint_points = 1;
constexpr int middle_stop_points = 2;
constexpr int sighting_points = 10;

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
  explicit CoverSearch(const CoverTask& task) : task_(task), companions_(task), order_(companions_.order()) {}

  Cover run() {
    int at_least = companions_.fewest();
    bool proven = true;
    for (most_ = at_least; !found_; ++most_) {
      const bool complete = search();
      proven = proven && complete;
      if (found_) break;
      if (proven) at_least = most_ + 1;
      if (complete) continue;
      take_promising();
      // What was taken for want of a complete search may be bettered among as many guides.
      most_ = static_cast<int>(best_.guides.size());
      search();
    }
    most_ = static_cast<int>(best_.guides.size());
    best_.proven = proven;
    best_.at_least = std::min(at_least, static_cast<int>(best_.guides.size()));
    if (best_.points >= sighting_points) search_one_more();
    return best_;
  }

 private:
  /// Sets of at most `most_` guides. False when it was cut short.
  bool search() {
    tries_ = 0;
    measured_ = 0;
    cut_short_ = false;
    add_hole(0);
    return !cut_short_;
  }

  /// One guide more, if fewer are then set by eye.
  void search_one_more() {
    const Cover fewest = best_;
    by_count_ = false;
    ++most_;
    const bool complete = search();
    if (best_.points / sighting_points >= fewest.points / sighting_points) best_ = fewest;
    best_.proven = fewest.proven && complete;
    best_.at_least = fewest.at_least;
  }

  double length_at_least() const {
    double sum = 0.0;
    for (const OpenGroup& group : groups_) {
      sum += task_.holes[group.holes.back()].at - task_.holes[group.holes.front()].at + task_.ends;
    }
    return sum;
  }

  /// Whether no set that goes on from here can be wanted.
  bool hopeless() const {
    const int count = static_cast<int>(groups_.size());
    if (count > 0 && count + companions_.fewest_beyond(groups_.back().holes.front()) > most_) return true;
    return found_ && best_.points == 0 && length_at_least() >= best_.length - 1e-9;
  }

  void add_hole(std::size_t index) {
    tries_ += 1 + static_cast<long>(groups_.size());
    if (tries_ > most_tries) cut_short_ = true;
    if (cut_short_ || hopeless()) return;
    if (index == order_.size()) return judge(groups_);
    const int hole = order_[index];
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      const auto middles = companions_.narrowed(groups_[g], hole);
      if (!middles) continue;
      const Span before = groups_[g].middles;
      groups_[g].middles = *middles;
      groups_[g].holes.push_back(hole);
      add_hole(index + 1);
      groups_[g].holes.pop_back();
      groups_[g].middles = before;
    }
    if (static_cast<int>(groups_.size()) >= most_) return;
    groups_.push_back(companions_.group_of(hole));
    add_hole(index + 1);
    groups_.pop_back();
  }

  /// For want of a complete search: sets built up along the tube, or, where none of those can be laid out,
  /// one whose every group could.
  void take_promising() {
    for (const std::vector<OpenGroup>& set : promising_sets(companions_)) judge(set);
    if (!found_) judge(laid_out_one_by_one());
  }

  std::vector<OpenGroup> laid_out_one_by_one() {
    std::vector<OpenGroup> groups;
    for (const int hole : order_) {
      const auto joined = std::any_of(groups.begin(), groups.end(), [&](OpenGroup& group) {
        const auto middles = companions_.narrowed(group, hole);
        if (!middles) return false;
        OpenGroup more{group.holes, *middles};
        more.holes.push_back(hole);
        if (!measured(placed(more)).feasible) return false;
        group = std::move(more);
        return true;
      });
      if (!joined) groups.push_back(companions_.group_of(hole));
    }
    return groups;
  }

  HoleGroup placed(const OpenGroup& group) const {
    return {centre(task_, group.holes, *common_middles(task_, group.holes, {})), group.holes};
  }

  const GuideMeasure& measured(const HoleGroup& group) {
    const auto known = measures_.find(group.holes);
    if (known != measures_.end()) return known->second;
    if (++measured_ > most_measures) cut_short_ = true;
    return measures_.emplace(group.holes, task_.measure(group)).first->second;
  }

  /// Whether a set with no more points and this length would be taken.
  bool better(std::size_t guides, int points, double length) const {
    if (!found_) return true;
    if (by_count_ && guides != best_.guides.size()) return guides < best_.guides.size();
    return points < best_.points || (points == best_.points && length < best_.length - 1e-9);
  }

  void judge(const std::vector<OpenGroup>& groups) {
    tries_ += tries_per_hole * static_cast<long>(order_.size());
    Cover cover;
    std::vector<GuideMeasure> measures;
    int straps_missing = 0;
    for (const OpenGroup& group : groups) {
      cover.guides.push_back(placed(group));
      measures.push_back(measured(cover.guides.back()));
      if (!measures.back().feasible) return;
      cover.length += measures.back().length;
      straps_missing += measures.back().straps_missing;
    }
    if (!better(groups.size(), straps_missing, cover.length)) return;
    cover.points = points_of(task_, cover.guides, measures);
    if (!better(groups.size(), cover.points, cover.length)) return;
    found_ = true;
    best_ = std::move(cover);
  }

  const CoverTask& task_;
  Companions companions_;
  const std::vector<int>& order_;
  std::vector<OpenGroup> groups_;
  std::map<std::vector<int>, GuideMeasure> measures_;
  Cover best_;
  bool found_ = false;
  bool by_count_ = true;  ///< fewer guides are better than fewer points
  bool cut_short_ = false;
  int most_ = 0;
  long tries_ = 0;
  int measured_ = 0;
};

/// The directions and the stretch of tube of a guide as pegs join it.
class PegWindow {
 public:
  PegWindow(const CoverTask& task, const HoleGroup& group) : task_(task) {
    first_ = task.holes[group.holes.front()].theta;
    for (const int i : group.holes) narrow(task.holes[i], task.holes[i].reach);
  }
  /// With one peg more; nothing where the guide cannot have it.
  std::optional<PegWindow> with(int peg) const {
    PegWindow more = *this;
    more.narrow(task_.get().holes[peg], task_.get().holes[peg].peg_reach);
    if (more.middles_.from > more.middles_.to + 1e-12) return {};
    if (more.at_.length() > task_.get().longest_pegged) return {};
    return more;
  }

 private:
  void narrow(const HoleToCover& hole, double reach) {
    const double theta = first_ + turn_between(first_, hole.theta);
    middles_ = {std::max(middles_.from, theta - reach), std::min(middles_.to, theta + reach)};
    at_ = {std::min(at_.from, hole.at), std::max(at_.to, hole.at)};
  }

  std::reference_wrapper<const CoverTask> task_;
  double first_ = 0.0;
  Span middles_{-1e300, 1e300};
  Span at_{1e300, -1e300};
};

struct Reachable {
  int hole;
  PegWindow with_it;
};

/// Of holes drilled before, those that a guide can peg into one at a time.
std::vector<Reachable> reachable(const CoverTask& task, const HoleGroup& group,
                                 const std::vector<int>& drilled_before) {
  const PegWindow alone(task, group);
  std::vector<Reachable> found;
  for (const int hole : drilled_before) {
    if (auto window = alone.with(hole)) found.push_back({hole, *window});
  }
  return found;
}

bool pegs_pair(const CoverTask& task, const Reachable& one, const Reachable& other) {
  const double apart = std::abs(task.holes[one.hole].at - task.holes[other.hole].at);
  return apart >= guide_sizes::least_pegs_apart && one.with_it.with(other.hole).has_value();
}

/// Whether a guide can be drawn out to the end of one of those that are set, to lock onto it.
bool reaches_another(const CoverTask& task, const std::vector<HoleGroup>& guides,
                     const std::vector<GuideMeasure>& measures, const std::vector<bool>& set, std::size_t i) {
  if (!measures[i].at) return false;
  for (std::size_t k = 0; k < guides.size(); ++k) {
    if (!set[k] || !measures[k].at) continue;
    const Span& own = *measures[i].at;
    const Span& other = *measures[k].at;
    if (!guide_parts::may_join(turn_between(guides[i].middle, guides[k].middle), own, other)) continue;
    const double drawn_out = std::max(own.to, other.from) - std::min(own.from, other.to);
    if (drawn_out + guide_sizes::tongue_length <= task.longest_guide) return true;
  }
  return false;
}

/// How many pegs, of two, a guide can have.
int pegs_for(const CoverTask& task, const HoleGroup& group, const std::vector<int>& drilled_before) {
  const std::vector<Reachable> single = reachable(task, group, drilled_before);
  for (std::size_t a = 0; a < single.size(); ++a) {
    for (std::size_t b = a + 1; b < single.size(); ++b) {
      if (pegs_pair(task, single[a], single[b])) return 2;
    }
  }
  return single.empty() ? 0 : 1;
}

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
  const std::vector<Reachable> found = reachable(task, group, drilled_before);
  for (std::size_t a = 0; a < found.size(); ++a) {
    const int first = found[a].hole;
    single.push_back({{first}, -std::abs(turn_between(group.middle, task.holes[first].theta))});
    for (std::size_t b = a + 1; b < found.size(); ++b) {
      if (!pegs_pair(task, found[a], found[b])) continue;
      const int second = found[b].hole;
      pairs.push_back({{first, second}, std::abs(task.holes[first].at - task.holes[second].at)});
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
      const int pegs = pegs_for(task, guides[i], drilled);
      int cost = measures[i].stop_on_middle ? middle_stop_points : sighting_points;
      if (cost > joint_points && reaches_another(task, guides, measures, set, i)) cost = joint_points;
      if (pegs > 0) cost = pegs == 2 ? 0 : one_peg_points;
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
