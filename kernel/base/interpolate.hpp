#pragma once
/// Curves through given points of one variable.
#include <vector>

namespace culmwright {

/// Value and first two derivatives of a function of one variable.
struct Jet {
  double value = 0.0;
  double first = 0.0;
  double second = 0.0;
};

/// What a curve does outside its first and last point.
enum class Beyond { held, linear };

/// A piecewise cubic, C¹ at least, through points of strictly increasing x.
class PiecewiseCubic {
 public:
  PiecewiseCubic() = default;

  /// Monotone cubic interpolation (Fritsch & Carlson 1980, SIAM J. Numer. Anal. 17:238–246): C¹, and monotone
  /// wherever the data are, so no overshoot. Precondition: x strictly increasing, sizes equal, at least one
  /// point.
  static PiecewiseCubic monotone(std::vector<double> x, std::vector<double> y, Beyond beyond);

  /// Natural C² cubic spline, broken to C⁰ at those points where `kink` is true (each side then ends
  /// naturally). Outside it is continued by its end tangents. Precondition: as above; kink.size() ==
  /// x.size().
  static PiecewiseCubic spline(std::vector<double> x, std::vector<double> y, const std::vector<bool>& kink);

  Jet operator()(double x) const;
  const std::vector<double>& knots() const { return x_; }

 private:
  std::vector<double> x_;
  std::vector<double> y_;
  std::vector<double> slope_left_;   ///< slope at the start of each interval
  std::vector<double> slope_right_;  ///< slope at the end of each interval
  double slope_before_ = 0.0;
  double slope_after_ = 0.0;
};

}  // namespace culmwright
