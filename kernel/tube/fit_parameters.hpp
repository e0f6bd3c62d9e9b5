#pragma once
/// The unknowns of the survey's least squares: which coefficient stands at which index, and how a value of
/// the shape depends on them. For the fit alone.
#include <vector>

#include "tube/survey_fit.hpp"

namespace culmwright {

/// One order of one field along the tube.
struct FitTerm {
  FitParameter::Field field = FitParameter::Field::skin;
  int order = 0;
  std::vector<double> at;   ///< knots
  std::vector<bool> kink;   ///< order 1 of the skin only
  bool ends_fixed = false;  ///< first and last knot are zero and no unknowns
  int first = 0;            ///< index of the first cosine unknown; the sines follow
  int unknowns() const { return static_cast<int>(at.size()) - (ends_fixed ? 2 : 0); }
  bool spline() const { return field == FitParameter::Field::skin && order == 1; }
};

class FitParameters {
 public:
  void add(FitTerm term);
  int size() const { return static_cast<int>(list_.size()); }
  const std::vector<FitTerm>& terms() const { return terms_; }
  const std::vector<FitParameter>& list() const { return list_; }
  FourierAlong build(FitParameter::Field field, const std::vector<double>& values) const;

  /// Adds factor · d f(θ, at)/d unknown to `row` for every order of the field. Between knots
  /// linear; beyond them order 0 of the skin follows its end slope, the bow its end tangent, the rest is
  /// held. `derivative`: 0 for f, 1 for its derivative by θ.
  void add_gradient(FitParameter::Field field, double at, Angle theta, double factor, int derivative,
                    std::vector<double>& row) const;

 private:
  std::vector<FitTerm> terms_;
  std::vector<FitParameter> list_;
};

}  // namespace culmwright
