#include "solid/cell_scale.hpp"

#include <GeomAbs_SurfaceType.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <algorithm>
#include <cmath>

#include "solid/curves.hpp"

namespace culmwright {

namespace {

constexpr int most_cells = 4000;
constexpr double share_of_chord = 0.5;  ///< both directions and their twist add up
/// Longer cells would serve the chord, but the gate looks at a face where its facets are.
constexpr double longest_cell = 15.0;  // mm
constexpr double shortest_cell = 0.01;

struct Limits {
  double chord = 0.0;
  double angle = 0.0;
};

/// Cells per unit of a parameter, from the derivatives of the surface by it and its normal.
double density_of(Vec3 first, Vec3 second, Vec3 normal, const Limits& limits) {
  const double speed = length(first);
  if (speed <= 0.0) return 0.0;
  const double bend = std::abs(dot(second, normal));
  const double by_chord = std::sqrt(bend / (8.0 * share_of_chord * limits.chord));
  const double by_angle = bend / (speed * limits.angle);
  return std::clamp(std::max(by_chord, by_angle), speed / longest_cell, speed / shortest_cell);
}

/// The greatest density seen at each of several rising places.
struct Profile {
  std::vector<double> places;
  std::vector<double> density;

  explicit Profile(std::vector<double> at) : places(std::move(at)), density(places.size(), 0.0) {}
  void raise(std::size_t i, double value) { density[i] = std::max(density[i], value); }

  /// On [low, high], between two places the greater of theirs.
  CellScale scale(double low, double high) const {
    std::vector<double> breaks{low};
    std::vector<double> between;
    for (std::size_t i = 0; i <= places.size(); ++i) {
      const double end = i < places.size() ? std::clamp(places[i], low, high) : high;
      if (end <= breaks.back()) continue;
      const double before = i > 0 ? density[i - 1] : 0.0;
      const double after = i < places.size() ? density[i] : 0.0;
      between.push_back(std::max({before, after, 1e-9 / (high - low)}));
      breaks.push_back(end);
    }
    return CellScale(breaks, between, most_cells);
  }
};

/// One direction of a grid of control points: those of the first two derivatives, and where they stand.
struct Direction {
  int degree = 0;
  std::vector<double> knots;  ///< flat
  int count = 0;

  double first_factor(int i) const { return degree / (knots[i + degree + 1] - knots[i + 1]); }
  double second_factor(int i) const { return (degree - 1) / (knots[i + degree + 1] - knots[i + 2]); }
  /// Of the control points of the second derivative.
  std::vector<double> second_places() const {
    std::vector<double> places;
    for (int i = 0; i + 2 < count; ++i) {
      double sum = 0.0;
      for (int k = 3; k <= degree; ++k) sum += knots[i + k];
      places.push_back(degree > 2 ? sum / (degree - 2) : 0.5 * (knots[i + 2] + knots[i + 3]));
    }
    return places;
  }
  double place(int i) const {
    double sum = 0.0;
    for (int k = 1; k <= degree; ++k) sum += knots[i + k];
    return sum / degree;
  }
};

std::vector<double> flat_knots(const TColStd_Array1OfReal& sequence) {
  return {sequence.begin(), sequence.end()};
}

/// Densities from the control points of a B-spline without weights: they bound its derivatives.
class ControlNet {
 public:
  explicit ControlNet(const Handle(Geom_BSplineSurface) & surface) {
    poles_.reserve(static_cast<std::size_t>(surface->NbUPoles()) * surface->NbVPoles());
    for (int i = 1; i <= surface->NbUPoles(); ++i) {
      for (int j = 1; j <= surface->NbVPoles(); ++j) poles_.push_back(vec_of(surface->Pole(i, j)));
    }
    u_ = {surface->UDegree(), flat_knots(surface->UKnotSequence()), surface->NbUPoles()};
    v_ = {surface->VDegree(), flat_knots(surface->VKnotSequence()), surface->NbVPoles()};
  }

  SurfaceCells cells(const ParameterBox& box, const Limits& limits) const {
    return {scale(u_, v_, v_.count, 1, {box.low.x, box.high.x}, {box.low.y, box.high.y}, limits),
            scale(v_, u_, 1, v_.count, {box.low.y, box.high.y}, {box.low.x, box.high.x}, limits)};
  }

 private:
  struct Range {
    double low;
    double high;
  };

  /// Along one direction; `stride` leads to the next control point along it, `across` to the next beside it.
  CellScale scale(const Direction& along, const Direction& beside, int stride, int across, Range range,
                  Range window, const Limits& limits) const {
    Profile profile(along.degree > 1 ? along.second_places()
                                     : std::vector<double>{0.5 * (range.low + range.high)});
    const int last = static_cast<int>(profile.places.size()) - 1;
    for (int j = 0; j < beside.count; ++j) {
      // A control point matters where its own span does.
      if (beside.knots[j + beside.degree + 1] < window.low || beside.knots[j] > window.high) continue;
      const int side = j + 1 < beside.count ? across : -across;
      for (int i = 0; i <= last; ++i) {
        const Vec3* const p =
            &poles_[static_cast<std::size_t>(i) * stride + static_cast<std::size_t>(j) * across];
        const Vec3 a = (p[stride] - p[0]) * along.first_factor(i);
        if (along.degree < 2) {
          profile.raise(i, density_of(a, {}, {}, limits));
          continue;
        }
        const Vec3 b = (p[2 * stride] - p[stride]) * along.first_factor(i + 1);
        const Vec3 normal = cross(a + b, p[stride + side] - p[stride]);
        const double size = length(normal);
        if (size <= 0.0) continue;
        const Vec3 second = (b - a) * along.second_factor(i);
        profile.raise(i, density_of((a + b) * 0.5, second, normal * (1.0 / size), limits));
      }
    }
    return profile.scale(range.low, range.high);
  }

  std::vector<Vec3> poles_;
  Direction u_;
  Direction v_;
};

SurfaceCells sampled_cells(const Handle(Geom_Surface) & surface, const ParameterBox& box, int samples,
                           const Limits& limits) {
  Profile along_u(even_values(box.low.x, box.high.x, samples));
  Profile along_v(even_values(box.low.y, box.high.y, samples));
  for (int i = 0; i < samples; ++i) {
    for (int j = 0; j < samples; ++j) {
      gp_Pnt p;
      gp_Vec u;
      gp_Vec v;
      gp_Vec uu;
      gp_Vec vv;
      gp_Vec uv;
      surface->D2(along_u.places[i], along_v.places[j], p, u, v, uu, vv, uv);
      const Vec3 normal = cross(vec_of(u), vec_of(v));
      const double size = length(normal);
      if (size <= 1e-12) continue;
      along_u.raise(i, density_of(vec_of(u), vec_of(uu), normal * (1.0 / size), limits));
      along_v.raise(j, density_of(vec_of(v), vec_of(vv), normal * (1.0 / size), limits));
    }
  }
  return {along_u.scale(box.low.x, box.high.x), along_v.scale(box.low.y, box.high.y)};
}

/// How many samples show all bends of a surface of that kind.
int samples_for(const Handle(Geom_Surface) & surface) {
  switch (GeomAdaptor_Surface(surface).GetType()) {
    case GeomAbs_Plane:
    case GeomAbs_Cylinder:
    case GeomAbs_Cone:
    case GeomAbs_Sphere:
    case GeomAbs_Torus:
      return 9;
    default:
      return 33;
  }
}

}  // namespace

CellScale::CellScale(std::vector<double> places, const std::vector<double>& density, int most)
    : places_(std::move(places)), cells_{0.0} {
  for (std::size_t i = 0; i < density.size(); ++i) {
    cells_.push_back(cells_.back() + density[i] * (places_[i + 1] - places_[i]));
  }
  count_ = std::clamp(static_cast<int>(std::ceil(cells_.back() - 1e-6)), 1, most);
  const double stretch = count_ / cells_.back();
  for (double& c : cells_) c *= stretch;
}

CellScale CellScale::even(double low, double high, double cells) {
  CellScale scale;
  scale.places_ = {low, high};
  scale.cells_ = {0.0, std::max(cells, 1e-6)};
  return scale;
}

namespace {

/// Linear between pairs, and beyond the ends along the last pieces.
double interpolated(const std::vector<double>& from, const std::vector<double>& to, double x) {
  const auto above = std::upper_bound(from.begin() + 1, from.end() - 1, x);
  const auto i = above - from.begin();
  return to[i - 1] + (to[i] - to[i - 1]) * ((x - from[i - 1]) / (from[i] - from[i - 1]));
}

}  // namespace

double CellScale::cells(double parameter) const {
  return interpolated(places_, cells_, parameter);
}

double CellScale::parameter(double cells) const {
  return interpolated(cells_, places_, cells);
}

SurfaceCells surface_cells(const Handle(Geom_Surface) & surface, const ParameterBox& box, double chord,
                           double angle) {
  const Limits limits{chord, angle};
  Handle(Geom_BSplineSurface) spline = Handle(Geom_BSplineSurface)::DownCast(surface);
  if (!spline.IsNull() && !spline->IsURational() && !spline->IsVRational()) {
    if (spline->IsUPeriodic() || spline->IsVPeriodic()) {
      spline = Handle(Geom_BSplineSurface)::DownCast(spline->Copy());
      if (spline->IsUPeriodic()) spline->SetUNotPeriodic();
      if (spline->IsVPeriodic()) spline->SetVNotPeriodic();
    }
    return ControlNet(spline).cells(box, limits);
  }
  return sampled_cells(surface, box, samples_for(surface), limits);
}

SurfaceCells even_cells(const Handle(Geom_Surface) & surface, const ParameterBox& box) {
  const Vec2 middle = (box.low + box.high) * 0.5;
  gp_Pnt p;
  gp_Vec u;
  gp_Vec v;
  surface->D1(middle.x, middle.y, p, u, v);
  return {CellScale::even(box.low.x, box.high.x, u.Magnitude() * (box.high.x - box.low.x)),
          CellScale::even(box.low.y, box.high.y, v.Magnitude() * (box.high.y - box.low.y))};
}

}  // namespace culmwright
