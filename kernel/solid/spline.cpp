#include "solid/spline.hpp"

#include <BSplCLib.hxx>
#include <Standard_ConstructionError.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <cmath>

namespace culmwright {

SplineKnots clamped_knots(const std::vector<double>& samples) {
  SplineKnots knots;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (i == 1 || i + 2 == samples.size()) continue;
    knots.values.push_back(samples[i]);
    knots.multiplicities.push_back(1);
  }
  knots.multiplicities.front() = knots.multiplicities.back() = cubic + 1;
  return knots;
}

void interpolate_clamped(const std::vector<double>& parameters, int width, std::vector<double>& values) {
  const SplineKnots knots = clamped_knots(parameters);
  const int count = static_cast<int>(parameters.size());
  TColStd_Array1OfReal flat(1, count + cubic + 1);
  int next = 1;
  for (std::size_t i = 0; i < knots.values.size(); ++i) {
    for (int k = 0; k < knots.multiplicities[i]; ++k) flat(next++) = knots.values[i];
  }
  TColStd_Array1OfReal at(1, count);
  TColStd_Array1OfInteger contact(1, count);
  for (int i = 0; i < count; ++i) {
    at(i + 1) = parameters[i];
    contact(i + 1) = 0;
  }
  int problem = 0;
  BSplCLib::Interpolate(cubic, flat, at, contact, width, values[0], problem);
  if (problem != 0) throw Standard_ConstructionError("samples that no cubic passes through");
}

/// Poles d of the uniform periodic cubic with (d[i−1] + 4 d[i] + d[i+1]) / 6 = value[i], in place. Solved by
/// the series of the inverse, whose weights fall by 2 − √3 a step: 40 steps leave nothing in double
/// precision.
void interpolate_periodic(int count, int width, std::vector<double>& values) {
  const double root = std::sqrt(3.0) - 2.0;
  std::vector<double> weights(count, 0.0);
  for (int k = -40; k <= 40; ++k) {
    weights[((k % count) + count) % count] += std::sqrt(3.0) * std::pow(root, std::abs(k));
  }
  std::vector<double> poles(values.size(), 0.0);
  for (int i = 0; i < count; ++i) {
    for (int k = 0; k < count; ++k) {
      const int from = (i + k) % count;
      for (int w = 0; w < width; ++w) poles[i * width + w] += weights[k] * values[from * width + w];
    }
  }
  values = std::move(poles);
}

TColStd_Array1OfReal real_array(const std::vector<double>& values) {
  TColStd_Array1OfReal array(1, static_cast<int>(values.size()));
  for (std::size_t i = 0; i < values.size(); ++i) array(static_cast<int>(i) + 1) = values[i];
  return array;
}

TColStd_Array1OfInteger integer_array(const std::vector<int>& values) {
  TColStd_Array1OfInteger array(1, static_cast<int>(values.size()));
  for (std::size_t i = 0; i < values.size(); ++i) array(static_cast<int>(i) + 1) = values[i];
  return array;
}

Handle(Geom_BSplineCurve)
    curve_through(const std::vector<double>& parameters, const std::vector<Vec3>& points) {
  std::vector<double> values;
  for (const Vec3& p : points) values.insert(values.end(), {p.x, p.y, p.z});
  interpolate_clamped(parameters, 3, values);
  TColgp_Array1OfPnt poles(1, static_cast<int>(points.size()));
  for (int i = 0; i < poles.Length(); ++i) {
    poles(i + 1) = gp_Pnt(values[3 * i], values[3 * i + 1], values[3 * i + 2]);
  }
  const SplineKnots knots = clamped_knots(parameters);
  return new Geom_BSplineCurve(poles, real_array(knots.values), integer_array(knots.multiplicities), cubic);
}

Handle(Geom2d_BSplineCurve)
    curve_through(const std::vector<double>& parameters, const std::vector<Vec2>& points) {
  std::vector<double> values;
  for (const Vec2& p : points) values.insert(values.end(), {p.x, p.y});
  interpolate_clamped(parameters, 2, values);
  TColgp_Array1OfPnt2d poles(1, static_cast<int>(points.size()));
  for (int i = 0; i < poles.Length(); ++i) poles(i + 1) = gp_Pnt2d(values[2 * i], values[2 * i + 1]);
  const SplineKnots knots = clamped_knots(parameters);
  return new Geom2d_BSplineCurve(poles, real_array(knots.values), integer_array(knots.multiplicities), cubic);
}

}  // namespace culmwright
