#include "plan/outline.hpp"

#include <algorithm>

namespace culmwright {

double polygon_area(const std::vector<Vec2>& corners) {
  double sum = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    sum += cross(corners[i], corners[(i + 1) % corners.size()]);
  return 0.5 * sum;
}

Vec2 polygon_middle(const std::vector<Vec2>& corners) {
  Vec2 sum;
  double area = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec2 a = corners[i] - corners[0];
    const Vec2 b = corners[(i + 1) % corners.size()] - corners[0];
    sum = sum + (a + b) * (cross(a, b) / 3.0);
    area += cross(a, b);
  }
  return corners[0] + sum * (1.0 / area);
}

double RoundedRectangle::distance(Vec2 p) const {
  const Vec2 q{std::abs(p.x) - (0.5 * length - corner), std::abs(p.y) - (0.5 * width - corner)};
  const Vec2 beyond{std::max(q.x, 0.0), std::max(q.y, 0.0)};
  return culmwright::length(beyond) + std::min(std::max(q.x, q.y), 0.0) - corner;
}

double RoundedRectangle::reach(Angle direction) const {
  const Vec2 n{std::abs(direction.cos()), std::abs(direction.sin())};
  const double x = 0.5 * length;
  const double y = 0.5 * width;
  if (n.y * x <= n.x * (y - corner)) return x / n.x;
  if (n.x * y <= n.y * (x - corner)) return y / n.y;
  // On the corner's circle: |ρ n − c| = corner, the farther of the two.
  const Vec2 c{x - corner, y - corner};
  const double along = dot(c, n);
  const double across = cross(c, n);
  return along + std::sqrt(std::max(corner * corner - across * across, 0.0));
}

}  // namespace culmwright
