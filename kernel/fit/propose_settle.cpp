#include "fit/propose_settle.hpp"

#include <algorithm>
#include <cmath>

#include "fit/frame.hpp"
#include "fit/propose_score.hpp"

namespace culmwright {

namespace {

constexpr double far = 1e6;

double step_for(double reach, bool fine) {
  return std::max(fine ? 0.02 : 0.25, 2.0 * reach / 390.0);
}

bool holds(const std::vector<Stretch>& stretches, double z) {
  return std::any_of(stretches.begin(), stretches.end(),
                     [z](const Stretch& s) { return z > s.from + 1e-9 && z < s.to - 1e-9; });
}

std::vector<Stretch> stretches_of(const std::vector<Keepout>& keepouts) {
  std::vector<Stretch> list;
  for (const Keepout& k : keepouts) list.push_back({k.from, k.to});
  return list;
}

/// Neither order, or the one that the leeway lets the two take.
int order_within(int order, double gap, double reach, double distance) {
  if (order != 0) return order;
  const bool a_first = gap + reach >= distance;
  const bool b_first = -gap + reach >= distance;
  if (a_first == b_first) return a_first ? 0 : gap >= 0.0 ? 1 : -1;
  return a_first ? 1 : -1;
}

}  // namespace

Settler::Settler(const Model& model, const Candidate& candidate, double beyond)
    : model_(model),
      candidate_(candidate),
      beyond_(beyond),
      length_(candidate.setting.foot - candidate.setting.mouth),
      extra_keepouts_(model.items.size()) {}

double Settler::nominal(std::size_t i) const {
  return model_.nominal_y(model_.items[i], candidate_.setting) - candidate_.setting.mouth;
}

std::vector<Keepout> Settler::keepouts_along(std::size_t i, double around) const {
  const Item& item = model_.items[i];
  std::vector<Keepout> list = model_.keepouts(item, candidate_.stand, around);
  for (Keepout& k : list) {
    k.from -= candidate_.setting.mouth;
    k.to -= candidate_.setting.mouth;
  }
  // Beside the cuts; `which` tells them from the tube's own ends.
  if (item.cut || item.mouth_room > 0.0) {
    list.push_back({-far, item.mouth_room + demand_grain, Keepout::Why::end, 2});
  }
  const double foot_room = item.foot_room > 0.0 ? item.foot_room + demand_grain : 0.0;
  list.push_back({length_ - foot_room, far, Keepout::Why::end, 3});
  list.insert(list.end(), extra_keepouts_[i].begin(), extra_keepouts_[i].end());
  return list;
}

SettleVariable Settler::along_variable(std::size_t i, const std::vector<Stretch>& kept_out, bool fine) const {
  const Item& item = model_.items[i];
  SettleVariable v;
  const double wanted = nominal(i);
  if (item.fixed) {
    v.origin = candidate_.stand.y(item.fixed->at) - candidate_.setting.mouth;
    v.costs = {item.weight * (v.origin - wanted) * (v.origin - wanted)};
    return v;
  }
  const double leeway = item.leeway.along;
  v.step = step_for(leeway + beyond_, fine);
  const int half = static_cast<int>(std::ceil((leeway + beyond_) / v.step));
  v.origin = wanted - v.step * half;
  v.least = wanted - leeway;
  v.greatest = wanted + leeway;
  const double weight = item.weight;
  v.cost_at = [wanted, weight](double z) { return weight * (z - wanted) * (z - wanted); };
  for (int k = 0; k <= 2 * half; ++k) {
    const double z = v.origin + v.step * k;
    v.costs.push_back(holds(kept_out, z) ? forbidden_place : v.cost_at(z));
  }
  return v;
}

AlongProblem Settler::along_problem(const std::vector<double>& around, bool loose, bool fine) const {
  AlongProblem result;
  const std::vector<Item>& items = model_.items;
  for (std::size_t i = 0; i < items.size(); ++i) {
    std::vector<Keepout> keepouts;
    std::vector<Stretch> kept_out;
    if (!items[i].fixed) {
      keepouts = keepouts_along(i, around[i]);
      kept_out = stretches_of(keepouts);
      const double leeway = items[i].leeway.around;
      if (loose && leeway > 0.0) {
        std::vector<Stretch> both;
        for (const Stretch& s : stretches_of(keepouts_along(i, around[i] - leeway))) {
          for (const Stretch& t : stretches_of(keepouts_along(i, around[i] + leeway))) {
            const Stretch common{std::max(s.from, t.from), std::min(s.to, t.to)};
            if (common.from < common.to) both.push_back(common);
          }
        }
        kept_out = both;
      }
    }
    result.problem.variables.push_back(along_variable(i, kept_out, fine));
    result.keepouts.push_back(std::move(keepouts));
  }
  const auto reach_of = [](const Item& item) { return item.fixed ? 0.0 : item.leeway.along; };
  for (const PairRule& rule : model_.pairs) {
    const auto a = static_cast<std::size_t>(rule.a);
    const auto b = static_cast<std::size_t>(rule.b);
    const double z_a = items[a].fixed ? result.problem.variables[a].origin : nominal(a);
    const double z_b = items[b].fixed ? result.problem.variables[b].origin : nominal(b);
    const double gap = z_b - z_a;
    const double reach = reach_of(items[a]) + reach_of(items[b]);
    double distance = 0.0;
    AlongProblem::Meaning meaning{rule.a, rule.b, rule.kind, 0.0, 0.0};
    if (rule.of_a != nullptr) {
      const double limit = std::max(rule.clearance.along, rule.clearance.around);
      const double most = rule.of_a->half_along() + rule.of_b->half_along() + limit;
      const bool may_pass = rule.order == 0 || (rule.order > 0 ? gap : -gap) > 0.0;
      if (may_pass && std::abs(gap) - reach - 2.0 * beyond_ > most) continue;
      const Setting& s = candidate_.setting;
      double apart =
          model_.apart_around(candidate_.stand, s.mouth + z_a, around[a], s.mouth + z_b, around[b]);
      meaning.around = apart;
      if (loose) {
        apart +=
            (items[a].fixed ? 0.0 : items[a].leeway.around) + (items[b].fixed ? 0.0 : items[b].leeway.around);
      }
      const auto needed = needed_along(*rule.of_a, *rule.of_b, apart, rule.clearance);
      if (!needed) continue;
      distance = *needed + demand_grain;
      meaning.limit = rule.clearance.along;
    } else if ((rule.order > 0 ? gap : -gap) > reach + 2.0 * beyond_) {
      continue;
    }
    const int order = order_within(rule.order, gap, reach, distance);
    const int kind = static_cast<int>(rule.kind);
    if (order == 0) {
      result.problem.reversible.push_back({rule.a, rule.b, distance, distance, kind});
      result.reversible.push_back(meaning);
    } else {
      const bool a_first = order > 0;
      result.problem.demands.push_back(
          {a_first ? rule.a : rule.b, a_first ? rule.b : rule.a, distance, kind});
      result.demands.push_back(meaning);
    }
  }
  for (const Extra& extra : extra_) {
    const bool a_first = extra.order > 0;
    result.problem.demands.push_back({a_first ? extra.a : extra.b, a_first ? extra.b : extra.a,
                                      extra.distance, static_cast<int>(DemandKind::web)});
    result.demands.push_back({extra.a, extra.b, DemandKind::web, 0.0, 0.0});
  }
  const double weight = model_.layout.weights.spacing;
  for (const auto& [a, b] : neighbours(model_)) {
    const double wanted = items[static_cast<std::size_t>(b)].along - items[static_cast<std::size_t>(a)].along;
    result.problem.pair_costs.push_back(
        {a, b, [weight, wanted](double gap) { return weight * (gap - wanted) * (gap - wanted); }});
  }
  return result;
}

SettleVariable Settler::around_variable(std::size_t i, double along) const {
  const Item& item = model_.items[i];
  const double wanted = candidate_.stand.around[i];
  SettleVariable v;
  if (item.fixed || item.leeway.around <= 0.0) {
    v.origin = wanted;
    v.costs = {0.0};
    return v;
  }
  v.step = std::max(0.25, item.leeway.around / 150.0);
  const int half = static_cast<int>(std::floor(item.leeway.around / v.step + 1e-9));
  v.origin = wanted - v.step * half;
  v.least = wanted - item.leeway.around;
  v.greatest = wanted + item.leeway.around;
  const double weight = item.weight;
  v.cost_at = [wanted, weight](double u) { return weight * (u - wanted) * (u - wanted); };
  for (int k = 0; k <= 2 * half; ++k) {
    const double u = v.origin + v.step * k;
    const bool kept_out = holds(stretches_of(keepouts_along(i, u)), along);
    v.costs.push_back(kept_out ? forbidden_place : v.cost_at(u));
  }
  return v;
}

SettleProblem Settler::around_problem(const std::vector<double>& along) const {
  SettleProblem problem;
  const Stand& stand = candidate_.stand;
  for (std::size_t i = 0; i < along.size(); ++i) problem.variables.push_back(around_variable(i, along[i]));
  for (const PairRule& rule : model_.pairs) {
    if (rule.of_a == nullptr) continue;
    const auto a = static_cast<std::size_t>(rule.a);
    const auto b = static_cast<std::size_t>(rule.b);
    const auto needed = needed_around(
        *rule.of_a, *rule.of_b, std::max(std::abs(along[a] - along[b]) - demand_grain, 0.0), rule.clearance);
    if (!needed) continue;
    const double mouth = candidate_.setting.mouth;
    const double apart =
        model_.apart_around(stand, mouth + along[a], stand.around[a], mouth + along[b], stand.around[b]);
    const double difference = stand.around[b] - stand.around[a];
    const double girth = model_.skin.nearest(stand.sense * (mouth + 0.5 * (along[a] + along[b]))).girth;
    const double wide = std::abs(std::remainder(difference, girth));
    const double distance = *needed + demand_grain - (apart - wide);
    const double turns = std::round(difference / girth) * girth;
    // Counted from the whole turns between the two, the nearer way round.
    const int order = order_within(0, difference - turns,
                                   model_.items[a].leeway.around + model_.items[b].leeway.around, distance);
    if (order == 0 && turns == 0.0) {
      problem.reversible.push_back({rule.a, rule.b, distance, distance, 0});
    } else if (order >= 0) {
      problem.demands.push_back({rule.a, rule.b, distance + turns, 0});
    } else {
      problem.demands.push_back({rule.b, rule.a, distance - turns, 0});
    }
  }
  return problem;
}

std::optional<Laid> Settler::in_turn(std::vector<double> around, bool loose) {
  std::optional<Laid> best;
  double around_cost = 0.0;
  for (std::size_t i = 0; i < around.size(); ++i) {
    const double shift = around[i] - candidate_.stand.around[i];
    around_cost += model_.items[i].weight * shift * shift;
  }
  for (int round = 0; round < 3; ++round) {
    AlongProblem along = along_problem(around, loose && round == 0, false);
    auto result = settle(along.problem);
    if (std::holds_alternative<Blocked>(result)) {
      // Not for the grid's sake.
      along = along_problem(around, loose && round == 0, true);
      result = settle(along.problem);
    }
    if (const Blocked* why = std::get_if<Blocked>(&result)) {
      // The widest use of the leeway is asked last: its reason stands.
      if (round == 0) {
        blocked_ = *why;
        blocked_problem_ = std::move(along);
      }
      return best;
    }
    const Settled settled = refine(along.problem, std::get<Settled>(result));
    const double cost = settled.cost + around_cost;
    if (!(loose && round == 0)) {
      if (best && cost >= best->cost - 1e-6) return best;
      best = Laid{settled.positions, around, cost};
    }
    const SettleProblem turned = around_problem(settled.positions);
    const auto turned_result = settle(turned);
    if (!std::holds_alternative<Settled>(turned_result)) {
      if (round == 0 && loose) {
        // No single reason: along it goes, and around it does not.
        AlongProblem tight = along_problem(around, false, true);
        const auto once_more = settle(tight.problem);
        if (const Blocked* why = std::get_if<Blocked>(&once_more)) {
          blocked_ = *why;
          blocked_problem_ = std::move(tight);
        }
      }
      return best;
    }
    const Settled turned_settled = refine(turned, std::get<Settled>(turned_result));
    around = turned_settled.positions;
    around_cost = turned_settled.cost;
  }
  return best;
}

std::variant<Laid, Blocked> Settler::run() {
  blocked_.reset();
  std::optional<Laid> best = in_turn(candidate_.stand.around, false);
  // Worth a second way where the first is blocked, or pays for shifts that others might save.
  constexpr double worth_trying = 1.0;
  if (!best || best->cost > worth_trying) {
    const std::optional<Laid> other = in_turn(candidate_.stand.around, true);
    if (other && (!best || other->cost < best->cost)) best = other;
  }
  if (best) return *best;
  require(blocked_.has_value(), "what cannot be settled has a reason");
  return *blocked_;
}

std::optional<std::size_t> Settler::item_named(const std::string& id) const {
  for (std::size_t i = 0; i < model_.items.size(); ++i) {
    if (model_.items[i].id == id) return i;
  }
  return std::nullopt;
}

bool Settler::tighten(const Finding& finding, const Laid& laid) {
  std::vector<std::size_t> concerned;
  for (const std::string& id : finding.ids) {
    if (const auto i = item_named(id)) concerned.push_back(*i);
  }
  const double lack = std::max(-finding.margin, 0.0) + 0.05;
  if (concerned.empty()) return false;
  if (concerned.size() == 1) {
    const std::size_t i = concerned.front();
    if (model_.items[i].fixed) return false;
    extra_keepouts_[i].push_back({laid.along[i] - lack, laid.along[i] + lack, Keepout::Why::rule, 0});
    return true;
  }
  bool any = false;
  const bool of_section = finding.rule == "girth-lost" || finding.rule == "section";
  std::sort(concerned.begin(), concerned.end(),
            [&](std::size_t a, std::size_t b) { return laid.along[a] < laid.along[b]; });
  for (std::size_t k = 1; k < concerned.size(); ++k) {
    const std::size_t a = concerned[k - 1];
    const std::size_t b = concerned[k];
    if (model_.items[a].fixed && model_.items[b].fixed) continue;
    // Holes that share a section are drawn apart along by a millimetre at a time.
    const double more = of_section ? 1.0 : lack;
    extra_.push_back({static_cast<int>(a), static_cast<int>(b), laid.along[b] - laid.along[a] + more, 1});
    any = true;
  }
  return any;
}

}  // namespace culmwright
