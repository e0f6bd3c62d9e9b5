#include "tube/fit_parameters.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

struct Weights {
  int left = 0;  ///< knot index; the right one follows
  double of_left = 1.0;
  double of_right = 0.0;
};

Weights weights(const FitTerm& term, double at) {
  const std::vector<double>& x = term.at;
  const int n = static_cast<int>(x.size());
  if (n == 1) return {};
  const bool follows = term.spline() || (term.order == 0 && term.field == FitParameter::Field::skin);
  double place = at;
  if (!follows) place = std::clamp(at, x.front(), x.back());
  int right = static_cast<int>(std::upper_bound(x.begin(), x.end(), place) - x.begin());
  right = std::clamp(right, 1, n - 1);
  const double u = (place - x[right - 1]) / (x[right] - x[right - 1]);
  return {right - 1, 1.0 - u, u};
}

}  // namespace

void FitParameters::add(FitTerm term) {
  term.first = size();
  const int skip = term.ends_fixed ? 1 : 0;
  const int count = term.unknowns();
  for (int part = 0; part < (term.order == 0 ? 1 : 2); ++part) {
    for (int i = 0; i < count; ++i) list_.push_back({term.field, term.order, part == 1, term.at[i + skip]});
  }
  terms_.push_back(std::move(term));
}

FourierAlong FitParameters::build(FitParameter::Field field, const std::vector<double>& values) const {
  std::vector<FourierAlong::Term> built;
  for (const FitTerm& term : terms_) {
    if (term.field != field) continue;
    const int skip = term.ends_fixed ? 1 : 0;
    const int count = term.unknowns();
    const auto curve = [&](int offset) {
      std::vector<double> y(term.at.size(), 0.0);
      for (int i = 0; i < count; ++i) y[i + skip] = values[offset + i];
      if (term.spline()) return PiecewiseCubic::spline(term.at, y, term.kink);
      const bool taper = term.order == 0 && field == FitParameter::Field::skin;
      return PiecewiseCubic::monotone(term.at, y, taper ? Beyond::linear : Beyond::held);
    };
    FourierAlong::Term part;
    part.order = term.order;
    part.cosine = curve(term.first);
    if (term.order > 0) part.sine = curve(term.first + count);
    built.push_back(std::move(part));
  }
  return FourierAlong(std::move(built));
}

void FitParameters::add_gradient(FitParameter::Field field, double at, Angle theta, double factor,
                                 int derivative, std::vector<double>& row) const {
  for (const FitTerm& term : terms_) {
    if (term.field != field || (term.order == 0 && derivative > 0)) continue;
    const double k = term.order;
    const double c = std::cos(k * theta.radians());
    const double s = std::sin(k * theta.radians());
    const double of_cosine = derivative == 0 ? c : -k * s;
    const double of_sine = derivative == 0 ? s : k * c;
    const Weights w = weights(term, at);
    const int skip = term.ends_fixed ? 1 : 0;
    const int count = term.unknowns();
    const auto add = [&](int knot, double weight) {
      const int i = knot - skip;
      if (weight == 0.0 || i < 0 || i >= count) return;
      row[term.first + i] += factor * weight * of_cosine;
      if (term.order > 0) row[term.first + count + i] += factor * weight * of_sine;
    };
    add(w.left, w.of_left);
    if (term.at.size() > 1) add(w.left + 1, w.of_right);
  }
}

}  // namespace culmwright
