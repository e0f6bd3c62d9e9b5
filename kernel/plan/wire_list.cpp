#include "plan/wire_list.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/words.hpp"
#include "plan/wire_ways.hpp"

namespace culmwright {

namespace {

constexpr double half = 0.5;           ///< pierced widths are rounded up to that
constexpr double whole_length = 10.0;  ///< wires are cut to whole centimetres
constexpr double bore_to_spare = 1.0;  ///< what a pierced node leaves of itself, on its diameter

double up_to(double value, double step) {
  return step * std::ceil(value / step - 1e-9);
}

std::string mm(double value) {
  return number_text(value, 3) + " mm";
}

class Planner {
 public:
  Planner(const Tube& tube, const Instrument& instrument, const Shop& shop)
      : tube_(tube), instrument_(instrument), shop_(shop), exits_(wire_exits(tube, instrument)) {}

  WireList plan() {
    std::vector<WireSource> sources = wire_sources(tube_, instrument_, shop_);
    for (const WireSource& source : sources) assign(source);
    find_nodes();
    refuse_wide_bundles();
    order_of_pulling();
    for (const WireRun& run : list_.runs) list_.total += run.wires * run.cut_to;
    return std::move(list_);
  }

 private:
  /// Nodes between two places, counted from end A.
  std::vector<int> between(double from, double to) const {
    const auto [low, high] = std::minmax(from, to);
    std::vector<int> numbers;
    for (std::size_t i = 0; i < tube_.nodes().size(); ++i) {
      const double at = tube_.nodes()[i].at();
      if (at > low && at < high) numbers.push_back(static_cast<int>(i) + 1);
    }
    if (from > to) std::reverse(numbers.begin(), numbers.end());
    return numbers;
  }

  const Node& node(int number) const { return tube_.nodes()[static_cast<std::size_t>(number) - 1]; }

  double end_at(End end) const {
    const auto [low, high] = std::minmax(instrument_.mouth_cut_at, instrument_.foot_cut_at);
    return end == End::a ? low : high;
  }
  double reach(int number, End end) const { return std::abs(node(number).at() - end_at(end)); }
  End nearer_end(int number) const {
    return reach(number, End::a) <= reach(number, End::b) ? End::a : End::b;
  }

  bool can_be_reached(int number) const {
    return reach(number, nearer_end(number)) <= shop_.wires.piercing_reach;
  }

  WireRun run_to(const WireSource& source, const WireExit& exit) const {
    const double out_at = exit.nearest(source.at);
    WireRun run;
    run.id = source.id;
    run.wires = source.wires;
    run.exit = exit.id;
    run.along = std::abs(source.at - out_at);
    run.nodes = between(source.at, out_at);
    const Angle off = exit.theta ? (*exit.theta - source.theta).normalized() : Angle();
    const double radius = 0.5 * bore_across(tube_, 0.5 * (source.at + out_at));
    run.way = source.wall + std::hypot(run.along, radius * off.radians()) + exit.wall;
    const Wiring& wires = shop_.wires;
    run.cut_to =
        up_to(run.way * (1.0 + wires.slack) + wires.spare_at_key + wires.spare_at_opening, whole_length);
    return run;
  }

  /// Of the exits it may take, those that its nodes allow; the least to pierce first, then the shortest.
  std::vector<WireRun> possible(const WireSource& source) const {
    std::vector<WireRun> runs;
    for (const WireExit& exit : exits_) {
      const bool an_end = !exit.theta;
      if (source.wanted ? exit.id != *source.wanted : an_end) continue;
      if (exit.across < bundle_ratio(source.wires) * shop_.wires.diameter) continue;
      WireRun run = run_to(source, exit);
      const bool free = std::all_of(run.nodes.begin(), run.nodes.end(), [&](int number) {
        return node(number).pierced_diameter || can_be_reached(number);
      });
      if (free) runs.push_back(std::move(run));
    }
    const auto whole = [&](const WireRun& run) {
      return std::count_if(run.nodes.begin(), run.nodes.end(),
                           [&](int number) { return !node(number).pierced_diameter; });
    };
    std::stable_sort(runs.begin(), runs.end(), [&](const WireRun& a, const WireRun& b) {
      const auto whole_a = whole(a), whole_b = whole(b);
      return whole_a != whole_b ? whole_a < whole_b : a.way < b.way;
    });
    return runs;
  }

  void assign(const WireSource& source) {
    const double own = bundle_ratio(source.wires) * shop_.wires.diameter;
    if (source.own_way > 0.0 && source.own_way < own) {
      return refuse(source.id, "its wire way is " + mm(source.own_way) + " wide, " +
                                   wires_text(source.wires) + " of " + mm(shop_.wires.diameter) + " need " +
                                   mm(up_to(own, 0.1)) + ": a wider wire_way, or thinner wires");
    }
    std::vector<WireRun> runs = possible(source);
    if (runs.empty()) return refuse(source.id, why_none(source));
    list_.runs.push_back(std::move(runs.front()));
  }

  static std::string wires_text(int count) {
    return count == 1 ? "one wire" : std::to_string(count) + " wires";
  }

  void refuse(const std::string& id, const std::string& why) {
    list_.refused.push_back({id, "no way for the wires of " + id + ": " + why});
  }

  std::string why_none(const WireSource& source) const {
    std::vector<std::string> openings;
    for (const WireExit& exit : exits_) {
      if (exit.theta) openings.push_back(exit.id);
    }
    const auto wanted = std::find_if(exits_.begin(), exits_.end(), [&](const WireExit& exit) {
      return source.wanted ? exit.id == *source.wanted : bool(exit.theta);
    });
    if (wanted == exits_.end()) {
      return source.wanted
                 ? "there is no opening " + *source.wanted + "; there is " +
                       (openings.empty() ? std::string("none") : listed(openings)) +
                       ", and the ends: mouth_end, foot_end"
                 : "the key layout has no opening: add a part of kind opening, or say \"wires_to\": "
                   "\"foot_end\"";
    }
    // The nearest of those it may take says what is in the way.
    const WireExit* nearest = nullptr;
    for (const WireExit& exit : exits_) {
      if (source.wanted ? exit.id != *source.wanted : !exit.theta) continue;
      if (nearest == nullptr || run_to(source, exit).way < run_to(source, *nearest).way) nearest = &exit;
    }
    const double own = bundle_ratio(source.wires) * shop_.wires.diameter;
    if (nearest->across < own) {
      return "opening " + nearest->id + " is " + mm(nearest->across) + " wide, " + wires_text(source.wires) +
             " need " + mm(own);
    }
    for (const int number : run_to(source, *nearest).nodes) {
      if (node(number).pierced_diameter || can_be_reached(number)) continue;
      return "on the way to " + nearest->id + " node " + std::to_string(number) + " is whole and lies " +
             fixed_text(reach(number, nearer_end(number)), 0) +
             " from the nearer end; what pierces nodes reaches " + number_text(shop_.wires.piercing_reach) +
             " (wires.piercing_reach of the shop): pierce it before the piece is cut, or give the key an "
             "opening on its own side of the node";
    }
    return "no opening can be reached";
  }

  int wires_through(int number) const {
    int count = 0;
    for (const WireRun& run : list_.runs) {
      if (std::find(run.nodes.begin(), run.nodes.end(), number) != run.nodes.end()) count += run.wires;
    }
    return count;
  }

  double bundle(int wires) const { return wires == 0 ? 0.0 : bundle_ratio(wires) * shop_.wires.diameter; }
  double wide_for(int wires) const { return up_to(bundle(wires) * shop_.wires.room, half); }

  /// Of the nodes between an end and that one, those that are whole or narrower than what has to pass.
  std::vector<int> on_the_way_in(int number, End end, double wide) const {
    std::vector<int> numbers;
    for (const int other : between(end_at(end), node(number).at())) {
      const auto& pierced = node(other).pierced_diameter;
      if (!pierced || *pierced < wide) numbers.push_back(other);
    }
    return numbers;
  }

  /// From the end with the fewest nodes to pierce for nothing, then the nearer one.
  End best_end(int number, double wide, const std::set<int>& needed) const {
    const auto cost = [&](End end) {
      const std::vector<int> way = on_the_way_in(number, end, wide);
      const auto extra = std::count_if(way.begin(), way.end(), [&](int n) { return needed.count(n) == 0; });
      const bool beyond = reach(number, end) > shop_.wires.piercing_reach;
      return std::make_pair(static_cast<double>(extra) + (beyond ? 1e6 : 0.0), reach(number, end));
    };
    return cost(End::a) <= cost(End::b) ? End::a : End::b;
  }

  void find_nodes() {
    std::set<int> needed;
    for (const WireRun& run : list_.runs) needed.insert(run.nodes.begin(), run.nodes.end());
    std::map<int, double> widths;
    for (const int number : needed) widths[number] = wide_for(wires_through(number));
    // What pierces a node goes through those before it.
    for (const int number : needed) {
      if (!has_work(number, widths[number])) continue;
      const End end = best_end(number, widths[number], needed);
      for (const int other : on_the_way_in(number, end, widths[number])) {
        widths[other] = std::max(widths[other], widths[number]);
      }
    }
    for (const auto& [number, wide] : widths) {
      const int wires = wires_through(number);
      const End end = best_end(number, wide, needed);
      list_.nodes.push_back({number, node(number).at(), wires, bundle(wires), wide,
                             node(number).pierced_diameter, has_work(number, wide), end, reach(number, end)});
    }
  }

  bool has_work(int number, double wide) const {
    const auto& pierced = node(number).pierced_diameter;
    return !pierced || *pierced < wide - 1e-9;
  }

  /// A bundle that the bore, a node in it or the opening cannot take: all its runs are refused.
  void refuse_wide_bundles() {
    std::set<std::string> gone;
    for (const WireNode& one : list_.nodes) {
      const double bore = bore_across(tube_, one.at);
      if (one.wide <= bore - bore_to_spare) continue;
      refuse_all(gone,
                 "node " + std::to_string(one.number) + " would have to be pierced to " + mm(one.wide) +
                     ", the bore is " + mm(bore) + " there: thinner wires, or a second opening",
                 [&](const WireRun& run) {
                   return std::find(run.nodes.begin(), run.nodes.end(), one.number) != run.nodes.end();
                 });
    }
    for (const WireExit& exit : exits_) {
      int wires = 0;
      for (const WireRun& run : list_.runs) wires += run.exit == exit.id ? run.wires : 0;
      if (wires == 0) continue;
      const double needed = bundle(wires);
      if (exit.across < needed) {
        refuse_all(gone,
                   "opening " + exit.id + " is " + mm(exit.across) + " wide, all its " + wires_text(wires) +
                       " together " + mm(needed) + ": a larger opening, or a second",
                   [&](const WireRun& run) { return run.exit == exit.id; });
      }
      for (const WireRun& run : list_.runs) {
        if (run.exit != exit.id || gone.count(run.id) > 0) continue;
        check_bore(gone, run, exit, needed);
      }
    }
    if (gone.empty()) return;
    auto& runs = list_.runs;
    runs.erase(
        std::remove_if(runs.begin(), runs.end(), [&](const WireRun& run) { return gone.count(run.id) > 0; }),
        runs.end());
    list_.nodes.clear();
    find_nodes();
  }

  void check_bore(std::set<std::string>& gone, const WireRun& run, const WireExit& exit, double needed) {
    double at = exit.nearest(0.5 * (exit.from_at + exit.to_at));
    for (const WireSource& source : wire_sources(tube_, instrument_, shop_)) {
      if (source.id == run.id) at = source.at;
    }
    const double bore = narrowest_bore(tube_, at, exit.nearest(at));
    if (bore >= needed) return;
    refuse_all(gone,
               "the bore narrows to " + mm(bore) + " on the way to " + exit.id + ", the wires together are " +
                   mm(needed),
               [&](const WireRun& other) { return other.id == run.id; });
  }

  template <class Which>
  void refuse_all(std::set<std::string>& gone, const std::string& why, const Which& which) {
    for (const WireRun& run : list_.runs) {
      if (which(run) && gone.insert(run.id).second) refuse(run.id, why);
    }
  }

  void order_of_pulling() {
    const auto place = [&](const std::string& id) {
      return std::find_if(exits_.begin(), exits_.end(), [&](const WireExit& exit) { return exit.id == id; });
    };
    std::stable_sort(list_.runs.begin(), list_.runs.end(), [&](const WireRun& a, const WireRun& b) {
      if (a.exit != b.exit) return place(a.exit) < place(b.exit);
      return a.along > b.along;
    });
  }

  const Tube& tube_;
  const Instrument& instrument_;
  const Shop& shop_;
  std::vector<WireExit> exits_;
  WireList list_;
};

}  // namespace

int wires_of(const Key& key) {
  if (key.wires) return *key.wires;
  if (key.cup == CupKind::switch_seat) return 2;
  const bool has_way = key.cup_shape && key.cup_shape->wire_way && *key.cup_shape->wire_way > 0.0;
  return key.cup == CupKind::touch_cap && has_way ? 1 : 0;
}

double bundle_ratio(int wires) {
  // Circles in a circle, from memory; the first thirteen in closed form, as 1 + 2/√3, 1 + √2, 2 + √5.
  constexpr double known[20] = {1.0,    2.0,    2.1547, 2.4143, 2.7014, 3.0,    3.0,
                                3.3048, 3.6132, 3.8131, 3.9239, 4.0297, 4.2361, 4.3285,
                                4.5214, 4.6155, 4.7921, 4.8638, 4.8638, 5.1224};
  if (wires <= 20) return known[std::max(wires, 1) - 1];
  return std::sqrt(wires / 0.7);
}

WireList plan_wires(const Tube& tube, const Instrument& instrument, const Shop& shop) {
  return Planner(tube, instrument, shop).plan();
}

}  // namespace culmwright
