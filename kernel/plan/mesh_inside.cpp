#include "plan/mesh_inside.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

constexpr Vec2 sideways{1.1e-7, 0.7e-7};

/// Which side of the line a → b the point p lies on; computed from the lower index to the higher, so that the
/// two triangles at an edge see the same rounding.
bool left_of(const Mesh& mesh, int a, int b, Vec3 p) {
  const bool swap = a > b;
  const Vec3 from = mesh.vertices[swap ? b : a];
  const Vec3 to = mesh.vertices[swap ? a : b];
  const double side = (to.x - from.x) * (p.y - from.y) - (to.y - from.y) * (p.x - from.x);
  return (side >= 0.0) != swap;
}

}  // namespace

MeshInside::MeshInside(Mesh mesh) : mesh_(std::move(mesh)) {
  Vec2 high{-1e300, -1e300};
  low_ = {1e300, 1e300};
  for (const Vec3& v : mesh_.vertices) {
    low_ = {std::min(low_.x, v.x), std::min(low_.y, v.y)};
    high = {std::max(high.x, v.x), std::max(high.y, v.y)};
  }
  const double side = std::sqrt(static_cast<double>(mesh_.triangles.size()));
  columns_ = rows_ = std::clamp(static_cast<int>(side), 1, 256);
  cell_ = {std::max((high.x - low_.x) / columns_, 1e-6), std::max((high.y - low_.y) / rows_, 1e-6)};
  cells_.resize(static_cast<std::size_t>(columns_) * rows_);
  for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
    const auto& [a, b, c] = mesh_.triangles[t];
    const auto [x0, x1] = std::minmax({mesh_.vertices[a].x, mesh_.vertices[b].x, mesh_.vertices[c].x});
    const auto [y0, y1] = std::minmax({mesh_.vertices[a].y, mesh_.vertices[b].y, mesh_.vertices[c].y});
    for (int i = row(y0); i <= row(y1); ++i) {
      for (int k = column(x0); k <= column(x1); ++k) cells_[i * columns_ + k].push_back(static_cast<int>(t));
    }
  }
}

int MeshInside::column(double x) const {
  return static_cast<int>(std::clamp((x - low_.x) / cell_.x, 0.0, columns_ - 1.0));
}

int MeshInside::row(double y) const {
  return static_cast<int>(std::clamp((y - low_.y) / cell_.y, 0.0, rows_ - 1.0));
}

int MeshInside::crossing(const std::array<int, 3>& t, Vec3 p) const {
  const bool left = left_of(mesh_, t[0], t[1], p);
  if (left_of(mesh_, t[1], t[2], p) != left || left_of(mesh_, t[2], t[0], p) != left) return 0;
  const Vec3 a = mesh_.vertices[t[0]];
  const Vec3 n = cross(mesh_.vertices[t[1]] - a, mesh_.vertices[t[2]] - a);
  // The plane's height above p decides; n.z has the sign of `left` unless the triangle stands on edge.
  if (n.z == 0.0) return 0;
  const double height = a.z - ((p.x - a.x) * n.x + (p.y - a.y) * n.y) / n.z;
  if (height <= p.z) return 0;
  return left ? 1 : -1;
}

int MeshInside::winding(Vec3 p) const {
  if (mesh_.triangles.empty()) return 0;
  p.x += sideways.x;
  p.y += sideways.y;
  int count = 0;
  for (const int t : cells_[row(p.y) * columns_ + column(p.x)]) count += crossing(mesh_.triangles[t], p);
  return count;
}

}  // namespace culmwright
