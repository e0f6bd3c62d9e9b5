#include "solid/patch.hpp"

#include <BSplCLib.hxx>
#include <Standard_ConstructionError.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace culmwright {

namespace {

constexpr int degree = 3;

struct Knots {
  std::vector<double> values;
  std::vector<int> multiplicities;
};

/// Clamped knots at the samples without the second and the last but one ("not a knot").
Knots clamped_knots(const std::vector<double>& samples) {
  Knots knots;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (i == 1 || i + 2 == samples.size()) continue;
    knots.values.push_back(samples[i]);
    knots.multiplicities.push_back(1);
  }
  knots.multiplicities.front() = knots.multiplicities.back() = degree + 1;
  return knots;
}

/// Turns samples at `parameters` into the poles of the clamped cubic through them, in place. `values` holds
/// for each sample `width` numbers, one after the other.
void interpolate_clamped(const std::vector<double>& parameters, int width, std::vector<double>& values) {
  const Knots knots = clamped_knots(parameters);
  const int count = static_cast<int>(parameters.size());
  TColStd_Array1OfReal flat(1, count + degree + 1);
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
  BSplCLib::Interpolate(degree, flat, at, contact, width, values[0], problem);
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

/// f at every pair, for each θ in turn.
std::vector<double> sampled(const SurfaceFunction& f, const std::vector<double>& theta,
                            const std::vector<double>& at) {
  std::vector<double> values;
  values.reserve(theta.size() * at.size() * 3);
  for (const double t : theta) {
    for (const double a : at) {
      const Vec3 p = f(t, a);
      values.insert(values.end(), {p.x, p.y, p.z});
    }
  }
  return values;
}

/// Rows and columns exchanged: values of `outer` × `inner` triples.
std::vector<double> exchanged(const std::vector<double>& values, int outer, int inner) {
  std::vector<double> result(values.size());
  for (int i = 0; i < outer; ++i) {
    for (int j = 0; j < inner; ++j) {
      std::copy_n(&values[3 * (i * inner + j)], 3, &result[3 * (j * outer + i)]);
    }
  }
  return result;
}

/// Poles from values of `count_u` × `count_v` triples; row i takes the values of row i + shift.
TColgp_Array2OfPnt pole_array(const std::vector<double>& values, int count_u, int count_v, int shift) {
  TColgp_Array2OfPnt poles(1, count_u, 1, count_v);
  for (int i = 0; i < count_u; ++i) {
    const int from = (i + shift + count_u) % count_u;
    for (int j = 0; j < count_v; ++j) {
      const double* p = &values[3 * (from * count_v + j)];
      poles(i + 1, j + 1) = gp_Pnt(p[0], p[1], p[2]);
    }
  }
  return poles;
}

}  // namespace

Handle(Geom_BSplineSurface) windowed_patch(const SurfaceFunction& f, const std::vector<double>& theta,
                                           const std::vector<double>& at) {
  const int count_u = static_cast<int>(theta.size());
  const int count_v = static_cast<int>(at.size());
  std::vector<double> values = sampled(f, theta, at);
  interpolate_clamped(theta, 3 * count_v, values);
  values = exchanged(values, count_u, count_v);
  interpolate_clamped(at, 3 * count_u, values);
  values = exchanged(values, count_v, count_u);
  const Knots u = clamped_knots(theta);
  const Knots v = clamped_knots(at);
  return new Geom_BSplineSurface(pole_array(values, count_u, count_v, 0), real_array(u.values),
                                 real_array(v.values), integer_array(u.multiplicities),
                                 integer_array(v.multiplicities), degree, degree);
}

Handle(Geom_BSplineSurface)
    periodic_patch(const SurfaceFunction& f, double seam, int count, const std::vector<double>& at) {
  const int count_v = static_cast<int>(at.size());
  std::vector<double> theta;
  Knots u;
  for (int i = 0; i <= count; ++i) {
    u.values.push_back(seam + 2.0 * pi * i / count);
    u.multiplicities.push_back(1);
  }
  theta.assign(u.values.begin(), u.values.end() - 1);
  std::vector<double> values = sampled(f, theta, at);
  interpolate_periodic(count, 3 * count_v, values);
  values = exchanged(values, count, count_v);
  interpolate_clamped(at, 3 * count, values);
  values = exchanged(values, count_v, count);
  const Knots v = clamped_knots(at);
  // The kernel's first pole stands one step before the seam: S(knot 1) = (P1 + 4 P2 + P3) / 6.
  return new Geom_BSplineSurface(pole_array(values, count, count_v, -1), real_array(u.values),
                                 real_array(v.values), integer_array(u.multiplicities),
                                 integer_array(v.multiplicities), degree, degree, true, false);
}

double patch_error(const Handle(Geom_BSplineSurface) & patch, const SurfaceFunction& f) {
  double greatest = 0.0;
  const auto inside = [](const TColStd_Array1OfReal& knots) {
    std::vector<double> places;
    for (int i = knots.Lower(); i < knots.Upper(); ++i) {
      for (const double share : {0.21, 0.5, 0.79}) {
        places.push_back(knots(i) + share * (knots(i + 1) - knots(i)));
      }
    }
    return places;
  };
  const std::vector<double> at = inside(patch->VKnots());
  for (const double u : inside(patch->UKnots())) {
    for (const double v : at) {
      const gp_Pnt p = patch->Value(u, v);
      greatest = std::max(greatest, length(Vec3{p.X(), p.Y(), p.Z()} - f(u, v)));
    }
  }
  return greatest;
}

std::vector<double> graded_values(double from, double to, double step, double fine,
                                  const std::vector<FineRange>& ranges) {
  // The wanted step grows with the distance from the nearest fine range. The values stand at equal shares of
  // the integral of its inverse, summed on cells much smaller than a step.
  constexpr double growth = 0.3;
  const auto density = [&](double x) {
    double away = 1e300;
    for (const FineRange& range : ranges)
      away = std::min(away, std::max({0.0, range.from - x, x - range.to}));
    return 1.0 / std::min(step, fine + growth * away);
  };
  const int cells = std::max(8, static_cast<int>(std::ceil((to - from) / (0.1 * std::min(step, fine)))));
  const double cell = (to - from) / cells;
  std::vector<double> sum{0.0};
  for (int i = 0; i < cells; ++i) sum.push_back(sum.back() + cell * density(from + (i + 0.5) * cell));
  const int steps = std::max(3, static_cast<int>(std::ceil(sum.back() - 1e-9)));
  std::vector<double> values{from};
  int k = 0;
  for (int i = 1; i < steps; ++i) {
    const double target = sum.back() * i / steps;
    while (sum[k + 1] < target) ++k;
    values.push_back(from + cell * (k + (target - sum[k]) / (sum[k + 1] - sum[k])));
  }
  values.push_back(to);
  return values;
}

}  // namespace culmwright
