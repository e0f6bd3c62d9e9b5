#pragma once
/// Small numerical tools used throughout.
#include <algorithm>
#include <cmath>

namespace culmwright {

/// Places and weights of the five-point Gauss–Legendre rule on `pieces` equal pieces of [a, b], each given to
/// use(place, weight): for several integrals at once. Exact for polynomials of degree 9 in each piece.
template <class Use>
void over_gauss_points(double a, double b, int pieces, const Use& use) {
  constexpr double x[3] = {0.0, 0.53846931010568309104, 0.90617984593866399280};
  constexpr double w[3] = {0.56888888888888888889, 0.47862867049936646804, 0.23692688505618908751};
  const double half = (b - a) / (2.0 * pieces);
  for (int i = 0; i < pieces; ++i) {
    const double middle = a + half * (2 * i + 1);
    use(middle, w[0] * half);
    for (int k = 1; k < 3; ++k) {
      use(middle - half * x[k], w[k] * half);
      use(middle + half * x[k], w[k] * half);
    }
  }
}

/// ∫ f over [a, b] by that rule.
template <class F>
double integrate(const F& f, double a, double b, int pieces) {
  double sum = 0.0;
  over_gauss_points(a, b, pieces, [&](double x, double weight) { sum += weight * f(x); });
  return sum;
}

/// A root of f in [a, b], where f(a) and f(b) differ in sign, to within `tolerance` in x. Regula falsi with
/// the Illinois step, falling back to halving; at most 200 evaluations.
template <class F>
double find_root(const F& f, double a, double b, double tolerance) {
  double fa = f(a);
  double fb = f(b);
  if (fa == 0.0) return a;
  if (fb == 0.0) return b;
  for (int i = 0; i < 200 && std::abs(b - a) > tolerance; ++i) {
    double x = (i % 3 == 2) ? 0.5 * (a + b) : (a * fb - b * fa) / (fb - fa);
    if (!(x > std::min(a, b) && x < std::max(a, b))) x = 0.5 * (a + b);
    const double fx = f(x);
    if (fx == 0.0) return x;
    if ((fx > 0.0) == (fb > 0.0)) {
      fa *= 0.5;
    } else {
      a = b;
      fa = fb;
    }
    b = x;
    fb = fx;
  }
  return b;
}

}  // namespace culmwright
