#include "plan/cut_walls.hpp"

#include <algorithm>
#include <cmath>

namespace culmwright {

namespace {

constexpr double bin_length = 1.0;  // mm

double square_distance(Vec2 from_start, Vec2 side) {
  const double t = std::clamp(dot(from_start, side) / dot(side, side), 0.0, 1.0);
  const Vec2 off = from_start - side * t;
  return dot(off, off);
}

}  // namespace

CutWalls::CutWalls(GuideFace face, const std::vector<CutWall>& walls) : face_(std::move(face)) {
  double low = 1e300;
  double high = -1e300;
  for (const CutWall& wall : walls) {
    for (std::size_t i = 0; i < wall.corners.size(); ++i) {
      sides_.push_back({wall.corners[i], wall.corners[(i + 1) % wall.corners.size()]});
      low = std::min(low, wall.corners[i].y);
      high = std::max(high, wall.corners[i].y);
    }
  }
  if (sides_.empty()) return;
  first_at_ = low;
  bins_.resize(static_cast<std::size_t>((high - low) / bin_length) + 1);
  for (std::size_t i = 0; i < sides_.size(); ++i) {
    const auto [from, to] = std::minmax(sides_[i][0].y, sides_[i][1].y);
    for (int k = bin_of(from); k <= bin_of(to); ++k) bins_[k].push_back(static_cast<int>(i));
  }
}

int CutWalls::bin_of(double at) const {
  const double bin = std::floor((at - first_at_) / bin_length);
  return static_cast<int>(std::clamp(bin, 0.0, static_cast<double>(bins_.size()) - 1.0));
}

double CutWalls::distance(Vec3 p) const {
  const GuideFace::Where where = face_.where(p);
  const SurfaceJet h = face_.base().section(where.at).base_support(Angle::from_radians(where.theta));
  const double radius = h.f + h.f_tt + where.offset;
  const Vec2 place{where.theta, where.at};
  const int middle = bin_of(place.y);
  double least = 1e300;
  const auto look = [&](int bin) {
    if (bin < 0 || bin >= static_cast<int>(bins_.size())) return;
    for (const int i : bins_[bin]) {
      const Vec2 off = place - sides_[i][0];
      const Vec2 side = sides_[i][1] - sides_[i][0];
      least = std::min(least, square_distance({off.x * radius, off.y}, {side.x * radius, side.y}));
    }
  };
  look(middle);
  // A side that reaches into no bin up to this one is at least so far away.
  for (int away = 1; away <= static_cast<int>(bins_.size()); ++away) {
    const double reach = (away - 1) * bin_length;
    if (reach * reach >= least) break;
    look(middle - away);
    look(middle + away);
  }
  return std::sqrt(least);
}

}  // namespace culmwright
