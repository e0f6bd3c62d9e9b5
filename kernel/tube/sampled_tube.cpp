#include "tube/sampled_tube.hpp"

#include <algorithm>
#include <cmath>

#include "base/draws.hpp"
#include "tube/fit_estimate.hpp"

namespace culmwright {

namespace {

constexpr double step = 15.0;  ///< between the points that carry a walk
constexpr int highest_lobe = 8;
/// Of bows made of half waves, the j-th 1/j² of the first: what the waves that pass through all knots leave,
/// between two of them, in parts of the bow times (distance / length) to the power 1.5.
constexpr double unseen_waves = 0.8;
/// Keeps the wander's numbers apart from those of TubeFit::draw for any seed in use.
constexpr unsigned wander_stream = 0x5eed0000U;

struct Points {
  std::vector<double> x;
  std::vector<double> y;
};

/// The knots of a curve with points between them, out to both ends of the tube.
std::vector<double> refined(const std::vector<double>& knots, double end_a, double end_b) {
  std::vector<double> all = knots;
  if (end_a < knots.front() - 1.0) all.insert(all.begin(), end_a);
  if (end_b > knots.back() + 1.0) all.push_back(end_b);
  std::vector<double> x;
  for (std::size_t i = 0; i + 1 < all.size(); ++i) {
    const double gap = all[i + 1] - all[i];
    const int pieces = std::max(1, static_cast<int>(std::ceil(gap / step)));
    for (int k = 0; k < pieces; ++k) x.push_back(all[i] + gap * k / pieces);
  }
  x.push_back(all.back());
  return x;
}

/// The curve plus a random walk of that variance per millimetre, zero at the knots, free beyond them.
Points with_walk(const PiecewiseCubic& curve, double variance, double end_a, double end_b, Draws& draws) {
  const std::vector<double>& knots = curve.knots();
  Points points{refined(knots, end_a, end_b), {}};
  const std::size_t n = points.x.size();
  std::vector<double> walk(n, 0.0);
  const auto is_knot = [&](std::size_t i) {
    return std::binary_search(knots.begin(), knots.end(), points.x[i]);
  };
  std::size_t first = 0;
  while (!is_knot(first)) ++first;
  for (std::size_t i = first; i > 0; --i) {
    walk[i - 1] = walk[i] + std::sqrt(variance * (points.x[i] - points.x[i - 1])) * draws.normal();
  }
  std::size_t next = first;  // the knot at which the walk is pinned again
  for (std::size_t i = first + 1; i < n; ++i) {
    if (next < i) {
      next = i;
      while (next < n && !is_knot(next)) ++next;
    }
    if (next == i) continue;
    const double from_last = points.x[i] - points.x[i - 1];
    if (next == n) {
      walk[i] = walk[i - 1] + std::sqrt(variance * from_last) * draws.normal();
      next = i;
      continue;
    }
    // A bridge from the last point to zero at the knot.
    const double to_knot = points.x[next] - points.x[i];
    const double whole = from_last + to_knot;
    walk[i] =
        walk[i - 1] * to_knot / whole + std::sqrt(variance * from_last * to_knot / whole) * draws.normal();
  }
  for (std::size_t i = 0; i < n; ++i) points.y.push_back(curve(points.x[i]).value + walk[i]);
  return points;
}

double arch_sigma(double bow, double span, double length) {
  return unseen_waves * bow * std::pow(span / length, 1.5);
}

/// The bow with an arch between each two of its knots.
PiecewiseCubic with_arches(const PiecewiseCubic& curve, double bow, double length, Draws& draws) {
  const std::vector<double>& knots = curve.knots();
  Points points{refined(knots, knots.front(), knots.back()), {}};
  std::size_t gap = 0;
  double arch = 0.0;
  for (std::size_t i = 0; i < points.x.size(); ++i) {
    const double x = points.x[i];
    if (gap < knots.size() && x >= knots[gap]) {
      ++gap;
      const double span = gap < knots.size() ? knots[gap] - knots[gap - 1] : 0.0;
      arch = arch_sigma(bow, span, length) * draws.normal();
    }
    const double share = gap < knots.size() ? (x - knots[gap - 1]) / (knots[gap] - knots[gap - 1]) : 0.0;
    points.y.push_back(curve(x).value + arch * std::sin(pi * share));
  }
  return PiecewiseCubic::monotone(points.x, points.y, Beyond::linear);
}

PiecewiseCubic unseen_lobe(double sigma, double end_a, double end_b, Draws& draws) {
  Points points;
  const int pieces = std::max(2, static_cast<int>(std::ceil((end_b - end_a) / (4.0 * step))));
  const double kept = std::exp(-(end_b - end_a) / pieces / prior_length);
  double value = sigma * draws.normal();
  for (int i = 0; i <= pieces; ++i) {
    points.x.push_back(end_a + (end_b - end_a) * i / pieces);
    points.y.push_back(value);
    value = kept * value + sigma * std::sqrt(1.0 - kept * kept) * draws.normal();
  }
  return PiecewiseCubic::monotone(points.x, points.y, Beyond::held);
}

FourierAlong wandering(const TubeFit& fit, const TubeShape& shape, Draws& draws) {
  const FitPriors& priors = fit.priors();
  const double radius = fit.tube().girth(0.5 * (shape.end_a_at + shape.end_b_at)) / (2.0 * pi);
  const double length = shape.end_b_at - shape.end_a_at;
  std::vector<FourierAlong::Term> terms;
  int highest = 0;
  for (const FourierAlong::Term& term : shape.skin.terms()) {
    highest = std::max(highest, term.order);
    const double half =
        term.order == 0 ? 2.0 * priors.skin_wander : 0.5 * coefficient_prior(term.order, priors, radius);
    const auto drawn = [&](const PiecewiseCubic& curve) {
      if (term.order == 1) return with_arches(curve, standard_bow(length, priors), length, draws);
      const Points points = with_walk(curve, half * half / 100.0, shape.end_a_at, shape.end_b_at, draws);
      return PiecewiseCubic::monotone(points.x, points.y, term.order == 0 ? Beyond::linear : Beyond::held);
    };
    terms.push_back({term.order, drawn(term.cosine), term.order == 0 ? term.sine : drawn(term.sine)});
  }
  for (int order = highest + 1; order <= highest_lobe; ++order) {
    const double sigma = coefficient_prior(order, priors, radius);
    terms.push_back({order, unseen_lobe(sigma, shape.end_a_at, shape.end_b_at, draws),
                     unseen_lobe(sigma, shape.end_a_at, shape.end_b_at, draws)});
  }
  return FourierAlong(std::move(terms));
}

}  // namespace

Tube sampled_tube(const TubeFit& fit, unsigned seed) {
  TubeShape shape = fit.with(fit.draw(seed)).shape();
  Draws draws(seed ^ wander_stream);
  shape.skin = wandering(fit, shape, draws);
  return Tube(std::move(shape));
}

double bow_wander_sigma(const TubeFit& fit, double at, const std::vector<double>& also) {
  const TubeShape& shape = fit.tube().shape();
  const double length = shape.end_b_at - shape.end_a_at;
  std::vector<double> knots;
  for (const FourierAlong::Term& term : shape.skin.terms()) {
    if (term.order == 1) knots = term.cosine.knots();
  }
  for (const double place : also) knots.insert(std::lower_bound(knots.begin(), knots.end(), place), place);
  const auto next = std::upper_bound(knots.begin(), knots.end(), at);
  if (next == knots.begin() || next == knots.end()) return 0.0;
  const double span = *next - *(next - 1);
  return arch_sigma(standard_bow(length, fit.priors()), span, length) *
         std::sin(pi * (at - *(next - 1)) / span);
}

Tube sampled_without_wander(const TubeFit& fit, unsigned seed) {
  return fit.with(fit.draw(seed));
}

}  // namespace culmwright
