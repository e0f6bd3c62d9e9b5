#include "plan/facet_distance.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace culmwright {

namespace {

/// Where p's foot lies on a straight piece, 0 to 1.
double foot(const std::array<Vec3, 2>& piece, Vec3 p) {
  const Vec3 along = piece[1] - piece[0];
  const double square = dot(along, along);
  return square > 0.0 ? std::clamp(dot(p - piece[0], along) / square, 0.0, 1.0) : 0.0;
}

Vec3 at(const std::array<Vec3, 2>& piece, double t) {
  return piece[0] + (piece[1] - piece[0]) * t;
}

double square_of(const NearestPoints& pair) {
  const Vec3 off = pair.on_second - pair.on_first;
  return dot(off, off);
}

Vec3 nearest_on_sides(const Facet& facet, Vec3 p) {
  Vec3 best = facet[0];
  double least = 1e300;
  for (int i = 0; i < 3; ++i) {
    const std::array<Vec3, 2> side{facet[i], facet[(i + 1) % 3]};
    const Vec3 q = at(side, foot(side, p));
    const double square = dot(q - p, q - p);
    if (square >= least) continue;
    least = square;
    best = q;
  }
  return best;
}

/// Whether a point of the facet's plane lies in it.
bool within(const Facet& facet, Vec3 normal, Vec3 q) {
  for (int i = 0; i < 3; ++i) {
    if (dot(cross(facet[(i + 1) % 3] - facet[i], q - facet[i]), normal) < 0.0) return false;
  }
  return true;
}

Vec3 normal_of(const Facet& facet) {
  return cross(facet[1] - facet[0], facet[2] - facet[0]);
}

/// Where a straight piece passes through a facet, from one side of its plane to the other.
std::optional<Vec3> through(const Facet& facet, const std::array<Vec3, 2>& piece) {
  const Vec3 normal = normal_of(facet);
  const double from = dot(piece[0] - facet[0], normal);
  const double to = dot(piece[1] - facet[0], normal);
  if ((from > 0.0) == (to > 0.0) || from == to) return std::nullopt;
  const Vec3 q = at(piece, from / (from - to));
  if (!within(facet, normal, q)) return std::nullopt;
  return q;
}

}  // namespace

Vec3 nearest_on(const Facet& facet, Vec3 p) {
  const Vec3 normal = normal_of(facet);
  const double square = dot(normal, normal);
  if (square > 0.0) {
    const Vec3 q = p - normal * (dot(p - facet[0], normal) / square);
    if (within(facet, normal, q)) return q;
  }
  return nearest_on_sides(facet, p);
}

NearestPoints nearest_points(const std::array<Vec3, 2>& a, const std::array<Vec3, 2>& b) {
  const Vec3 u = a[1] - a[0], v = b[1] - b[0], w = a[0] - b[0];
  const double uu = dot(u, u), uv = dot(u, v), vv = dot(v, v);
  const double denominator = uu * vv - uv * uv;
  // Nearly parallel: any place of the first will do for a start, the feet then settle it from both ends.
  double s = 0.0;
  if (denominator > 1e-14 * uu * vv)
    s = std::clamp((uv * dot(v, w) - vv * dot(u, w)) / denominator, 0.0, 1.0);
  NearestPoints best;
  double least = 1e300;
  const auto consider = [&](Vec3 on_a, Vec3 on_b) {
    const NearestPoints pair{on_a, on_b};
    if (square_of(pair) >= least) return;
    least = square_of(pair);
    best = pair;
  };
  const Vec3 on_b = at(b, foot(b, at(a, s)));
  consider(at(a, foot(a, on_b)), on_b);
  for (const Vec3& end : a) consider(end, at(b, foot(b, end)));
  for (const Vec3& end : b) consider(at(a, foot(a, end)), end);
  return best;
}

NearestPoints nearest_points(const Facet& a, const Facet& b) {
  NearestPoints best;
  double least = 1e300;
  const auto consider = [&](const NearestPoints& pair) {
    const double square = square_of(pair);
    if (square >= least) return;
    least = square;
    best = pair;
  };
  for (int i = 0; i < 3; ++i) {
    const std::array<Vec3, 2> side_a{a[i], a[(i + 1) % 3]}, side_b{b[i], b[(i + 1) % 3]};
    if (const auto q = through(b, side_a)) return {*q, *q};
    if (const auto q = through(a, side_b)) return {*q, *q};
    consider({a[i], nearest_on(b, a[i])});
    consider({nearest_on(a, b[i]), b[i]});
    for (int k = 0; k < 3; ++k) consider(nearest_points(side_a, {b[k], b[(k + 1) % 3]}));
  }
  return best;
}

}  // namespace culmwright
