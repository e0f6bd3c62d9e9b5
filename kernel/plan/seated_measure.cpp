/// What a seated part must weigh in volume, area and holes: the gate's measure for the solid built from it.
#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

#include "plan/seated_levels.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

constexpr double difference_step = 1e-4;  ///< of t, for slopes along leaning walls
constexpr double ring_share = 0.5;        ///< where a pin's ring of probes lies between hole and edge

class SeatedMeasure {
 public:
  SeatedMeasure(const SeatedPart& plan, const Tube& tube) : plan_(plan), tube_(tube) {}

  double height(int level, Vec2 xy) const { return level_height(plan_, tube_, level, xy); }

  double face_area(const SeatedFace& face) const {
    return over_loops(face, [&](Vec2 xy) { return 1.0 / level_place(plan_, tube_, face.level, xy).facing; });
  }
  /// ∮ z n_z dA over the face.
  double face_moment(const SeatedFace& face) const {
    const double sum = over_loops(face, [&](Vec2 xy) { return height(face.level, xy); });
    return face.looks_up ? sum : -sum;
  }
  double wall_area(const SeatedWall& wall) const {
    if (wall.lean == 0.0) {
      return along_path(wall.path, [&](const PathPiece& piece, double t) {
        return height(wall.high, piece.at(t)) - height(wall.low, piece.at(t));
      });
    }
    return over_lean(wall, [](Vec3, Vec3 by_t, Vec3 by_s) { return length(cross(by_t, by_s)); });
  }
  double wall_moment(const SeatedWall& wall) const {
    if (wall.lean == 0.0) return 0.0;
    return over_lean(wall, [](Vec3 p, Vec3 by_t, Vec3 by_s) { return p.z * cross(by_t, by_s).z; });
  }
  /// On the leaning wall of a piece.
  double lean_distance(const SeatedWall& wall, const PathPiece& piece, Vec3 p) const {
    const double t = piece.nearest({p.x, p.y});
    const Vec2 foot = piece.at(t);
    const Vec2 inward = piece.inward(t);
    const Vec2 off = Vec2{p.x, p.y} - foot;
    const double share = dot(off, inward) / wall.lean;
    const double low = height(wall.low, foot);
    const double rise = height(wall.high, foot + inward * wall.lean) - low;
    const double aside = cross(off, inward);
    const double above = (p.z - low - share * rise) * std::abs(wall.lean) / std::hypot(wall.lean, rise);
    const double beyond = std::max({0.0, -share, share - 1.0}) * std::abs(wall.lean);
    return std::hypot(std::hypot(above, aside), beyond);
  }

 private:
  static double over_loops(const SeatedFace& face, const std::function<double(Vec2)>& f) {
    double sum = 0.0;
    for (const SeatedLoop& loop : face.loops) sum += over_path(loop.path, f);
    return sum;
  }
  Vec3 on_edge(int level, const PathPiece& piece, double t, double moved) const {
    const Vec2 xy = piece.at(t) + piece.inward(t) * moved;
    return {xy.x, xy.y, height(level, xy)};
  }
  /// ∫∫ f(p, ∂p/∂t, ∂p/∂s) dt ds over the wall's rulings.
  template <class F>
  double over_lean(const SeatedWall& wall, const F& f) const {
    return along_path(wall.path, [&](const PathPiece& piece, double t) {
      const auto slope = [&](int level, double moved) {
        const double a = std::max(0.0, t - difference_step);
        const double b = std::min(1.0, t + difference_step);
        return (on_edge(level, piece, b, moved) - on_edge(level, piece, a, moved)) * (1.0 / (b - a));
      };
      const Vec3 low = on_edge(wall.low, piece, t, 0.0);
      const Vec3 by_s = on_edge(wall.high, piece, t, wall.lean) - low;
      const Vec3 low_by_t = slope(wall.low, 0.0);
      const Vec3 high_by_t = slope(wall.high, wall.lean);
      return integrate(
                 [&](double s) { return f(low + by_s * s, low_by_t * (1.0 - s) + high_by_t * s, by_s); }, 0.0,
                 1.0, 1) /
             piece.length();
    });
  }

  const SeatedPart& plan_;
  const Tube& tube_;
};

struct Shared {
  SeatedPart plan;
  Tube tube;
};
using SharedPlan = std::shared_ptr<const Shared>;

std::function<double(Vec3)> from_level(const SharedPlan& shared, int level) {
  return [shared, level](Vec3 p) {
    const Level& surface = shared->plan.levels[level];
    if (surface.kind == Level::Kind::skin)
      return skin_distance(shared->tube, shared->plan.to_tube, p, surface.offset);
    const GraphJet jet = graph_jet(surface, {p.x, p.y});
    return std::abs(p.z - jet.z) / std::sqrt(1.0 + dot(jet.gradient, jet.gradient));
  };
}

std::function<double(Vec3)> from_walls(const SharedPlan& shared, std::vector<int> walls) {
  return [shared, walls = std::move(walls)](Vec3 p) {
    const SeatedMeasure measure(shared->plan, shared->tube);
    double least = 1e300;
    for (const int i : walls) {
      const SeatedWall& wall = shared->plan.walls[i];
      for (const PathPiece& piece : wall.path) {
        least = std::min(
            least, wall.lean == 0.0 ? piece.distance({p.x, p.y}) : measure.lean_distance(wall, piece, p));
      }
    }
    return least;
  };
}

/// Faces of one name are one surface to the gate, and walls of one group.
void expect_faces(const SharedPlan& shared, const SeatedMeasure& measure, Expectation& expected) {
  std::map<std::string, std::size_t> place;
  for (const SeatedFace& face : shared->plan.faces) {
    const auto [at, is_new] = place.emplace(face.name, expected.faces.size());
    if (is_new) expected.faces.push_back({face.name, from_level(shared, face.level), 0.0});
    *expected.faces[at->second].area += measure.face_area(face);
    expected.volume += measure.face_moment(face);
  }
}

void expect_walls(const SharedPlan& shared, const SeatedMeasure& measure, Expectation& expected) {
  std::map<std::string, std::vector<int>> groups;
  std::vector<std::string> order;
  for (std::size_t i = 0; i < shared->plan.walls.size(); ++i) {
    std::vector<int>& group = groups[shared->plan.walls[i].group];
    if (group.empty()) order.push_back(shared->plan.walls[i].group);
    group.push_back(static_cast<int>(i));
  }
  for (const std::string& name : order) {
    double area = 0.0;
    for (const int i : groups[name]) {
      area += measure.wall_area(shared->plan.walls[i]);
      expected.volume += measure.wall_moment(shared->plan.walls[i]);
    }
    expected.faces.push_back({name, from_walls(shared, groups[name]), area});
  }
}

/// The lug's outline in (x, z): a U upside down.
OutlinePath lug_outline(const SeatedLug& lug, double foot) {
  const Vec2 pin{lug.middle.x, foot + lug.pin_height};
  const Vec2 right{pin.x + lug.half_width, foot};
  const Vec2 left{pin.x - lug.half_width, foot};
  return {PathPiece::line(right, {right.x, pin.y}), PathPiece::arc(pin, lug.half_width, 0.0, pi),
          PathPiece::line({left.x, pin.y}, left)};
}

void expect_lugs(const SharedPlan& shared, const SeatedMeasure& measure, Expectation& expected) {
  if (shared->plan.lugs.empty()) return;
  FaceExpectation sides{"lug sides", {}, 0.0};
  FaceExpectation round{"lug ends", {}, 0.0};
  FaceExpectation pins{"pin holes", {}, 0.0};
  std::vector<double> flat;
  std::vector<OutlinePath> outlines;
  std::vector<Vec3> axes;  // x, z, radius
  for (const SeatedLug& lug : shared->plan.lugs) {
    const double foot = measure.height(lug.level, lug.middle);
    const double top_area = 0.5 * pi * lug.half_width * lug.half_width;
    const double pin_area = pi * lug.pin_radius * lug.pin_radius;
    const double face = 2.0 * lug.half_width * lug.pin_height + top_area - pin_area;
    const Vec2 y{lug.middle.y - 0.5 * lug.thickness, lug.middle.y + 0.5 * lug.thickness};
    flat.push_back(y.x);
    flat.push_back(y.y);
    outlines.push_back(lug_outline(lug, foot));
    axes.push_back({lug.middle.x, foot + lug.pin_height, lug.pin_radius});
    *sides.area += 2.0 * face;
    *round.area += path_length(outlines.back()) * lug.thickness;
    *pins.area += 2.0 * pi * lug.pin_radius * lug.thickness;
    expected.volume += lug.thickness * face + 2.0 * lug.half_width * lug.thickness * foot;
    expected.genus += 1;
    expected.bores.push_back({"a lug's pin hole",
                              {lug.middle.x, y.x - 0.5, foot + lug.pin_height},
                              {lug.middle.x, y.y + 0.5, foot + lug.pin_height},
                              lug.pin_radius + ring_share * (lug.half_width - lug.pin_radius),
                              {0.5 + 0.5 * lug.thickness}});
  }
  sides.distance = [flat](Vec3 p) {
    double least = 1e300;
    for (const double y : flat) least = std::min(least, std::abs(p.y - y));
    return least;
  };
  round.distance = [outlines](Vec3 p) {
    double least = 1e300;
    for (const OutlinePath& path : outlines) least = std::min(least, path_distance(path, {p.x, p.z}));
    return least;
  };
  pins.distance = [axes](Vec3 p) {
    double least = 1e300;
    for (const Vec3& axis : axes)
      least = std::min(least, std::abs(std::hypot(p.x - axis.x, p.z - axis.y) - axis.z));
    return least;
  };
  for (FaceExpectation* face : {&sides, &round, &pins}) expected.faces.push_back(std::move(*face));
}

}  // namespace

Expectation expectation_of(const SeatedPart& plan, const Tube& tube) {
  const SharedPlan shared = std::make_shared<const Shared>(Shared{plan, tube});
  const SeatedMeasure measure(shared->plan, shared->tube);
  Expectation expected;
  expected.part = plan.part;
  expected.genus = plan.genus;
  expected.bores = plan.bores;
  expect_faces(shared, measure, expected);
  expect_walls(shared, measure, expected);
  expect_lugs(shared, measure, expected);
  return expected;
}

}  // namespace culmwright
