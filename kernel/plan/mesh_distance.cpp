#include "plan/mesh_distance.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <vector>

#include "base/problem.hpp"
#include "plan/facet_distance.hpp"
#include "plan/mesh_inside.hpp"

namespace culmwright {

namespace {

constexpr int facets_in_leaf = 4;
constexpr double sampled_at = 0.5;
constexpr int most_samples = 50;
constexpr double endless = std::numeric_limits<double>::infinity();

struct Bounds {
  Vec3 low{endless, endless, endless};
  Vec3 high{-endless, -endless, -endless};
  void hold(Vec3 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  bool holds(Vec3 p) const {
    return p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y && p.z >= low.z && p.z <= high.z;
  }
  double size() const { return length(high - low); }
};

double apart(double low_a, double high_a, double low_b, double high_b) {
  return std::max({0.0, low_a - high_b, low_b - high_a});
}

double square_gap(const Bounds& a, const Bounds& b) {
  const Vec3 gap{apart(a.low.x, a.high.x, b.low.x, b.high.x), apart(a.low.y, a.high.y, b.low.y, b.high.y),
                 apart(a.low.z, a.high.z, b.low.z, b.high.z)};
  return dot(gap, gap);
}

double middle_of(const Facet& facet, int axis) {
  const auto along = [&](Vec3 p) { return axis == 0 ? p.x : axis == 1 ? p.y : p.z; };
  return along(facet[0]) + along(facet[1]) + along(facet[2]);
}

int longest_axis(const Bounds& bounds) {
  const Vec3 size = bounds.high - bounds.low;
  if (size.x >= size.y && size.x >= size.z) return 0;
  return size.y >= size.z ? 1 : 2;
}

/// Its corners and a grid between them.
template <class Use>
void for_points_of(const Facet& facet, const Use& use) {
  const Vec3 u = facet[1] - facet[0], v = facet[2] - facet[0];
  const double longest = std::max({length(u), length(v), length(facet[2] - facet[1])});
  const int n = std::clamp(static_cast<int>(std::ceil(longest / sampled_at)), 1, most_samples);
  for (int i = 0; i <= n; ++i) {
    for (int k = 0; k <= n - i; ++k) use(facet[0] + u * (1.0 * i / n) + v * (1.0 * k / n));
  }
}

/// A box with two boxes in it, or with facets.
struct Node {
  Bounds bounds;
  int first = 0;  ///< of the facets, in order
  int count = 0;  ///< 0: not a leaf
  int left = 0;
  int right = 0;
};

}  // namespace

struct MeshTree::Data {
  explicit Data(Mesh given) : mesh(std::move(given)), inside(mesh) {
    for (const auto& t : mesh.triangles) {
      facets.push_back({mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]});
    }
    require(!facets.empty(), "distances were asked from a mesh without facets");
    build(0, static_cast<int>(facets.size()));
  }

  double deepest_in(const MeshTree& other) const;

  int build(int first, int count) {
    const int number = static_cast<int>(nodes.size());
    nodes.emplace_back();
    Bounds bounds;
    for (int i = first; i < first + count; ++i) {
      for (const Vec3& p : facets[i]) bounds.hold(p);
    }
    Node node{bounds, first, count, 0, 0};
    if (count > facets_in_leaf) {
      const int axis = longest_axis(bounds);
      const auto begin = facets.begin() + first;
      // A stable sort: the same tree everywhere.
      std::stable_sort(begin, begin + count, [axis](const Facet& a, const Facet& b) {
        return middle_of(a, axis) < middle_of(b, axis);
      });
      node.count = 0;
      node.left = build(first, count / 2);
      node.right = build(first + count / 2, count - count / 2);
    }
    nodes[number] = node;
    return number;
  }

  Mesh mesh;
  MeshInside inside;
  std::vector<Facet> facets;  ///< in the order of the leaves
  std::vector<Node> nodes;    ///< the first is the root
};

namespace {

/// The nearest pair of facets of two trees, nearer boxes first.
template <class Tree>
class Search {
 public:
  Search(const Tree& a, const Tree& b, double within) : a_(a), b_(b), square_(within * within) {}

  void look(int i, int k) {
    const Node& one = a_.nodes[i];
    const Node& two = b_.nodes[k];
    if (square_ <= 0.0 && found_) return;
    if (square_gap(one.bounds, two.bounds) > square_) return;
    if (one.count > 0 && two.count > 0) return facets(one, two);
    const bool split_first = two.count > 0 || (one.count == 0 && one.bounds.size() >= two.bounds.size());
    const std::array<std::pair<int, int>, 2> pairs =
        split_first ? std::array<std::pair<int, int>, 2>{{{one.left, k}, {one.right, k}}}
                    : std::array<std::pair<int, int>, 2>{{{i, two.left}, {i, two.right}}};
    const auto gap = [&](std::pair<int, int> pair) {
      return square_gap(a_.nodes[pair.first].bounds, b_.nodes[pair.second].bounds);
    };
    const bool second_first = gap(pairs[1]) < gap(pairs[0]);
    for (const std::size_t n : {std::size_t{0}, std::size_t{1}}) {
      const auto& pair = pairs[second_first ? 1 - n : n];
      look(pair.first, pair.second);
    }
  }

  std::optional<MeshDistance> result() const {
    if (!found_) return std::nullopt;
    return MeshDistance{std::sqrt(square_), best_.on_first, best_.on_second, 0.0};
  }

 private:
  void facets(const Node& one, const Node& two) {
    for (int i = one.first; i < one.first + one.count; ++i) {
      for (int k = two.first; k < two.first + two.count; ++k) {
        const NearestPoints nearest = nearest_points(a_.facets[i], b_.facets[k]);
        const Vec3 off = nearest.on_second - nearest.on_first;
        const double square = dot(off, off);
        if (square > square_ || (found_ && square == square_)) continue;
        square_ = square;
        best_ = nearest;
        found_ = true;
      }
    }
  }

  const Tree& a_;
  const Tree& b_;
  double square_;
  NearestPoints best_;
  bool found_ = false;
};

}  // namespace

MeshTree::MeshTree(Mesh mesh) : data_(std::make_shared<const Data>(std::move(mesh))) {}

Vec3 MeshTree::low() const {
  return data_->nodes.front().bounds.low;
}

Vec3 MeshTree::high() const {
  return data_->nodes.front().bounds.high;
}

bool MeshTree::holds(Vec3 p) const {
  return data_->nodes.front().bounds.holds(p) && data_->inside.inside(p);
}

double MeshTree::distance(Vec3 p) const {
  double best = endless;
  std::vector<int> open{0};
  const Bounds point{p, p};
  while (!open.empty()) {
    const Node& node = data_->nodes[open.back()];
    open.pop_back();
    if (square_gap(point, node.bounds) >= best) continue;
    for (int i = node.first; i < node.first + node.count; ++i) {
      const Vec3 off = nearest_on(data_->facets[i], p) - p;
      best = std::min(best, dot(off, off));
    }
    if (node.count > 0) continue;
    const bool left_nearer = square_gap(point, data_->nodes[node.left].bounds) <
                             square_gap(point, data_->nodes[node.right].bounds);
    open.push_back(left_nearer ? node.right : node.left);
    open.push_back(left_nearer ? node.left : node.right);
  }
  return std::sqrt(best);
}

std::optional<MeshDistance> MeshTree::distance(const MeshTree& other, double within) const {
  Search<Data> search(*data_, *other.data_, within);
  search.look(0, 0);
  std::optional<MeshDistance> found = search.result();
  // A whole mesh inside the other may be far from its surface.
  if (!found || !found->meet()) {
    const Vec3 mine = data_->facets.front()[0], theirs = other.data_->facets.front()[0];
    if (!holds(theirs) && !other.holds(mine)) return found;
    const Vec3 common = other.holds(mine) ? mine : theirs;
    found = MeshDistance{0.0, common, common, 0.0};
  }
  found->depth = std::max(data_->deepest_in(other), other.data_->deepest_in(*this));
  return found;
}

double MeshTree::Data::deepest_in(const MeshTree& other) const {
  double depth = 0.0;
  const Bounds there{other.low(), other.high()};
  for (const Facet& facet : facets) {
    Bounds bounds;
    for (const Vec3& p : facet) bounds.hold(p);
    if (square_gap(bounds, there) > 0.0) continue;
    for_points_of(facet, [&](Vec3 p) {
      if (there.holds(p) && other.holds(p)) depth = std::max(depth, other.distance(p));
    });
  }
  return depth;
}

double box_gap(const MeshTree& a, const MeshTree& b) {
  return std::sqrt(square_gap({a.low(), a.high()}, {b.low(), b.high()}));
}

}  // namespace culmwright
