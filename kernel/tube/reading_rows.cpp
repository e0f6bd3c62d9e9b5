#include "tube/reading_rows.hpp"

namespace culmwright {

std::vector<double> sum_of(std::vector<double> a, const std::vector<double>& b, double factor) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] += factor * b[i];
  return a;
}

std::vector<double> girth_row(const TubeFit& fit, double at) {
  std::vector<double> row(fit.values().size(), 0.0);
  for (int i = 0; i < 16; ++i) {
    row = sum_of(std::move(row), fit.support_gradient(at, Angle::from_degrees(22.5 * i)), 2.0 * pi / 16);
  }
  return row;
}

std::vector<double> width_row(const TubeFit& fit, double at, Angle facing) {
  return sum_of(fit.support_gradient(at, facing), fit.support_gradient(at, facing + Angle::from_degrees(180)),
                1.0);
}

std::vector<double> gap_row(const TubeFit& fit, double at, Angle facing) {
  const Tube& tube = fit.tube();
  const double share = (at - tube.end_a_at()) / tube.length();
  std::vector<double> row = sum_of(std::vector<double>(fit.values().size(), 0.0),
                                   fit.support_gradient(tube.end_a_at(), facing), 1.0 - share);
  row = sum_of(std::move(row), fit.support_gradient(tube.end_b_at(), facing), share);
  return sum_of(std::move(row), fit.support_gradient(at, facing), -1.0);
}

}  // namespace culmwright
