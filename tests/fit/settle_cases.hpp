#pragma once
/// Small random problems to settle, and what is true of them found by trying everything.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <random>
#include <vector>

#include "fit/settle.hpp"

namespace settle_cases {

using namespace culmwright;

struct Style {
  int most_variables = 5;
  int most_values = 9;
  double length_grain = 0.5;  ///< lengths are multiples of this
  bool one_step = true;
  double crowding = 1.0;  ///< scales the demands
  double spread = 1.5;    ///< between the variables' first values, at most
};

class Maker {
 public:
  Maker(std::uint64_t seed, Style style) : random_(seed), style_(style) {}

  SettleProblem problem() {
    SettleProblem p;
    const int n = whole(2, style_.most_variables);
    for (int i = 0; i < n; ++i) p.variables.push_back(variable(i));
    for (int i = 0; i < n; ++i) {
      for (int j = i + 1; j < n; ++j) add_pair(p, i, j);
    }
    return p;
  }

  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  double real(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  double length(double low, double high) {
    return std::round(real(low, high) / style_.length_grain) * style_.length_grain;
  }

 private:
  SettleVariable variable(int i) {
    SettleVariable v;
    v.step = style_.one_step ? 0.5 : 0.25 * whole(1, 4);
    v.origin = length(0.0, style_.spread * i);
    const int values = whole(0, 9) == 0 ? 1 : whole(4, style_.most_values);
    const double wanted = real(0.0, v.step * values);
    for (int k = 0; k < values; ++k) v.costs.push_back(real(0.0, 2.0) + std::abs(v.step * k - wanted));
    if (values > 1 && whole(0, 2) == 0) forbid(v);
    if (values > 1 && whole(0, 3) == 0) {
      v.least = v.origin + v.step * whole(0, 2);
      v.greatest = v.origin + v.step * (values - 1 - whole(0, 2));
    }
    return v;
  }

  void forbid(SettleVariable& v) {
    const int values = static_cast<int>(v.costs.size());
    const int first = whole(0, values - 1);
    for (int k = first; k < std::min(values, first + whole(1, 3)); ++k) v.costs[k] = forbidden_place;
  }

  void add_pair(SettleProblem& p, int i, int j) {
    const double reach = 1.6 * style_.crowding;
    switch (whole(0, 5)) {
      case 0:
        p.demands.push_back({i, j, length(0.0, reach), whole(0, 2)});
        break;
      case 1:
        p.demands.push_back({j, i, length(-6.0, -2.0), whole(0, 2)});
        break;
      case 2:
        p.reversible.push_back({i, j, length(0.0, reach), length(0.0, reach), whole(0, 2)});
        break;
      case 3: {
        const double wanted = length(-1.0, 3.0);
        const double weight = real(0.0, 2.0);
        p.pair_costs.push_back({i, j, [=](double gap) { return weight * (gap - wanted) * (gap - wanted); }});
        break;
      }
      case 4: {
        const double wanted = real(-1.0, 3.0);
        p.demands.push_back({i, j, length(0.0, reach), whole(0, 2)});
        p.pair_costs.push_back({j, i, [=](double gap) { return 0.7 * std::abs(gap + wanted); }});
        break;
      }
      default:
        break;
    }
  }

  std::mt19937_64 random_;
  Style style_;
};

// ---- Trying everything, on the values.

inline bool keeps(const SettleProblem& p, const std::vector<double>& z) {
  for (const Demand& d : p.demands) {
    if (z[d.upper] - z[d.lower] < d.distance - 1e-9) return false;
  }
  for (const ReversibleDemand& d : p.reversible) {
    if (z[d.b] - z[d.a] < d.distance_a_first - 1e-9 && z[d.a] - z[d.b] < d.distance_b_first - 1e-9)
      return false;
  }
  return true;
}

struct Exhaustive {
  double least_cost = std::numeric_limits<double>::infinity();
  std::vector<double> best, low, high;  ///< low, high: of each variable over all feasible points
  bool feasible() const { return !best.empty(); }
};

inline Exhaustive try_everything(const SettleProblem& p) {
  Exhaustive result;
  const std::size_t n = p.variables.size();
  result.low.assign(n, std::numeric_limits<double>::infinity());
  result.high.assign(n, -std::numeric_limits<double>::infinity());
  std::vector<double> z(n);
  const std::function<void(std::size_t, double)> go = [&](std::size_t i, double cost) {
    if (i < n) {
      const SettleVariable& v = p.variables[i];
      for (std::size_t k = 0; k < v.costs.size(); ++k) {
        z[i] = v.origin + v.step * static_cast<double>(k);
        if (v.costs[k] == forbidden_place || z[i] < v.least - 1e-9 || z[i] > v.greatest + 1e-9) continue;
        go(i + 1, cost + v.costs[k]);
      }
      return;
    }
    if (!keeps(p, z)) return;
    for (const PairCost& pair : p.pair_costs) cost += pair.cost(z[pair.upper] - z[pair.lower]);
    for (std::size_t k = 0; k < n; ++k) {
      result.low[k] = std::min(result.low[k], z[k]);
      result.high[k] = std::max(result.high[k], z[k]);
    }
    if (cost < result.least_cost) {
      result.least_cost = cost;
      result.best = z;
    }
  };
  go(0, 0.0);
  return result;
}

// ---- Trying every stretch and every order, with places between the values.

using Places = std::vector<std::vector<Stretch>>;

/// Where each variable may be, with the leeway widened, room added at the ends and forbidden stretches within
/// narrowed.
inline Places places_of(const SettleProblem& p, double leeway = 0.0, double low_room = 0.0,
                        double high_room = 0.0, double forbidden = 0.0) {
  Places places;
  for (const SettleVariable& v : p.variables) {
    std::vector<Stretch> runs;
    for (std::size_t k = 0; k < v.costs.size(); ++k) {
      const double z = v.origin + v.step * static_cast<double>(k);
      if (v.costs[k] == forbidden_place) continue;
      if (k > 0 && v.costs[k - 1] != forbidden_place) {
        runs.back().to = z;
      } else {
        runs.push_back({z, z});
      }
    }
    if (!runs.empty() && v.costs.size() > 1) {
      for (std::size_t r = 0; r + 1 < runs.size(); ++r) {
        const double give = std::min(forbidden, 0.5 * (runs[r + 1].from - runs[r].to));
        runs[r].to += give;
        runs[r + 1].from -= give;
      }
      runs.front().from -= low_room;
      runs.back().to += high_room;
    }
    places.emplace_back();
    for (const Stretch& r : runs) {
      const Stretch clipped = {std::max(r.from, v.least - leeway), std::min(r.to, v.greatest + leeway)};
      if (clipped.from <= clipped.to + 1e-12) places.back().push_back(clipped);
    }
  }
  return places;
}

/// Difference constraints by shortest paths between all (Floyd–Warshall): no negative circle, a way.
inline bool consistent(const std::vector<Stretch>& at, const std::vector<Demand>& demands) {
  const std::size_t n = at.size() + 1;
  constexpr double far = std::numeric_limits<double>::infinity();
  std::vector<std::vector<double>> d(n, std::vector<double>(n, far));
  for (std::size_t i = 0; i < n; ++i) d[i][i] = 0.0;
  // d[i][j]: at most z_j − z_i; the last is the zero of the line.
  for (std::size_t i = 0; i + 1 < n; ++i) {
    d[n - 1][i] = std::min(d[n - 1][i], at[i].to);
    d[i][n - 1] = std::min(d[i][n - 1], -at[i].from);
  }
  for (const Demand& m : demands) d[m.upper][m.lower] = std::min(d[m.upper][m.lower], -m.distance);
  for (std::size_t k = 0; k < n; ++k) {
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) d[i][j] = std::min(d[i][j], d[i][k] + d[k][j]);
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (d[i][i] < -1e-9) return false;
  }
  return true;
}

inline bool way_between(const Places& places, const std::vector<Demand>& demands,
                        const std::vector<ReversibleDemand>& reversible) {
  const std::size_t n = places.size();
  std::vector<Stretch> at(n);
  std::vector<Demand> all = demands;
  const std::function<bool(std::size_t)> go = [&](std::size_t k) {
    if (k < n) {
      for (const Stretch& s : places[k]) {
        at[k] = s;
        if (go(k + 1)) return true;
      }
      return false;
    }
    if (k < n + reversible.size()) {
      const ReversibleDemand& d = reversible[k - n];
      for (const Demand& way : {Demand{d.a, d.b, d.distance_a_first}, Demand{d.b, d.a, d.distance_b_first}}) {
        all.push_back(way);
        const bool found = go(k + 1);
        all.pop_back();
        if (found) return true;
      }
      return false;
    }
    return consistent(at, all);
  };
  return go(0);
}

inline bool way_between(const SettleProblem& p) {
  return way_between(places_of(p), p.demands, p.reversible);
}

}  // namespace settle_cases
