#pragma once
/// Cubic B-splines through given values, and curves made of them. For this folder.
#include <Geom2d_BSplineCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <vector>

#include "base/vec.hpp"

namespace culmwright {

constexpr int cubic = 3;

struct SplineKnots {
  std::vector<double> values;
  std::vector<int> multiplicities;
};

/// Clamped knots at the samples without the second and the last but one ("not a knot").
SplineKnots clamped_knots(const std::vector<double>& samples);

/// Turns samples at `parameters` into the poles of the clamped cubic through them, in place. `values` holds
/// for each sample `width` numbers, one after the other. Precondition: parameters strictly increasing, four
/// at least. Throws Standard_Failure.
void interpolate_clamped(const std::vector<double>& parameters, int width, std::vector<double>& values);

/// Poles d of the uniform periodic cubic with (d[i−1] + 4 d[i] + d[i+1]) / 6 = value[i], in place.
void interpolate_periodic(int count, int width, std::vector<double>& values);

TColStd_Array1OfReal real_array(const std::vector<double>& values);
TColStd_Array1OfInteger integer_array(const std::vector<int>& values);

/// The clamped cubic through the points at the parameters.
Handle(Geom_BSplineCurve)
    curve_through(const std::vector<double>& parameters, const std::vector<Vec3>& points);
Handle(Geom2d_BSplineCurve)
    curve_through(const std::vector<double>& parameters, const std::vector<Vec2>& points);

}  // namespace culmwright
