#include "fit/propose_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "fit/propose_score.hpp"

namespace culmwright {

namespace {

constexpr double never = std::numeric_limits<double>::infinity();
/// What arounds at different sections may differ by, by taper and bow (the table's and the skin's).
constexpr double around_grain = 1.0;

std::vector<Stretch> merged(std::vector<Stretch> list) {
  std::sort(list.begin(), list.end(), [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
  std::vector<Stretch> result;
  for (const Stretch& s : list) {
    if (!result.empty() && s.from <= result.back().to) {
      result.back().to = std::max(result.back().to, s.to);
    } else {
      result.push_back(s);
    }
  }
  return result;
}

std::vector<Stretch> common(const std::vector<Stretch>& a, const std::vector<Stretch>& b) {
  std::vector<Stretch> result;
  for (const Stretch& s : a) {
    for (const Stretch& t : b) {
      const Stretch both{std::max(s.from, t.from), std::min(s.to, t.to)};
      if (both.from < both.to) result.push_back(both);
    }
  }
  return result;
}

std::vector<Stretch> stretches_of(const std::vector<Keepout>& keepouts) {
  std::vector<Stretch> list;
  for (const Keepout& k : keepouts) list.push_back({k.from, k.to});
  return merged(std::move(list));
}

/// Forbidden wherever the item stands around within its leeway.
std::vector<Stretch> always_kept_out(const Model& model, const Stand& stand, std::size_t i) {
  const Item& item = model.items[i];
  const double around = stand.around[i];
  const double leeway = item.leeway.around;
  if (leeway <= 0.0) return stretches_of(model.keepouts(item, stand, around));
  return common(stretches_of(model.keepouts(item, stand, around - leeway)),
                stretches_of(model.keepouts(item, stand, around + leeway)));
}

/// How far the nearest allowed place within reach of y lies; infinite when there is none.
double shift_needed(const std::vector<Stretch>& kept_out, double y, double reach) {
  for (const Stretch& s : kept_out) {
    if (y <= s.from) return 0.0;
    if (y >= s.to) continue;
    const double down = y - s.from;
    const double up = s.to - y;
    const double least = std::min(down, up);
    return least <= reach ? least : never;
  }
  return 0.0;
}

int anchor_index(Anchor anchor) {
  return static_cast<int>(anchor);
}

}  // namespace

std::vector<LooseNeed> loose_needs(const Model& model, const Stand& stand) {
  std::vector<LooseNeed> needs;
  for (const PairRule& rule : model.pairs) {
    const auto ia = static_cast<std::size_t>(rule.a);
    const auto ib = static_cast<std::size_t>(rule.b);
    const Item& a = model.items[ia];
    const Item& b = model.items[ib];
    LooseNeed need{rule.a, rule.b, 0.0, rule.order};
    const double reach = a.leeway.along + b.leeway.along;
    const bool same = a.anchor == b.anchor && !a.fixed && !b.fixed;
    if (rule.of_a != nullptr) {
      // Far enough apart along whatever is around.
      const double most = rule.of_a->half_along() + rule.of_b->half_along() +
                          std::max(rule.clearance.along, rule.clearance.around);
      if (same && std::abs(b.along - a.along) - reach > most) continue;
      const double leeway = (a.fixed ? 0.0 : a.leeway.around) + (b.fixed ? 0.0 : b.leeway.around);
      const double apart = std::abs(stand.around[ia] - stand.around[ib]) + leeway + around_grain;
      const auto distance = needed_along(*rule.of_a, *rule.of_b,
                                         std::min(apart, 0.5 * model.skin.greatest_girth()), rule.clearance);
      if (!distance) continue;
      need.distance = *distance;
    }
    if (need.order == 0 && same) {
      const bool a_first = b.along - a.along + reach >= need.distance;
      const bool b_first = a.along - b.along + reach >= need.distance;
      if (a_first != b_first) need.order = a_first ? 1 : -1;
    }
    needs.push_back(need);
  }
  return needs;
}

StandSearch::StandSearch(const Model& model, const std::vector<LooseNeed>& needs, Stand stand,
                         double extra_leeway)
    : model_(model), needs_(needs), stand_(std::move(stand)), extra_leeway_(extra_leeway) {
  low_ = std::min(stand_.y(model.tube.end_a_at()), stand_.y(model.tube.end_b_at()));
  high_ = std::max(stand_.y(model.tube.end_a_at()), stand_.y(model.tube.end_b_at()));
  stand_cost_ = stand_points(model, stand_);
  const double radius = model.skin.mean_curvature();
  const double middle = 0.5 * (model.tube.end_a_at() + model.tube.end_b_at());
  const double wall = model.skin.nearest(middle).wall[0];
  for (std::size_t i = 0; i < model.items.size(); ++i) {
    const Item& item = model.items[i];
    kept_out_.push_back(item.fixed ? std::vector<Stretch>{} : always_kept_out(model, stand_, i));
    const double hole = item.is_key ? 0.25 * pi * item.diameter * item.diameter * wall : 0.0;
    const double mass = item.mass_g - hole * model.tube.shape().density;
    const int anchor = anchor_index(item.anchor);
    mass_[anchor] += mass;
    moment_[anchor] += mass * item.along;
    front_moment_ += mass * radius * std::cos(stand_.around[i] / radius);
    if (!item.is_key && item.kind == PartKind::thumb_rest && rest_ == nullptr) rest_ = &item;
    if (anchor < 2) members_[anchor].push_back(static_cast<int>(i));
  }
  mass_[anchor_index(Anchor::mouth_end)] += model.ring_mass_g;
  moment_[anchor_index(Anchor::mouth_end)] += model.ring_moment;
  for (int which = 0; which < 2; ++which) bound_hand(which, extra_leeway);
  find_distance();
}

void StandSearch::bound_hand(int which, double extra_leeway) {
  HandBounds& hand = hands_[which];
  hand.y0 = std::floor(low_);
  double fingers = 0.0;
  int count = 0;
  for (const int k : members_[which]) {
    const Item& item = model_.items[static_cast<std::size_t>(k)];
    if (item.fixed) continue;
    const double leeway = item.leeway.along + extra_leeway;
    hand.mouth_reach = std::max(hand.mouth_reach, item.mouth_room + demand_grain - item.along - leeway);
    hand.foot_reach = std::max(hand.foot_reach, item.foot_room + demand_grain + item.along - leeway);
    if (!item.under_hand) continue;
    fingers += item.along;
    ++count;
  }
  if (count > 0) fingers /= count;
  std::vector<double> nodes;
  for (const Node& node : model_.tube.nodes()) nodes.push_back(stand_.y(node.at()));
  const int marks = static_cast<int>(std::ceil(high_ - hand.y0)) + 1;
  const std::vector<LooseNeed> within = needs_within(which);
  const bool own_places = own_places_serve(within);
  for (int i = 0; i < marks; ++i) {
    bool moved = false;
    double cost = shift_points(which, hand.y(i), extra_leeway, moved);
    // Where nothing is in the way the hand's own places serve, if they keep its demands.
    if (cost != never && (moved || !own_places) && !hand_has_a_way(which, hand.y(i), within)) cost = never;
    hand.cost.push_back(cost);
    const double middle = hand.y(i) + fingers;
    const auto before = std::count_if(nodes.begin(), nodes.end(), [&](double n) { return n < middle; });
    hand.internode.push_back(members_[which].empty() ? 0 : static_cast<int>(before));
  }
  marks_judged_ += marks;
}

/// Points for the shifts that keep-outs force at least; infinite where a key finds no place.
double StandSearch::shift_points(int which, double mark, double extra_leeway, bool& moved) const {
  double cost = 0.0;
  for (const int k : members_[which]) {
    const auto i = static_cast<std::size_t>(k);
    const Item& item = model_.items[i];
    const double y = mark + item.along;
    double shift = 0.0;
    if (item.fixed) {
      shift = stand_.y(item.fixed->at) - y;
      moved = true;
    } else {
      const double leeway = item.leeway.along + extra_leeway;
      shift = shift_needed(kept_out_[i], y, leeway);
      if (shift == never || y + leeway < low_ || y - leeway > high_) return never;
      moved = moved || shift > 0.0;
    }
    cost += item.weight * shift * shift;
  }
  return cost;
}

/// Demands between items of one hand.
std::vector<LooseNeed> StandSearch::needs_within(int which) const {
  std::vector<LooseNeed> within;
  for (const LooseNeed& need : needs_) {
    const auto of_hand = [&](int k) {
      return anchor_index(model_.items[static_cast<std::size_t>(k)].anchor) == which;
    };
    if (of_hand(need.a) && of_hand(need.b)) within.push_back(need);
  }
  return within;
}

/// Whether the hand's own places keep its demands.
bool StandSearch::own_places_serve(const std::vector<LooseNeed>& within) const {
  return std::all_of(within.begin(), within.end(), [&](const LooseNeed& need) {
    const double gap = model_.items[static_cast<std::size_t>(need.b)].along -
                       model_.items[static_cast<std::size_t>(need.a)].along;
    const double value = need.order > 0 ? gap : need.order < 0 ? -gap : std::abs(gap);
    return value >= need.distance;
  });
}

bool StandSearch::hand_has_a_way(int which, double mark, const std::vector<LooseNeed>& within) {
  lattice_.reset(static_cast<int>(members_[which].size()));
  std::vector<int> place(model_.items.size(), -1);
  for (std::size_t v = 0; v < members_[which].size(); ++v) {
    const auto i = static_cast<std::size_t>(members_[which][v]);
    const Item& item = model_.items[i];
    place[i] = static_cast<int>(v);
    if (item.fixed) {
      lattice_.add_stretch(static_cast<int>(v), {stand_.y(item.fixed->at), stand_.y(item.fixed->at)});
    } else {
      add_places(static_cast<int>(v), i, mark + item.along, low_, high_);
    }
  }
  for (const LooseNeed& need : within) {
    const int a = place[static_cast<std::size_t>(need.a)];
    const int b = place[static_cast<std::size_t>(need.b)];
    const Lattice::Arc a_first{a, b, need.distance};
    const Lattice::Arc b_first{b, a, need.distance};
    if (need.order > 0) lattice_.add(a_first);
    if (need.order < 0) lattice_.add(b_first);
    if (need.order == 0) lattice_.add(Lattice::Pair{a_first, b_first});
  }
  return lattice_.search();
}

/// The open places of an item within its leeway and between two limits.
void StandSearch::add_places(int variable, std::size_t item, double nominal, double low, double high) {
  const double leeway = model_.items[item].leeway.along + extra_leeway_;
  const double last = std::min(nominal + leeway, high);
  double from = std::max(nominal - leeway, low);
  for (const Stretch& s : kept_out_[item]) {
    if (s.to <= from) continue;
    if (s.from >= last) break;
    if (s.from >= from) lattice_.add_stretch(variable, {from, s.from});
    from = s.to;
  }
  if (from <= last) lattice_.add_stretch(variable, {from, last});
}

bool StandSearch::has_a_way(const Setting& setting) {
  constexpr int most_in_vain = 400;
  if (vain_ >= most_in_vain) return true;
  const std::size_t count = model_.items.size();
  lattice_.reset(static_cast<int>(count));
  std::vector<double> nominal(count);
  std::vector<double> reach(count);
  for (std::size_t i = 0; i < count; ++i) {
    const Item& item = model_.items[i];
    const int variable = static_cast<int>(i);
    nominal[i] = item.fixed ? stand_.y(item.fixed->at) : model_.nominal_y(item, setting);
    reach[i] = item.fixed ? 0.0 : item.leeway.along + extra_leeway_;
    if (item.fixed) {
      lattice_.add_stretch(variable, {nominal[i], nominal[i]});
      continue;
    }
    const double foot_room = item.foot_room > 0.0 ? item.foot_room + demand_grain : 0.0;
    const bool has_mouth_room = item.cut || item.mouth_room > 0.0;
    const double low = has_mouth_room ? setting.mouth + item.mouth_room + demand_grain : low_;
    add_places(variable, i, nominal[i], low, setting.foot - foot_room);
  }
  for (const LooseNeed& need : needs_) {
    const auto a = static_cast<std::size_t>(need.a);
    const auto b = static_cast<std::size_t>(need.b);
    const double gap = nominal[b] - nominal[a];
    const double both = reach[a] + reach[b];
    const bool a_first = need.order > 0 || (need.order == 0 && gap + both >= need.distance);
    const bool b_first = need.order < 0 || (need.order == 0 && -gap + both >= need.distance);
    const Lattice::Arc arc_a{need.a, need.b, need.distance};
    const Lattice::Arc arc_b{need.b, need.a, need.distance};
    if (a_first && b_first) {
      lattice_.add(Lattice::Pair{arc_a, arc_b});
    } else if (a_first) {
      if (gap - both < need.distance) lattice_.add(arc_a);
    } else if (b_first) {
      if (-gap - both < need.distance) lattice_.add(arc_b);
    } else {
      ++vain_;
      return false;
    }
  }
  if (lattice_.search()) return true;
  ++vain_;
  return false;
}

void StandSearch::find_distance() {
  for (const LooseNeed& need : needs_) {
    const Item& a = model_.items[static_cast<std::size_t>(need.a)];
    const Item& b = model_.items[static_cast<std::size_t>(need.b)];
    if (need.order == 0 || a.fixed || b.fixed || a.anchor == b.anchor) continue;
    if (anchor_index(a.anchor) > 1 || anchor_index(b.anchor) > 1) continue;
    const Item& nearer = need.order > 0 ? a : b;
    const Item& farther = need.order > 0 ? b : a;
    const double reach = nearer.leeway.along + farther.leeway.along;
    hands_distance_ = std::max(hands_distance_, need.distance + nearer.along - farther.along - reach);
  }
}

std::vector<double> StandSearch::mouth_cuts(double from, double to, double step) const {
  const Placement* base = model_.options.placement ? &*model_.options.placement : nullptr;
  if (base && (base->mouth_cut_at.locked || model_.any_drilled)) return {stand_.y(base->mouth_cut_at.value)};
  if (model_.options.mouth_cut_at) return {stand_.y(*model_.options.mouth_cut_at)};
  const double least = low_ + model_.layout.least_cut;
  const double most = high_ - model_.layout.least_cut - std::max(model_.layout.least_length, 1.0);
  std::vector<double> cuts;
  for (double y = std::max(from, least); y <= std::min(to, most) + 1e-9; y += step)
    cuts.push_back(std::min(y, most));
  if (cuts.empty() && least <= most + 1e-9 && from <= least && to >= most) cuts.push_back(least);
  return cuts;
}

std::vector<double> StandSearch::foot_cuts(double mouth, double from, double to, double step) const {
  const KeyLayout& layout = model_.layout;
  const Placement* base = model_.options.placement ? &*model_.options.placement : nullptr;
  const double least = mouth + std::max(layout.least_length, 1.0);
  double most = high_ - layout.least_cut;
  if (layout.greatest_length > 0.0) most = std::min(most, mouth + layout.greatest_length);
  std::optional<double> given;
  if (base && (base->foot_cut_at.locked || model_.any_drilled)) given = base->foot_cut_at.value;
  if (!given && model_.options.foot_cut_at) given = model_.options.foot_cut_at;
  if (given) {
    // A cut that the maker has set is judged by the rules, not by where cuts are looked for.
    return stand_.y(*given) > mouth + 1.0 ? std::vector<double>{stand_.y(*given)} : std::vector<double>{};
  }
  std::vector<double> cuts;
  for (double y = std::min(to, most); y >= std::max(from, least) - 1e-9; y -= step) {
    cuts.push_back(std::max(y, least));
  }
  return cuts;
}

StandSearch::Window StandSearch::window(int which, double mouth, double foot, int internode) const {
  const HandBounds& hand = hands_[which];
  const double wanted = mouth + model_.marks[which].along;
  const double leeway = model_.layout.mark_leeway;
  const double from = std::max(wanted - leeway, mouth + hand.mouth_reach);
  const double to = std::min(wanted + leeway, foot - hand.foot_reach);
  Window window{
      std::max(0, static_cast<int>(std::ceil(from - hand.y0 - 1e-9))),
      std::min(static_cast<int>(hand.cost.size()) - 1, static_cast<int>(std::floor(to - hand.y0 + 1e-9)))};
  const auto first = std::lower_bound(hand.internode.begin(), hand.internode.end(), internode);
  const auto last = std::upper_bound(hand.internode.begin(), hand.internode.end(), internode);
  window.from = std::max(window.from, static_cast<int>(first - hand.internode.begin()));
  window.to = std::min(window.to, static_cast<int>(last - hand.internode.begin()) - 1);
  return window;
}

double StandSearch::mark_cost(int which, double mark, double mouth) const {
  const double shift = mark - mouth - model_.marks[which].along;
  return model_.layout.weights.marks * shift * shift;
}

double StandSearch::fixed_cost(const Setting& setting) const {
  return stand_cost_ + cut_points(model_, stand_, setting);
}

double StandSearch::torque(const Setting& setting) const {
  if (rest_ == nullptr || model_.tube.shape().density <= 0.0) return 0.0;
  const double at_mouth = stand_.sense * setting.mouth;
  const double at_foot = stand_.sense * setting.foot;
  const SkinTable::Weight tube =
      model_.skin.between(std::min(at_mouth, at_foot), std::max(at_mouth, at_foot));
  const double anchors[4] = {setting.left, setting.right, setting.mouth, setting.foot};
  double mass = tube.mass_g;
  double moment = stand_.sense * tube.moment;
  for (int i = 0; i < 4; ++i) {
    mass += mass_[i];
    moment += mass_[i] * anchors[i] + moment_[i];
  }
  const double radius = model_.skin.mean_curvature();
  const double out = radius * std::cos(rest_->around / radius);
  const double y_rest = rest_->fixed ? stand_.y(rest_->fixed->at) : model_.nominal_y(*rest_, setting);
  const Angle angle = model_.layout.playing_angle;
  return 1e-3 * standard_gravity *
         (angle.cos() * (moment - mass * y_rest) + angle.sin() * (front_moment_ - mass * out));
}

void StandSearch::judge_pair(Setting setting, int a, int b, Candidate& best) {
  const Window windows[2] = {window(0, setting.mouth, setting.foot, a),
                             window(1, setting.mouth, setting.foot, b)};
  if (windows[0].empty() || windows[1].empty()) return;
  const double weight = model_.layout.weights.torque;
  const double fixed = fixed_cost(setting);
  if (fixed >= best.bound) return;
  // The hand that carries the rest decides the torque; the other moves it by the weight of its keys only.
  const int with_rest = rest_ == nullptr ? -1 : anchor_index(rest_->anchor);
  setting.left = setting.mouth + model_.marks[0].along;
  setting.right = setting.mouth + model_.marks[1].along;
  double slope = 0.0;
  double offset = 0.0;
  if (with_rest == 0 || with_rest == 1) {
    double& mark = with_rest == 0 ? setting.left : setting.right;
    mark = 0.0;
    offset = torque(setting);
    mark = 1.0;
    slope = torque(setting) - offset;
  }
  std::vector<double> costs[2];
  for (int which = 0; which < 2; ++which) {
    const HandBounds& hand = hands_[which];
    for (int i = windows[which].from; i <= windows[which].to; ++i) {
      double cost = hand.cost[static_cast<std::size_t>(i)];
      if (cost != never) {
        cost += mark_cost(which, hand.y(i), setting.mouth);
        if (which == with_rest) cost += weight * std::abs(offset + slope * hand.y(i));
      }
      costs[which].push_back(cost);
    }
  }
  const int up = model_.upper == Hand::left ? 0 : 1;
  const int down = 1 - up;
  // The best lower hand from each mark on, toward the foot.
  std::vector<int> from_here(costs[down].size());
  int least = static_cast<int>(costs[down].size()) - 1;
  for (int j = least; j >= 0; --j) {
    if (costs[down][static_cast<std::size_t>(j)] <= costs[down][static_cast<std::size_t>(least)]) least = j;
    from_here[static_cast<std::size_t>(j)] = least;
  }
  for (std::size_t i = 0; i < costs[up].size(); ++i) {
    if (costs[up][i] == never) continue;
    const double y_up = hands_[up].y(windows[up].from + static_cast<int>(i));
    const double first = std::ceil(y_up + hands_distance_ - hands_[down].y(windows[down].from) - 1e-9);
    if (first >= static_cast<double>(from_here.size())) break;
    const int j = from_here[static_cast<std::size_t>(std::max(first, 0.0))];
    const double cost = costs[up][i] + costs[down][static_cast<std::size_t>(j)];
    ++pairs_judged_;
    if (cost == never || fixed + cost >= best.bound) continue;
    Setting found = setting;
    (up == 0 ? found.left : found.right) = y_up;
    (up == 0 ? found.right : found.left) = hands_[down].y(windows[down].from + j);
    double bound = fixed + cost;
    if (with_rest != 0 && with_rest != 1) bound += weight * std::abs(torque(found));
    if (bound >= best.bound || !has_a_way(found)) continue;
    best.bound = bound;
    best.setting = found;
  }
}

void StandSearch::judge_cuts(double mouth, double foot, std::vector<Candidate>& best, const Candidate* only) {
  const Setting cuts{mouth, foot, mouth, mouth};
  if (only != nullptr) {
    judge_pair(cuts, only->internode[0], only->internode[1], best.front());
    return;
  }
  int first[2];
  int last[2];
  for (int which = 0; which < 2; ++which) {
    const HandBounds& hand = hands_[which];
    const double wanted = mouth + model_.marks[which].along;
    const int end = static_cast<int>(hand.cost.size()) - 1;
    const auto index = [&](double y) {
      return static_cast<std::size_t>(std::clamp(static_cast<int>(std::lround(y - hand.y0)), 0, end));
    };
    first[which] = hand.internode[index(wanted - model_.layout.mark_leeway)];
    last[which] = hand.internode[index(wanted + model_.layout.mark_leeway)];
  }
  for (int a = first[0]; a <= last[0]; ++a) {
    for (int b = first[1]; b <= last[1]; ++b) {
      const auto same = [&](const Candidate& c) { return c.internode[0] == a && c.internode[1] == b; };
      auto found = std::find_if(best.begin(), best.end(), same);
      if (found == best.end()) {
        Candidate fresh;
        fresh.stand = stand_;
        fresh.internode[0] = a;
        fresh.internode[1] = b;
        fresh.bound = never;
        found = best.insert(best.end(), fresh);
      }
      judge_pair(cuts, a, b, *found);
    }
  }
}

std::vector<Candidate> StandSearch::candidates() {
  std::vector<Candidate> best;
  for (const double mouth : mouth_cuts(-1e9, 1e9, 5.0)) {
    for (const double foot : foot_cuts(mouth, -1e9, 1e9, 10.0)) judge_cuts(mouth, foot, best, nullptr);
  }
  const auto nowhere = [](const Candidate& c) { return c.bound == never; };
  best.erase(std::remove_if(best.begin(), best.end(), nowhere), best.end());
  return best;
}

Candidate StandSearch::polished(const Candidate& candidate) {
  std::vector<Candidate> best{candidate};
  const Setting& about = candidate.setting;
  for (const double mouth : mouth_cuts(about.mouth - 4.0, about.mouth + 4.0, 1.0)) {
    for (const double foot : foot_cuts(mouth, about.foot - 9.0, about.foot + 9.0, 1.0)) {
      judge_cuts(mouth, foot, best, &candidate);
    }
  }
  return best.front();
}

}  // namespace culmwright
