#pragma once
/// A function of direction and place along the tube, as a Fourier series in θ whose coefficients run along
/// it:
///
///     f(θ, at) = f₀(at) + Σ_k [ aₖ(at) cos kθ + bₖ(at) sin kθ ]
#include <vector>

#include "base/angle.hpp"
#include "base/interpolate.hpp"

namespace culmwright {

/// Value and derivatives of a function of direction θ (index t, radians) and of `at` (index s).
struct SurfaceJet {
  double f = 0.0;
  double f_t = 0.0;
  double f_tt = 0.0;
  double f_s = 0.0;
  double f_ts = 0.0;
  double f_ss = 0.0;

  SurfaceJet& operator+=(const SurfaceJet& other);
  SurfaceJet& operator-=(const SurfaceJet& other);
};

/// One order of the series at one `at`, with the derivatives of its coefficients along the tube.
struct FourierTerm {
  int order = 0;
  Jet cosine;
  Jet sine;
};

/// The series at one `at`: cheap to evaluate for many θ.
class FourierSection {
 public:
  /// Precondition: orders rise.
  explicit FourierSection(std::vector<FourierTerm> terms = {}) : terms_(std::move(terms)) {}
  /// `highest`: leave out orders above it.
  SurfaceJet operator()(Angle theta, int highest = 1000) const;
  /// The integral of f over [from, to].
  double integral(Angle from, Angle to) const;
  double mean() const;
  const std::vector<FourierTerm>& terms() const { return terms_; }

 private:
  std::vector<FourierTerm> terms_;
};

class FourierAlong {
 public:
  struct Term {
    int order = 0;
    PiecewiseCubic cosine;
    PiecewiseCubic sine;  ///< unused for order 0
  };

  /// The terms in any order; kept by rising order, each order once.
  explicit FourierAlong(std::vector<Term> terms = {});
  FourierSection section(double at) const;
  const std::vector<Term>& terms() const { return terms_; }

 private:
  std::vector<Term> terms_;
};

}  // namespace culmwright
