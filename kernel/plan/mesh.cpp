#include "plan/mesh.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>

namespace culmwright {

namespace {

/// One side of a triangle, its ends in order, with the direction in which the triangle runs along it.
struct Side {
  int low = 0;
  int high = 0;
  int triangle = 0;
  bool rising = false;  ///< runs from low to high
};

std::vector<Side> sorted_sides(const Mesh& mesh) {
  std::vector<Side> sides;
  sides.reserve(mesh.triangles.size() * 3);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (int k = 0; k < 3; ++k) {
      const int a = mesh.triangles[t][k];
      const int b = mesh.triangles[t][(k + 1) % 3];
      sides.push_back({std::min(a, b), std::max(a, b), static_cast<int>(t), a < b});
    }
  }
  std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
    if (a.low != b.low) return a.low < b.low;
    if (a.high != b.high) return a.high < b.high;
    return a.triangle < b.triangle;
  });
  return sides;
}

/// Sets that grow together (union by halving the path).
class Groups {
 public:
  explicit Groups(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0); }
  int root(int i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(int a, int b) { parent_[root(a)] = root(b); }

 private:
  std::vector<int> parent_;
};

bool degenerate(const Mesh& mesh, const std::array<int, 3>& t) {
  if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0]) return true;
  const Vec3 a = mesh.vertices[t[0]];
  return length(cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a)) <= 0.0;
}

/// Corners of triangles count as one vertex where a fan of neighbours joins them; a vertex of the mesh with
/// more than one fan is pinched.
struct Fans {
  int used_vertices = 0;
  int fans = 0;
};

Fans count_fans(const Mesh& mesh, const std::vector<Side>& sides) {
  Groups corners(mesh.triangles.size() * 3);
  const auto corner_of = [&](int triangle, int vertex) {
    const auto& t = mesh.triangles[triangle];
    return 3 * triangle + (t[0] == vertex ? 0 : t[1] == vertex ? 1 : 2);
  };
  for (std::size_t i = 1; i < sides.size(); ++i) {
    const Side& a = sides[i - 1];
    const Side& b = sides[i];
    if (a.low != b.low || a.high != b.high) continue;
    corners.join(corner_of(a.triangle, a.low), corner_of(b.triangle, a.low));
    corners.join(corner_of(a.triangle, a.high), corner_of(b.triangle, a.high));
  }
  Fans fans;
  std::vector<char> used(mesh.vertices.size(), 0);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (int k = 0; k < 3; ++k) {
      const int corner = static_cast<int>(3 * t) + k;
      fans.fans += corners.root(corner) == corner;
      char& mark = used[mesh.triangles[t][k]];
      fans.used_vertices += mark == 0;
      mark = 1;
    }
  }
  return fans;
}

}  // namespace

double volume(const Mesh& mesh) {
  if (mesh.vertices.empty()) return 0.0;
  // Measured from a point of the mesh, so that a part far from the origin loses no digits.
  const Vec3 from = mesh.vertices.front();
  double six = 0.0;
  for (const auto& t : mesh.triangles) {
    six += dot(mesh.vertices[t[0]] - from, cross(mesh.vertices[t[1]] - from, mesh.vertices[t[2]] - from));
  }
  return six / 6.0;
}

double area(const Mesh& mesh) {
  double twice = 0.0;
  for (const auto& t : mesh.triangles) {
    const Vec3 a = mesh.vertices[t[0]];
    twice += length(cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a));
  }
  return 0.5 * twice;
}

Mesh moved(const Mesh& mesh, const RigidMotion& motion) {
  Mesh result = mesh;
  for (Vec3& v : result.vertices) v = motion.apply(v);
  return result;
}

MeshFaults inspect(const Mesh& mesh) {
  MeshFaults faults;
  const std::vector<Side> sides = sorted_sides(mesh);
  Groups shells(mesh.triangles.size());
  int edges = 0;
  for (std::size_t i = 0, j = 0; i < sides.size(); i = j) {
    int rising = 0;
    for (j = i; j < sides.size() && sides[j].low == sides[i].low && sides[j].high == sides[i].high; ++j) {
      rising += sides[j].rising;
      shells.join(sides[i].triangle, sides[j].triangle);
    }
    const int count = static_cast<int>(j - i);
    ++edges;
    if (count == 1) {
      ++faults.open_edges;
    } else if (count > 2 || rising != 1) {
      ++faults.non_manifold_edges;
    }
  }
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    faults.degenerate_triangles += degenerate(mesh, mesh.triangles[t]);
    faults.shells += shells.root(static_cast<int>(t)) == static_cast<int>(t);
  }
  const Fans fans = count_fans(mesh, sides);
  faults.pinched_vertices = fans.fans - fans.used_vertices;
  // Euler: V − E + F = 2 (shells − genus); a pinched vertex counts once for each of its fans.
  const int characteristic = fans.fans - edges + static_cast<int>(mesh.triangles.size());
  faults.genus = faults.shells - characteristic / 2;
  return faults;
}

}  // namespace culmwright
