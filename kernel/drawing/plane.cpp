#include "drawing/plane.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace culmwright {

namespace {

/// The share [from, to] of a → b inside the box (Liang & Barsky 1984); from > to when outside.
struct Share {
  double from = 0.0;
  double to = 1.0;
};
Share share_inside(Vec2 a, Vec2 b, const Box& box) {
  Share share;
  const auto limit = [&](double start, double step, double low, double high) {
    if (step == 0.0) {
      if (start < low || start > high) share.to = -1.0;
      return;
    }
    const double one = (low - start) / step;
    const double other = (high - start) / step;
    share.from = std::max(share.from, std::min(one, other));
    share.to = std::min(share.to, std::max(one, other));
  };
  limit(a.x, b.x - a.x, box.left, box.right);
  limit(a.y, b.y - a.y, box.top, box.bottom);
  return share;
}

/// What of a polygon lies where depth(p) ≥ 0, depth being linear.
Polyline half_plane_part(const Polyline& polygon, const std::function<double(Vec2)>& depth) {
  Polyline kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 a = polygon[i];
    const Vec2 b = polygon[(i + 1) % polygon.size()];
    const double da = depth(a);
    const double db = depth(b);
    if (da >= 0.0) kept.push_back(a);
    if ((da >= 0.0) != (db >= 0.0)) kept.push_back(a + (b - a) * (da / (da - db)));
  }
  return kept;
}

/// Where the line through `base` along `along` crosses the polygons, as sorted parameters.
std::vector<double> crossings(const std::vector<Polyline>& polygons, Vec2 base, Vec2 along) {
  std::vector<double> found;
  for (const Polyline& polygon : polygons) {
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Vec2 a = polygon[i] - base;
      const Vec2 b = polygon[(i + 1) % polygon.size()] - base;
      const double da = cross(along, a);
      const double db = cross(along, b);
      if ((da >= 0.0) == (db >= 0.0)) continue;
      found.push_back(dot(along, a + (b - a) * (da / (da - db))));
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// Takes the stretches between pairs of `holes` out of [from, to].
std::vector<Share> less(double from, double to, const std::vector<double>& holes) {
  std::vector<Share> kept;
  double start = from;
  for (std::size_t i = 0; i + 1 < holes.size(); i += 2) {
    if (holes[i + 1] <= start || holes[i] >= to) continue;
    if (holes[i] > start) kept.push_back({start, holes[i]});
    start = std::max(start, holes[i + 1]);
  }
  if (start < to) kept.push_back({start, to});
  return kept;
}

}  // namespace

std::vector<Polyline> clipped(const Polyline& line, const Box& box) {
  std::vector<Polyline> pieces;
  bool open = false;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Share share = share_inside(line[i], line[i + 1], box);
    if (share.from > share.to) {
      open = false;
      continue;
    }
    const Vec2 step = line[i + 1] - line[i];
    if (!open || share.from > 0.0) pieces.push_back({line[i] + step * share.from});
    pieces.back().push_back(share.to < 1.0 ? line[i] + step * share.to : line[i + 1]);
    open = share.to >= 1.0;
  }
  return pieces;
}

Polyline clipped_polygon(const Polyline& polygon, const Box& box) {
  Polyline part = half_plane_part(polygon, [&](Vec2 p) { return p.x - box.left; });
  part = half_plane_part(part, [&](Vec2 p) { return box.right - p.x; });
  part = half_plane_part(part, [&](Vec2 p) { return p.y - box.top; });
  return half_plane_part(part, [&](Vec2 p) { return box.bottom - p.y; });
}

std::vector<Polyline> outside_of(const Polyline& line, const std::vector<Polyline>& polygons) {
  std::vector<Polyline> pieces;
  bool open = false;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Vec2 step = line[i + 1] - line[i];
    const double size = length(step);
    if (size == 0.0) continue;
    std::vector<double> splits = crossings(polygons, line[i], step * (1.0 / size));
    splits.insert(splits.begin(), 0.0);
    splits.push_back(size);
    std::sort(splits.begin(), splits.end());
    for (std::size_t k = 0; k + 1 < splits.size(); ++k) {
      if (splits[k] < 0.0 || splits[k + 1] > size || splits[k] == splits[k + 1]) continue;
      const auto at = [&](double t) { return line[i] + step * (t / size); };
      const Vec2 middle = at(0.5 * (splits[k] + splits[k + 1]));
      const auto holds = [&](const Polyline& polygon) { return inside(polygon, middle); };
      if (std::any_of(polygons.begin(), polygons.end(), holds)) {
        open = false;
        continue;
      }
      if (!open) pieces.push_back({at(splits[k])});
      pieces.back().push_back(at(splits[k + 1]));
      open = true;
    }
  }
  return pieces;
}

std::vector<Segment> hatched(const std::vector<Polyline>& region, Angle angle, double spacing,
                             const std::vector<Polyline>& left_free) {
  const Vec2 along = direction_on_page(angle);
  const Vec2 across{-along.y, along.x};
  double low = 1e300;
  double high = -1e300;
  for (const Polyline& polygon : region) {
    for (Vec2 p : polygon) {
      low = std::min(low, dot(p, across));
      high = std::max(high, dot(p, across));
    }
  }
  std::vector<Segment> lines;
  if (low > high) return lines;
  for (double k = std::ceil(low / spacing); k * spacing <= high; k += 1.0) {
    const Vec2 base = across * (k * spacing);
    const std::vector<double> in = crossings(region, base, along);
    for (std::size_t i = 0; i + 1 < in.size(); i += 2) {
      std::vector<Share> kept{{in[i], in[i + 1]}};
      for (const Polyline& free : left_free) {
        const std::vector<double> holes = crossings({free}, base, along);
        std::vector<Share> next;
        for (const Share& share : kept) {
          for (const Share& part : less(share.from, share.to, holes)) next.push_back(part);
        }
        kept = next;
      }
      for (const Share& share : kept) lines.push_back({base + along * share.from, base + along * share.to});
    }
  }
  return lines;
}

Shape hatch_shape(const std::vector<Segment>& lines) {
  Path path;
  for (const Segment& line : lines) path.contours.push_back({line.from, {{line.to, {}}}, false});
  return stroked(path, LineType::continuous_thin);
}

bool inside(const Polyline& polygon, Vec2 point) {
  bool odd = false;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 a = polygon[i];
    const Vec2 b = polygon[i + 1 < polygon.size() ? i + 1 : 0];
    if ((a.y > point.y) == (b.y > point.y)) continue;
    if (point.x < a.x + (b.x - a.x) * ((point.y - a.y) / (b.y - a.y))) odd = !odd;
  }
  return odd;
}

double signed_area(const Polyline& polygon) {
  double sum = 0.0;
  for (std::size_t i = 0; i < polygon.size(); ++i)
    sum += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  return 0.5 * sum;
}

bool crosses(const Segment& a, const Segment& b) {
  const Vec2 u = a.to - a.from;
  const Vec2 v = b.to - b.from;
  const auto side = [](Vec2 d, Vec2 p) { return cross(d, p) > 0.0; };
  return side(u, b.from - a.from) != side(u, b.to - a.from) &&
         side(v, a.from - b.from) != side(v, a.to - b.from);
}

bool overlap(const Quad& a, const Quad& b) {
  // Separating axes: the four edges' normals of either.
  const auto separated_by_edges_of = [](const Quad& one, const Quad& other) {
    for (std::size_t i = 0; i < 4; ++i) {
      const Vec2 edge = one[(i + 1) % 4] - one[i];
      double own = -1e300;
      double least = 1e300;
      for (Vec2 p : one) own = std::max(own, -cross(edge, p - one[i]));
      for (Vec2 p : other) least = std::min(least, -cross(edge, p - one[i]));
      double own_least = 1e300;
      double greatest = -1e300;
      for (Vec2 p : one) own_least = std::min(own_least, -cross(edge, p - one[i]));
      for (Vec2 p : other) greatest = std::max(greatest, -cross(edge, p - one[i]));
      if (least >= own || greatest <= own_least) return true;
    }
    return false;
  };
  return !separated_by_edges_of(a, b) && !separated_by_edges_of(b, a);
}

bool meets(const Segment& segment, const Quad& quad) {
  const auto holds = [&](Vec2 p) {
    // The same side of all four edges.
    int left = 0;
    for (std::size_t i = 0; i < 4; ++i)
      left += cross(quad[(i + 1) % 4] - quad[i], p - quad[i]) >= 0.0 ? 1 : 0;
    return left == 0 || left == 4;
  };
  if (holds(segment.from) || holds(segment.to)) return true;
  for (std::size_t i = 0; i < 4; ++i) {
    if (crosses(segment, {quad[i], quad[(i + 1) % 4]})) return true;
  }
  return false;
}

double distance(const Segment& segment, Vec2 point) {
  const Vec2 step = segment.to - segment.from;
  const double size = dot(step, step);
  const double share = size > 0.0 ? std::clamp(dot(point - segment.from, step) / size, 0.0, 1.0) : 0.0;
  return length(point - segment.from - step * share);
}

}  // namespace culmwright
