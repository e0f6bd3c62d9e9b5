#include "tube/fourier.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"

namespace culmwright {

SurfaceJet& SurfaceJet::operator+=(const SurfaceJet& other) {
  f += other.f;
  f_t += other.f_t;
  f_tt += other.f_tt;
  f_s += other.f_s;
  f_ts += other.f_ts;
  f_ss += other.f_ss;
  return *this;
}

SurfaceJet& SurfaceJet::operator-=(const SurfaceJet& other) {
  f -= other.f;
  f_t -= other.f_t;
  f_tt -= other.f_tt;
  f_s -= other.f_s;
  f_ts -= other.f_ts;
  f_ss -= other.f_ss;
  return *this;
}

SurfaceJet FourierSection::operator()(Angle theta, int highest) const {
  SurfaceJet sum;
  // cos kθ and sin kθ by turning on; orders are small, so nothing is lost.
  const double c1 = theta.cos();
  const double s1 = theta.sin();
  double c = 1.0;
  double s = 0.0;
  int order = 0;
  for (const FourierTerm& term : terms_) {
    if (term.order > highest) break;
    for (; order < term.order; ++order) {
      const double turned = c * c1 - s * s1;
      s = s * c1 + c * s1;
      c = turned;
    }
    const double k = term.order;
    sum.f += term.cosine.value * c + term.sine.value * s;
    sum.f_t += k * (term.sine.value * c - term.cosine.value * s);
    sum.f_tt -= k * k * (term.cosine.value * c + term.sine.value * s);
    sum.f_s += term.cosine.first * c + term.sine.first * s;
    sum.f_ts += k * (term.sine.first * c - term.cosine.first * s);
    sum.f_ss += term.cosine.second * c + term.sine.second * s;
  }
  return sum;
}

double FourierSection::integral(Angle from, Angle to) const {
  double sum = 0.0;
  for (const FourierTerm& term : terms_) {
    if (term.order == 0) {
      sum += term.cosine.value * (to - from).radians();
      continue;
    }
    const double k = term.order;
    const double t0 = k * from.radians();
    const double t1 = k * to.radians();
    sum += (term.cosine.value * (std::sin(t1) - std::sin(t0)) -
            term.sine.value * (std::cos(t1) - std::cos(t0))) /
           k;
  }
  return sum;
}

double FourierSection::mean() const {
  for (const FourierTerm& term : terms_) {
    if (term.order == 0) return term.cosine.value;
  }
  return 0.0;
}

FourierAlong::FourierAlong(std::vector<Term> terms) : terms_(std::move(terms)) {
  std::sort(terms_.begin(), terms_.end(), [](const Term& a, const Term& b) { return a.order < b.order; });
  for (std::size_t i = 1; i < terms_.size(); ++i) {
    require(terms_[i].order > terms_[i - 1].order, "a Fourier series with an order twice");
  }
}

FourierSection FourierAlong::section(double at) const {
  std::vector<FourierTerm> terms;
  terms.reserve(terms_.size());
  for (const Term& term : terms_) {
    terms.push_back({term.order, term.cosine(at), term.order == 0 ? Jet{} : term.sine(at)});
  }
  return FourierSection(std::move(terms));
}

}  // namespace culmwright
