#include "base/interpolate.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"

namespace culmwright {

namespace {

void require_points(const std::vector<double>& x, const std::vector<double>& y) {
  require(!x.empty() && x.size() == y.size(), "a curve needs points, and as many values as places");
  for (std::size_t i = 1; i < x.size(); ++i) require(x[i] > x[i - 1], "a curve's places must increase");
}

/// Slopes of the natural cubic spline through points [first, last], into `slopes`.
void natural_slopes(const std::vector<double>& x, const std::vector<double>& y, std::size_t first,
                    std::size_t last, std::vector<double>& slopes) {
  const std::size_t n = last - first + 1;
  if (n == 2) {
    slopes.assign(2, (y[last] - y[first]) / (x[last] - x[first]));
    return;
  }
  // Tridiagonal system for the slopes m: natural ends give 2m₀ + m₁ = 3Δ₀.
  std::vector<double> diagonal(n), upper(n), right(n);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t k = first + i;
    double lower = 0.0;
    if (i == 0) {
      diagonal[i] = 2.0;
      upper[i] = 1.0;
      right[i] = 3.0 * (y[k + 1] - y[k]) / (x[k + 1] - x[k]);
    } else if (i + 1 == n) {
      diagonal[i] = 2.0;
      lower = 1.0;
      right[i] = 3.0 * (y[k] - y[k - 1]) / (x[k] - x[k - 1]);
    } else {
      const double before = 1.0 / (x[k] - x[k - 1]);
      const double after = 1.0 / (x[k + 1] - x[k]);
      lower = before;
      diagonal[i] = 2.0 * (before + after);
      upper[i] = after;
      right[i] = 3.0 * ((y[k] - y[k - 1]) * before * before + (y[k + 1] - y[k]) * after * after);
    }
    if (i > 0) {
      const double factor = lower / diagonal[i - 1];
      diagonal[i] -= factor * upper[i - 1];
      right[i] -= factor * right[i - 1];
    }
  }
  slopes.resize(n);
  for (std::size_t i = n; i-- > 0;) {
    slopes[i] = (right[i] - (i + 1 < n ? upper[i] * slopes[i + 1] : 0.0)) / diagonal[i];
  }
}

}  // namespace

PiecewiseCubic PiecewiseCubic::monotone(std::vector<double> x, std::vector<double> y, Beyond beyond) {
  require_points(x, y);
  PiecewiseCubic curve;
  curve.x_ = std::move(x);
  curve.y_ = std::move(y);
  const std::size_t n = curve.x_.size();
  if (n == 1) return curve;
  std::vector<double> secant(n - 1), slope(n);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    secant[i] = (curve.y_[i + 1] - curve.y_[i]) / (curve.x_[i + 1] - curve.x_[i]);
  }
  slope.front() = secant.front();
  slope.back() = secant.back();
  for (std::size_t i = 1; i + 1 < n; ++i) {
    slope[i] = secant[i - 1] * secant[i] <= 0.0 ? 0.0 : 0.5 * (secant[i - 1] + secant[i]);
  }
  for (std::size_t i = 0; i + 1 < n; ++i) {
    if (secant[i] == 0.0) {
      slope[i] = slope[i + 1] = 0.0;
      continue;
    }
    const double a = slope[i] / secant[i];
    const double b = slope[i + 1] / secant[i];
    const double size = std::hypot(a, b);
    if (size > 3.0) {  // back onto the circle of radius 3, inside which the cubic is monotone
      slope[i] = 3.0 * a / size * secant[i];
      slope[i + 1] = 3.0 * b / size * secant[i];
    }
  }
  curve.slope_left_.assign(slope.begin(), slope.end() - 1);
  curve.slope_right_.assign(slope.begin() + 1, slope.end());
  if (beyond == Beyond::linear) {
    curve.slope_before_ = slope.front();
    curve.slope_after_ = slope.back();
  }
  return curve;
}

PiecewiseCubic PiecewiseCubic::spline(std::vector<double> x, std::vector<double> y,
                                      const std::vector<bool>& kink) {
  require_points(x, y);
  require(kink.size() == x.size(), "a kink must be said for every point");
  PiecewiseCubic curve;
  curve.x_ = std::move(x);
  curve.y_ = std::move(y);
  const std::size_t n = curve.x_.size();
  if (n == 1) return curve;
  curve.slope_left_.resize(n - 1);
  curve.slope_right_.resize(n - 1);
  for (std::size_t first = 0; first + 1 < n;) {
    std::size_t last = first + 1;
    while (last + 1 < n && !kink[last]) ++last;
    std::vector<double> slopes;
    natural_slopes(curve.x_, curve.y_, first, last, slopes);
    for (std::size_t i = first; i < last; ++i) {
      curve.slope_left_[i] = slopes[i - first];
      curve.slope_right_[i] = slopes[i - first + 1];
    }
    first = last;
  }
  curve.slope_before_ = curve.slope_left_.front();
  curve.slope_after_ = curve.slope_right_.back();
  return curve;
}

Jet PiecewiseCubic::operator()(double x) const {
  require(!x_.empty(), "an empty curve was asked for a value");
  if (x <= x_.front() || x_.size() == 1) {
    return {y_.front() + slope_before_ * (x - x_.front()), slope_before_, 0.0};
  }
  if (x >= x_.back()) return {y_.back() + slope_after_ * (x - x_.back()), slope_after_, 0.0};
  const std::size_t i = static_cast<std::size_t>(std::upper_bound(x_.begin(), x_.end(), x) - x_.begin()) - 1;
  const double h = x_[i + 1] - x_[i];
  const double t = (x - x_[i]) / h;
  const double rise = y_[i + 1] - y_[i];
  const double left = slope_left_[i] * h;
  const double right = slope_right_[i] * h;
  const double c2 = 3.0 * rise - 2.0 * left - right;
  const double c3 = -2.0 * rise + left + right;
  return {y_[i] + t * (left + t * (c2 + t * c3)), (left + t * (2.0 * c2 + 3.0 * t * c3)) / h,
          (2.0 * c2 + 6.0 * t * c3) / (h * h)};
}

}  // namespace culmwright
