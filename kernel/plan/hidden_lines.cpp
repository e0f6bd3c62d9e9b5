#include "plan/hidden_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <unordered_map>

#include "plan/line_chains.hpp"

namespace culmwright {

namespace {

constexpr double cell = 1.5;             ///< of the grid of facets, millimetres of the view
constexpr double sample_step = 0.5;      ///< along a line
constexpr double found_to = 0.02;        ///< where a line goes behind something, along it
constexpr double shortest_hidden = 0.8;  ///< a line does not go behind its own edge for less
constexpr double shortest_visible = 0.5;

/// A piece of a line in space, with the outward normal beside it.
struct SpaceLine {
  Vec3 from;
  Vec3 to;
  Vec3 normal;
};

struct Lines {
  std::vector<LinePiece> visible;
  std::vector<LinePiece> hidden;
};

Vec3 unit_or_zero(Vec3 v) {
  const double l = length(v);
  return l > 0.0 ? v * (1.0 / l) : v;
}

/// Facets of all meshes over the plane of the view, by the cells of a grid.
class Sight {
 public:
  Sight(const std::vector<SeenMesh>& meshes, const ViewFrame& frame) : frame_(frame) {
    for (const SeenMesh& seen : meshes) {
      for (const auto& t : seen.mesh.triangles) {
        add(seen.mesh.vertices[t[0]], seen.mesh.vertices[t[1]], seen.mesh.vertices[t[2]]);
      }
    }
  }
  /// Whether anything stands between that point and the onlooker.
  bool blocked(Vec3 p) const {
    const Vec2 at = frame_.seen(p);
    const double near = dot(p, frame_.toward);
    const auto it = cells_.find(key(index(at.x), index(at.y)));
    if (it == cells_.end()) return false;
    for (const int i : it->second) {
      const Facet& f = facets_[i];
      if (f.nearest <= near) continue;
      const Vec2 q = at - f.a;
      const double u = (q.x * f.v.y - q.y * f.v.x) * f.inverse;
      const double w = (f.u.x * q.y - f.u.y * q.x) * f.inverse;
      if (u < 0.0 || w < 0.0 || u + w > 1.0) continue;
      if (f.depth + u * f.depth_u + w * f.depth_v > near) return true;
    }
    return false;
  }

 private:
  struct Facet {
    Vec2 a, u, v;
    double inverse, depth, depth_u, depth_v, nearest;
  };
  static std::int64_t index(double x) { return static_cast<std::int64_t>(std::floor(x / cell)); }
  static std::int64_t key(std::int64_t x, std::int64_t y) { return x * 1000003 + y; }
  void add(Vec3 a, Vec3 b, Vec3 c) {
    const Vec2 p = frame_.seen(a);
    Facet f{p, frame_.seen(b) - p, frame_.seen(c) - p, 0.0, dot(a, frame_.toward), 0.0, 0.0, 0.0};
    const double twice = cross(f.u, f.v);
    if (std::abs(twice) < 1e-9) return;  // seen edge on: it hides nothing
    f.inverse = 1.0 / twice;
    f.depth_u = dot(b, frame_.toward) - f.depth;
    f.depth_v = dot(c, frame_.toward) - f.depth;
    f.nearest = f.depth + std::max({0.0, f.depth_u, f.depth_v});
    const int number = static_cast<int>(facets_.size());
    facets_.push_back(f);
    const double left = p.x + std::min({0.0, f.u.x, f.v.x}), right = p.x + std::max({0.0, f.u.x, f.v.x});
    const double top = p.y + std::min({0.0, f.u.y, f.v.y}), bottom = p.y + std::max({0.0, f.u.y, f.v.y});
    for (std::int64_t x = index(left); x <= index(right); ++x) {
      for (std::int64_t y = index(top); y <= index(bottom); ++y) {
        if (meets_cell(f, x, y)) cells_[key(x, y)].push_back(number);
      }
    }
  }
  /// Not where one side of the facet has the whole cell outside of it.
  static bool meets_cell(const Facet& f, std::int64_t x, std::int64_t y) {
    const std::array<Vec2, 3> corner{f.a, f.a + f.u, f.a + f.v};
    const double turn = f.inverse > 0.0 ? 1.0 : -1.0;
    const Vec2 middle{(static_cast<double>(x) + 0.5) * cell, (static_cast<double>(y) + 0.5) * cell};
    for (int k = 0; k < 3; ++k) {
      const Vec2 side = corner[(k + 1) % 3] - corner[k];
      const double reach = 0.5 * cell * (std::abs(side.x) + std::abs(side.y));
      if (turn * cross(side, middle - corner[k]) + reach < 0.0) return false;
    }
    return true;
  }

  ViewFrame frame_;
  std::vector<Facet> facets_;
  std::unordered_map<std::int64_t, std::vector<int>> cells_;
};

/// Sets that grow together (union by halving the path).
class Groups {
 public:
  explicit Groups(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0); }
  int root(int i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(int a, int b) {
    const int low = std::min(root(a), root(b)), high = std::max(root(a), root(b));
    parent_[high] = low;
  }

 private:
  std::vector<int> parent_;
};

/// Edges and outlines of one mesh.
class MeshLines {
 public:
  MeshLines(const Mesh& mesh, Vec3 toward)
      : mesh_(mesh), toward_(toward), corners_(3 * mesh.triangles.size()) {
    for (const auto& t : mesh_.triangles) {
      const Vec3 a = mesh_.vertices[t[0]];
      normals_.push_back(cross(mesh_.vertices[t[1]] - a, mesh_.vertices[t[2]] - a));
    }
  }
  std::vector<SpaceLine> all() {
    add_edges();
    add_outlines();
    return std::move(lines_);
  }

 private:
  int face(std::size_t triangle) const { return mesh_.face_of.empty() ? 0 : mesh_.face_of[triangle]; }

  struct Side {
    int low, high, triangle, corner;  ///< corner: of the triangle, at the lower vertex
  };
  std::vector<Side> sorted_sides() const {
    std::vector<Side> sides;
    for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
      for (int k = 0; k < 3; ++k) {
        const int a = mesh_.triangles[t][k], b = mesh_.triangles[t][(k + 1) % 3];
        sides.push_back({std::min(a, b), std::max(a, b), static_cast<int>(t), a < b ? k : (k + 1) % 3});
      }
    }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
      if (a.low != b.low) return a.low < b.low;
      if (a.high != b.high) return a.high < b.high;
      return a.triangle < b.triangle;
    });
    return sides;
  }
  int high_corner(const Side& side) const {
    for (int k = 0; k < 3; ++k) {
      if (mesh_.triangles[side.triangle][k] == side.high) return k;
    }
    return 0;
  }

  /// Edges become lines; across all others the corners of facets share their normal.
  void add_edges() {
    const double smooth = std::cos(least_edge_deg * pi / 180.0);
    const std::vector<Side> sides = sorted_sides();
    for (std::size_t i = 0; i + 1 < sides.size(); ++i) {
      const Side& one = sides[i];
      const Side& other = sides[i + 1];
      if (one.low != other.low || one.high != other.high) continue;
      const Vec3 a = unit_or_zero(normals_[one.triangle]), b = unit_or_zero(normals_[other.triangle]);
      if (face(one.triangle) != face(other.triangle) && dot(a, b) <= smooth) {
        lines_.push_back({mesh_.vertices[one.low], mesh_.vertices[one.high], unit_or_zero(a + b)});
        continue;
      }
      corners_.join(3 * one.triangle + one.corner, 3 * other.triangle + other.corner);
      corners_.join(3 * one.triangle + high_corner(one), 3 * other.triangle + high_corner(other));
    }
  }

  /// At each corner of each facet: the mean over the facets that go over smoothly there, weighed by angle.
  std::vector<Vec3> corner_normals() {
    std::vector<Vec3> sums(3 * mesh_.triangles.size());
    for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
      for (int k = 0; k < 3; ++k) {
        const Vec3 p = mesh_.vertices[mesh_.triangles[t][k]];
        const Vec3 u = mesh_.vertices[mesh_.triangles[t][(k + 1) % 3]] - p;
        const Vec3 v = mesh_.vertices[mesh_.triangles[t][(k + 2) % 3]] - p;
        Vec3& sum = sums[corners_.root(3 * static_cast<int>(t) + k)];
        sum = sum + unit_or_zero(normals_[t]) * std::atan2(length(cross(u, v)), dot(u, v));
      }
    }
    std::vector<Vec3> normals(sums.size());
    for (std::size_t i = 0; i < sums.size(); ++i)
      normals[i] = unit_or_zero(sums[corners_.root(static_cast<int>(i))]);
    return normals;
  }

  void add_outlines() {
    const std::vector<Vec3> normals = corner_normals();
    for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
      const std::array<Vec3, 3> normal{normals[3 * t], normals[3 * t + 1], normals[3 * t + 2]};
      std::array<double, 3> facing{};
      for (int k = 0; k < 3; ++k) facing[k] = dot(normal[k], toward_);
      const bool flat = dot(normal[0], normal[1]) > 1.0 - 1e-9 && dot(normal[1], normal[2]) > 1.0 - 1e-9;
      if (!flat) add_outline(mesh_.triangles[t], normal, facing);
    }
  }
  void add_outline(const std::array<int, 3>& triangle, const std::array<Vec3, 3>& normal,
                   const std::array<double, 3>& facing) {
    std::vector<Vec3> points;
    Vec3 outward;
    for (int k = 0; k < 3; ++k) {
      // From the lower vertex, so that both facets at an edge find the same point to the last bit.
      int a = k, b = (k + 1) % 3;
      if (triangle[a] > triangle[b]) std::swap(a, b);
      if ((facing[a] >= 0.0) == (facing[b] >= 0.0)) continue;
      const double t = facing[a] / (facing[a] - facing[b]);
      const Vec3 p = mesh_.vertices[triangle[a]], q = mesh_.vertices[triangle[b]];
      points.push_back(p + (q - p) * t);
      outward = outward + normal[a] * (1.0 - t) + normal[b] * t;
    }
    if (points.size() == 2) lines_.push_back({points[0], points[1], unit_or_zero(outward)});
  }

  const Mesh& mesh_;
  Vec3 toward_;
  std::vector<Vec3> normals_;  ///< of facets, not of unit length
  Groups corners_;             ///< corner k of facet t is 3 t + k
  std::vector<SpaceLine> lines_;
};

/// A line in space cut where it goes behind something.
void add_cut(const SpaceLine& line, const Sight& sight, const ViewFrame& frame, Lines& lines) {
  const Vec2 a = frame.seen(line.from), b = frame.seen(line.to);
  const double long_ = length(b - a);
  if (long_ < 1e-6) return;
  const Vec3 off = line.normal * hidden_lines_off + frame.toward * (2.0 * hidden_lines_off);
  const auto hidden = [&](double t) { return sight.blocked(line.from + (line.to - line.from) * t + off); };
  const auto add = [&](double from, double to, bool behind) {
    (behind ? lines.hidden : lines.visible).push_back({a + (b - a) * from, a + (b - a) * to});
  };
  const int count = std::max(1, static_cast<int>(std::ceil(long_ / sample_step)));
  double start = 0.0;
  bool now = hidden(0.5 / count);
  for (int i = 1; i < count; ++i) {
    const double next = (i + 0.5) / count;
    if (hidden(next) == now) continue;
    double low = (i - 0.5) / count, high = next;
    while ((high - low) * long_ > found_to) {
      const double middle = 0.5 * (low + high);
      (hidden(middle) == now ? low : high) = middle;
    }
    add(start, 0.5 * (low + high), now);
    start = 0.5 * (low + high);
    now = !now;
  }
  add(start, 1.0, now);
}

void add_pieces(const SeenLine& line, std::vector<LinePiece>& pieces) {
  for (std::size_t i = 1; i < line.size(); ++i) pieces.push_back({line[i - 1], line[i]});
}

double length_of(const SeenLine& line) {
  double sum = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += length(line[i] - line[i - 1]);
  return sum;
}

ChainOptions whole_lines() {
  ChainOptions options;
  options.straight = 0.0;
  options.shortest = 0.0;
  return options;
}

/// Lines of one kind shorter than `shortest` whose two ends are ends of lines of the other kind go over to
/// it.
void give_over(std::vector<LinePiece>& pieces, std::vector<LinePiece>& others, double shortest) {
  const std::vector<SeenLine> lines = chained(pieces, whole_lines());
  std::vector<Vec2> ends;
  for (const SeenLine& line : chained(others, whole_lines())) {
    ends.push_back(line.front());
    ends.push_back(line.back());
  }
  std::sort(ends.begin(), ends.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
  const auto is_end = [&](Vec2 p) {
    constexpr double near = 0.01;
    const auto from =
        std::lower_bound(ends.begin(), ends.end(), p.x - near, [](Vec2 e, double x) { return e.x < x; });
    for (auto it = from; it != ends.end() && it->x <= p.x + near; ++it) {
      if (length(*it - p) <= near) return true;
    }
    return false;
  };
  pieces.clear();
  for (const SeenLine& line : lines) {
    const bool over = length_of(line) < shortest && is_end(line.front()) && is_end(line.back());
    add_pieces(line, over ? others : pieces);
  }
}

}  // namespace

LineView hidden_lines(const std::vector<SeenMesh>& meshes, const ViewFrame& frame) {
  const Sight sight(meshes, frame);
  std::vector<Lines> found;
  std::vector<LinePiece> all_visible;
  for (const SeenMesh& seen : meshes) {
    Lines lines;
    for (const SpaceLine& line : MeshLines(seen.mesh, frame.toward).all()) add_cut(line, sight, frame, lines);
    give_over(lines.hidden, lines.visible, shortest_hidden);
    give_over(lines.visible, lines.hidden, shortest_visible);
    lines.visible = once_only(lines.visible, {});
    all_visible.insert(all_visible.end(), lines.visible.begin(), lines.visible.end());
    found.push_back(std::move(lines));
  }
  LineView view;
  view.frame = frame;
  for (std::size_t i = 0; i < meshes.size(); ++i) {
    view.things.push_back(
        {meshes[i].name, chained(found[i].visible), chained(once_only(found[i].hidden, all_visible))});
  }
  return view;
}

}  // namespace culmwright
