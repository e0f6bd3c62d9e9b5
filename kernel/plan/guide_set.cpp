/// The set of guides for one instrument: which hole goes where, and which guide is drilled first.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/problem.hpp"
#include "base/words.hpp"
#include "plan/guide_cover.hpp"
#include "plan/guide_parts.hpp"

namespace culmwright {

using namespace guide_sizes;
using namespace guide_parts;

namespace {

constexpr double least_saddle_wall = 2.0;       ///< leaves 1.2 under the engraving and under a strap
constexpr double stop_angle_wanted_deg = 33.0;  ///< a little within what a stop on the line allows
constexpr int most_replans = 12;
constexpr int most_peg_trials = 24;

double theta_of(const GuideBoss& boss) {
  return std::atan2(boss.drilling.axis.y, boss.drilling.axis.x);
}

class SetPlanner {
 public:
  SetPlanner(const Tube& tube, const Instrument& instrument, const Shop& shop)
      : tube_(tube), base_(smooth_tube(tube)), instrument_(instrument), shop_(shop) {
    for (const PlacedKey& key : instrument.keys) {
      if (!key.drilled) holes_.push_back(guide_hole(key, shop));
    }
    for (const PlacedPart& part : instrument.parts) {
      if (part.part.kind != PartKind::opening || part.drilled) continue;
      for (GuideHole& corner : corner_holes(tube, part, shop)) holes_.push_back(std::move(corner));
    }
    to_drill_ = holes_.size();
    for (const PlacedKey& key : instrument.keys) {
      if (!key.drilled) continue;
      facts_[static_cast<int>(holes_.size())] = &*key.drilled;
      holes_.push_back(guide_hole(key, shop));
    }
    make_task();
  }

  std::vector<GuidePlan> plan() {
    if (to_drill_ == 0) return {};
    require_each_alone();
    // What is drilled already needs no guide; it only takes pegs.
    CoverTask to_cover = task_;
    to_cover.holes.resize(to_drill_);
    for (int i = 0;; ++i) {
      std::vector<GuidePlan> plans;
      const Cover cover = cover_holes(to_cover);
      if (!plan_in_order(cover.guides, i == most_replans, plans)) continue;
      if (!cover.proven) plans.front().notes.push_back(unproven_note(cover));
      return plans;
    }
  }

 private:
  static std::string unproven_note(const Cover& cover) {
    const std::string count = std::to_string(cover.guides.size());
    if (cover.at_least == static_cast<int>(cover.guides.size())) {
      return "fewer than " + count +
             " guides will not do; but there are too many holes to try every way of dividing them, and "
             "another "
             "may be set better or be shorter";
    }
    return "there are too many holes to try every way of dividing them among guides: these are " + count +
           ", and at least " + std::to_string(cover.at_least) + " are needed";
  }

  void make_task() {
    const double level = outer_level(shop_);
    double widest = 0.0;
    for (const GuideHole& hole : holes_) {
      const GuidePeg peg = peg_of(static_cast<int>(task_.holes.size()));
      task_.holes.push_back(
          {theta_of(hole), reach_of(hole, level), reach_of(peg, level), -hole.drilling.point.z});
      widest = std::max(widest, hole.boss_radius);
      std::vector<bool> row;
      // An opening's corners have guides of their own: no key's guide is the worse for them.
      for (const GuideHole& other : holes_) {
        row.push_back(hole.corner_of != other.corner_of || !bosses_clear(hole, other, level));
      }
      task_.apart.push_back(row);
    }
    const double bed = longest_on_bed(shop_.printer, saddle_width(base_, shop_));
    task_.ends = 2.0 * (widest + stop_margin);
    task_.longest = bed - task_.ends;
    task_.longest_pegged = task_.longest;
    task_.longest_guide = bed;
    if (task_.longest < 2.0 * pad_length) {
      throw GeometryError("guides", "cutting to the bed",
                          "a bed of " + number_text(bed + 2.0 * bed_margin) +
                              " takes no guide; it needs at least " +
                              number_text(bed + 2.0 * bed_margin - task_.longest + 2.0 * pad_length));
    }
    task_.measure = [this](const HoleGroup& group) { return measure(group); };
  }

  /// Into a pilot hole, or into a finished one as wide as that came out.
  GuidePeg peg_of(int hole) const {
    const auto by = drilled_by_.find(hole);
    GuidePeg peg = guide_peg(holes_[hole], shop_, by == drilled_by_.end() ? "" : by->second);
    const auto fact = facts_.find(hole);
    if (fact == facts_.end()) return peg;
    const double wider = 0.5 * (fact->second->least_across() - peg.diameter);
    peg.diameter += 2.0 * wider;
    peg.bore_radius += wider;
    peg.boss_radius += wider;
    return peg;
  }

  Job job_for(const HoleGroup& group, int number) const {
    Job job{tube_, base_, instrument_, shop_, number, middle_of(group), {}};
    for (const int i : group.holes) job.holes.push_back(holes_[i]);
    return job;
  }

  /// Turned toward the reference line where an end is near, as far as its holes allow: a stop on the line
  /// is true for any end.
  double middle_of(const HoleGroup& group) const {
    const Span allowed = *common_middles(task_, group.holes, {});
    const double line = std::remainder(
        base_.section(task_.holes[group.holes.front()].at).line().radians() - group.middle, 2.0 * pi);
    const double wanted = stop_angle_wanted_deg * pi / 180.0;
    if (std::abs(line) <= wanted) return group.middle;
    const double turn = line - std::copysign(wanted, line);
    const double middle = std::clamp(group.middle + turn, allowed.from, allowed.to);
    return std::abs(middle - group.middle - turn) < 1e-9 ? middle : group.middle;
  }

  /// The same group always has the same middle.
  GuideMeasure measure(const HoleGroup& group) {
    if (refused_.count(group.holes) > 0) return {};
    const auto known = measures_.find(group.holes);
    if (known != measures_.end()) return known->second;
    return measures_.emplace(group.holes, measured(group)).first->second;
  }

  GuideMeasure measured(const HoleGroup& group) const {
    try {
      const Arrangement arranged = arrange(job_for(group, 0));
      return {true,
              arranged.at.length(),
              arranged.stop.kind == StopKind::end_on_line,
              arranged.stop.kind == StopKind::end_on_middle,
              static_cast<int>(arranged.without_strap.size()),
              arranged.at};
    } catch (const GeometryError&) {
      return {};
    }
  }

  /// A hole that no guide can drill stops the planning by its own name.
  void require_each_alone() const {
    for (std::size_t i = 0; i < to_drill_; ++i) {
      try {
        const int hole = static_cast<int>(i);
        arrange(job_for({task_.holes[i].theta, {hole}}, 0));
      } catch (const GeometryError& error) {
        throw GeometryError("a guide for " + holes_[i].id, "pads", error.what());
      }
    }
  }

  /// False: one of them could not be laid out, and is now known to be refused.
  bool plan_in_order(std::vector<HoleGroup> guides, bool last_try, std::vector<GuidePlan>& plans) {
    drilled_.clear();
    drilled_by_.clear();
    jobs_.clear();
    for (const auto& [hole, fact] : facts_) drilled_.push_back(hole);
    while (!guides.empty()) {
      const std::size_t next = next_of(guides, plans);
      const HoleGroup group = guides[next];
      try {
        plan_next(group, plans);
      } catch (const GeometryError&) {
        if (last_try || group.holes.size() == 1) throw;
        refused_.insert(group.holes);
        return false;
      }
      for (const int hole : group.holes) {
        drilled_.push_back(hole);
        drilled_by_[hole] = plans.back().name;
      }
      guides.erase(guides.begin() + static_cast<std::ptrdiff_t>(next));
    }
    return true;
  }

  /// The guide that can be set best now: a stop on the line, two pegs, a joint, one peg, a stop elsewhere,
  /// windows; of equals the one nearest to the front, then the one nearest to end A.
  std::size_t next_of(const std::vector<HoleGroup>& guides, const std::vector<GuidePlan>& plans) {
    std::size_t best = 0;
    double least = 1e300;
    for (std::size_t i = 0; i < guides.size(); ++i) {
      const double front =
          std::abs(std::remainder(guides[i].middle - instrument_.facing.radians(), 2.0 * pi));
      const double merit =
          100.0 * rank_of(guides[i], plans) + front + 1e-4 * task_.holes[guides[i].holes.front()].at;
      if (merit >= least) continue;
      least = merit;
      best = i;
    }
    return best;
  }

  int rank_of(const HoleGroup& group, const std::vector<GuidePlan>& plans) {
    const GuideMeasure measured = measure(group);
    if (measured.stop_on_line) return 0;
    const auto choices = peg_choices(task_, group, drilled_);
    if (!choices.empty() && choices.front().size() == 2) return 1;
    const bool joined = std::any_of(plans.begin(), plans.end(), [&](const GuidePlan& host) {
      return measured.at && joint_place(job_for(group, 0), *measured.at, host).has_value();
    });
    if (joined) return 2;
    if (!choices.empty()) return 3;
    return measured.stop_on_middle ? 4 : 5;
  }

  /// Adds the guide for a group; one that it locks to is laid out anew with its notch.
  void plan_next(const HoleGroup& group, std::vector<GuidePlan>& plans) {
    const int number = static_cast<int>(plans.size()) + 1;
    if (measure(group).stop_on_line) return add(job_for(group, number), plans);
    int trials = 0;
    bool joints_tried = false;
    for (const std::vector<int>& pegs : peg_choices(task_, group, drilled_)) {
      if (pegs.size() == 1 && !joints_tried && add_joined(group, number, plans)) return;
      joints_tried = joints_tried || pegs.size() == 1;
      if (++trials > most_peg_trials) break;
      if (add_pegged(group, pegs, number, plans)) return;
    }
    if (!joints_tried && add_joined(group, number, plans)) return;
    add(job_for(group, number), plans);
  }

  void add(const Job& job, std::vector<GuidePlan>& plans) {
    plans.push_back(lay_out(job));
    jobs_.push_back(job);
  }
  bool try_add(const Job& job, std::vector<GuidePlan>& plans) {
    try {
      add(job, plans);
      return true;
    } catch (const GeometryError&) {
      return false;
    }
  }

  /// Onto the guide that leaves the shortest gap.
  bool add_joined(const HoleGroup& group, int number, std::vector<GuidePlan>& plans) {
    const std::optional<Span> alone = measure(group).at;
    if (!alone) return false;
    std::vector<std::pair<double, std::size_t>> hosts;
    for (std::size_t i = 0; i < plans.size(); ++i) {
      hosts.push_back({std::max(alone->from - plans[i].at.to, plans[i].at.from - alone->to), i});
    }
    std::sort(hosts.begin(), hosts.end());
    return std::any_of(hosts.begin(), hosts.end(), [&](const auto& host) {
      return host.first >= 0.0 && add_joined(job_for(group, number), *alone, host.second, plans);
    });
  }

  bool add_joined(Job job, const Span& alone, std::size_t host, std::vector<GuidePlan>& plans) {
    const auto place = joint_place(job, alone, plans[host]);
    if (!place) return false;
    Job with_notch = jobs_[host];
    with_notch.joints.push_back(place->notch);
    job.joints.push_back(place->tongue);
    try {
      GuidePlan notched = lay_out(with_notch);
      add(job, plans);
      plans[host] = std::move(notched);
    } catch (const GeometryError&) {
      return false;
    }
    jobs_[host].joints = with_notch.joints;
    return true;
  }

  bool add_pegged(const HoleGroup& group, const std::vector<int>& pegs, int number,
                  std::vector<GuidePlan>& plans) {
    Job job = job_for(group, number);
    const Span middles = *common_middles(task_, group.holes, pegs);
    const double turned = middles.middle() + std::remainder(group.middle - middles.middle(), 2.0 * pi);
    job.middle = std::clamp(turned, middles.from, middles.to);
    const double level = outer_level(shop_);
    for (const int i : pegs) {
      job.pegs.push_back(peg_of(i));
      for (const GuideHole& hole : job.holes) {
        if (!bosses_clear(job.pegs.back(), hole, level)) return false;
      }
    }
    if (pegs.size() == 2 && !bosses_clear(job.pegs[0], job.pegs[1], level)) return false;
    return try_add(job, plans);
  }

  const Tube& tube_;
  Tube base_;
  const Instrument& instrument_;
  const Shop& shop_;
  std::vector<GuideHole> holes_;  ///< to be drilled, then those that are
  std::size_t to_drill_ = 0;
  std::map<int, const DrilledHole*> facts_;  ///< by index of holes_
  CoverTask task_;
  std::set<std::vector<int>> refused_;
  std::map<std::vector<int>, GuideMeasure> measures_;
  std::vector<Job> jobs_;  ///< of the guides planned so far
  std::vector<int> drilled_;
  std::map<int, std::string> drilled_by_;
};

}  // namespace

std::vector<GuidePlan> plan_guides(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  if (shop.saddle_wall < least_saddle_wall || shop.boss_wall < least_wall) {
    throw GeometryError("guides", "walls",
                        "a saddle wall of " + number_text(shop.saddle_wall) + " and a boss wall of " +
                            number_text(shop.boss_wall) + "; at least " + number_text(least_saddle_wall) +
                            " and " + number_text(least_wall) + " are needed");
  }
  return SetPlanner(tube, instrument, shop).plan();
}

}  // namespace culmwright
