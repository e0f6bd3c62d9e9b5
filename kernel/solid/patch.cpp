#include "solid/patch.hpp"

#include <TColgp_Array2OfPnt.hxx>
#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

/// f at every pair, stored for each θ in turn; asked for each `at` in turn, so that f can keep a section.
std::vector<double> sampled(const SurfaceFunction& f, const std::vector<double>& theta,
                            const std::vector<double>& at) {
  std::vector<double> values(theta.size() * at.size() * 3);
  for (std::size_t j = 0; j < at.size(); ++j) {
    for (std::size_t i = 0; i < theta.size(); ++i) {
      const Vec3 p = f(theta[i], at[j]);
      double* const place = &values[3 * (i * at.size() + j)];
      place[0] = p.x;
      place[1] = p.y;
      place[2] = p.z;
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
  const SplineKnots u = clamped_knots(theta);
  const SplineKnots v = clamped_knots(at);
  return new Geom_BSplineSurface(pole_array(values, count_u, count_v, 0), real_array(u.values),
                                 real_array(v.values), integer_array(u.multiplicities),
                                 integer_array(v.multiplicities), cubic, cubic);
}

Handle(Geom_BSplineSurface)
    periodic_patch(const SurfaceFunction& f, double seam, int count, const std::vector<double>& at) {
  const int count_v = static_cast<int>(at.size());
  std::vector<double> theta;
  SplineKnots u;
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
  const SplineKnots v = clamped_knots(at);
  // The kernel's first pole stands one step before the seam: S(knot 1) = (P1 + 4 P2 + P3) / 6.
  return new Geom_BSplineSurface(pole_array(values, count, count_v, -1), real_array(u.values),
                                 real_array(v.values), integer_array(u.multiplicities),
                                 integer_array(v.multiplicities), cubic, cubic, true, false);
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
