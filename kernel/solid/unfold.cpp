#include "solid/unfold.hpp"

#include <map>
#include <utility>

namespace culmwright {

namespace {

constexpr int most_rounds = 8;

class Unfolding {
 public:
  Unfolding(const std::vector<Vec2>& places, std::vector<PlaneTriangle>& triangles)
      : places_(places), triangles_(triangles) {}

  bool run() {
    for (int round = 0; round <= most_rounds; ++round) {
      std::vector<int> turned_over;
      for (std::size_t i = 0; i < triangles_.size(); ++i) {
        if (area(triangles_[i]) <= 0.0) turned_over.push_back(static_cast<int>(i));
      }
      if (turned_over.empty()) return true;
      find_sides();
      bool better = false;
      for (const int i : turned_over) better = mend(i) || better;
      if (!better) return false;
    }
    return false;
  }

 private:
  double area(const PlaneTriangle& t) const {
    const Vec2 a = places_[t.corner[0]];
    return cross(places_[t.corner[1]] - a, places_[t.corner[2]] - a);
  }

  void find_sides() {
    side_of_.clear();
    for (std::size_t i = 0; i < triangles_.size(); ++i) {
      for (int k = 0; k < 3; ++k) note(static_cast<int>(i), k);
    }
  }
  void note(int triangle, int k) {
    const auto& corner = triangles_[triangle].corner;
    side_of_[{corner[k], corner[(k + 1) % 3]}] = {triangle, k};
  }

  /// Triangles (a, b, c) and (b, a, d) become (a, d, c) and (d, b, c) where both are then the right way up.
  bool mend(int folded) {
    for (int k = 0; k < 3; ++k) {
      const PlaneTriangle t = triangles_[folded];
      if (t.on_border[k]) continue;
      const auto found = side_of_.find({t.corner[(k + 1) % 3], t.corner[k]});
      if (found == side_of_.end()) continue;
      const auto [other, m] = found->second;
      const PlaneTriangle n = triangles_[other];
      const int a = t.corner[k];
      const int b = t.corner[(k + 1) % 3];
      const int c = t.corner[(k + 2) % 3];
      const int d = n.corner[(m + 2) % 3];
      const PlaneTriangle one{{a, d, c}, {n.on_border[(m + 1) % 3], false, t.on_border[(k + 2) % 3]}};
      const PlaneTriangle two{{d, b, c}, {n.on_border[(m + 2) % 3], t.on_border[(k + 1) % 3], false}};
      if (area(one) <= 0.0 || area(two) <= 0.0) continue;
      triangles_[folded] = one;
      triangles_[other] = two;
      side_of_.erase({a, b});
      side_of_.erase({b, a});
      for (int side = 0; side < 3; ++side) {
        note(folded, side);
        note(other, side);
      }
      return true;
    }
    return false;
  }

  const std::vector<Vec2>& places_;
  std::vector<PlaneTriangle>& triangles_;
  std::map<std::pair<int, int>, std::pair<int, int>> side_of_;
};

}  // namespace

bool unfold(const std::vector<Vec2>& places, std::vector<PlaneTriangle>& triangles) {
  return Unfolding(places, triangles).run();
}

}  // namespace culmwright
