#include "tube/fourier.hpp"

#include <cmath>

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
  for (const FourierTerm& term : terms_) {
    const double k = term.order;
    if (term.order > highest) continue;
    const double c = std::cos(k * theta.radians());
    const double s = std::sin(k * theta.radians());
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

FourierSection FourierAlong::section(double at) const {
  std::vector<FourierTerm> terms;
  terms.reserve(terms_.size());
  for (const Term& term : terms_) {
    terms.push_back({term.order, term.cosine(at), term.order == 0 ? Jet{} : term.sine(at)});
  }
  return FourierSection(std::move(terms));
}

}  // namespace culmwright
