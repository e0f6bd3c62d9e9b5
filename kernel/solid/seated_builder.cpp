#include "solid/seated_builder.hpp"

#include <algorithm>
#include <cmath>

#include "plan/seated_levels.hpp"
#include "plan/skin_ray.hpp"
#include "solid/curves.hpp"
#include "solid/patch.hpp"
#include "solid/ridges.hpp"
#include "solid/sheet.hpp"
#include "solid/sheet_band.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

constexpr double same_place = 1e-7;
constexpr double skin_margin = 0.8;  ///< of a patch beyond what lies on it
constexpr double skin_step_around = 3.0 * pi / 180.0;
constexpr double skin_step_along = 2.0;
constexpr double ridge_step = 0.3;
constexpr double graph_margin = 0.2;
constexpr double graph_step = 0.5;
constexpr int least_graph_steps = 12;
constexpr double line_step = 1.0;
constexpr double arc_step = 3.75 * pi / 180.0;
constexpr double ridge_line_step = 0.3;
constexpr int least_steps = 4;
constexpr int samples_per_step = 4;

bool near(Vec2 a, Vec2 b) {
  return std::abs(a.x - b.x) < same_place && std::abs(a.y - b.y) < same_place;
}
bool near(Vec3 a, Vec3 b) {
  return length(a - b) < same_place;
}

}  // namespace

SeatedBuilder::SeatedBuilder(const SeatedPart& plan, const Tube& tube, double nudge)
    : plan_(plan),
      tube_(tube),
      nudge_(nudge),
      make_(plan.part),
      surfaces_(plan.levels.size()),
      skin_middle_(plan.levels.size(), 0.0) {
  for (std::size_t i = 0; i < plan.levels.size(); ++i) {
    if (plan.levels[i].kind == Level::Kind::skin)
      skin_middle_[i] = skin_hit(tube, plan.to_tube, {}, plan.levels[i].offset).theta.radians();
  }
}

int SeatedBuilder::add_corner(int level, Vec3 p) {
  corners_.push_back({level, p, make_.vertex(p)});
  return static_cast<int>(corners_.size()) - 1;
}

int SeatedBuilder::corner(int level, Vec2 xy) {
  for (std::size_t i = 0; i < corners_.size(); ++i) {
    if (corners_[i].level == level && near({corners_[i].point.x, corners_[i].point.y}, xy))
      return static_cast<int>(i);
  }
  return add_corner(level, point_on(level, xy, nullptr));
}

int SeatedBuilder::free_corner(Vec3 p) {
  for (std::size_t i = 0; i < corners_.size(); ++i) {
    if (near(corners_[i].point, p)) return static_cast<int>(i);
  }
  return add_corner(-1, p);
}

Vec2 SeatedBuilder::place_on_skin(int level, Vec2 xy, const Vec2* guess) {
  const Handle(Geom_BSplineSurface) patch = surface(level).patch;
  if (guess != nullptr) return meet_patch(patch, RigidMotion{}, xy, *guess);
  const SkinHit hit = skin_hit(tube_, plan_.to_tube, xy, plan_.levels[level].offset);
  const double theta = std::remainder(hit.theta.radians() - skin_middle_[level], 2.0 * pi);
  return meet_patch(patch, RigidMotion{}, xy, {theta, -plan_.to_tube.apply({xy.x, xy.y, hit.height}).z});
}

/// `place`: in, a guess of the place on a skin's patch unless it is nothing
/// (NaN); out, the place.
Vec3 SeatedBuilder::point_on(int level, Vec2 xy, Vec2* place) {
  if (plan_.levels[level].kind != Level::Kind::skin)
    return {xy.x, xy.y, graph_jet(plan_.levels[level], xy).z};
  const bool guessed = place != nullptr && !std::isnan(place->x);
  const Vec2 uv = place_on_skin(level, xy, guessed ? place : nullptr);
  if (place != nullptr) *place = uv;
  return {xy.x, xy.y, surface(level).patch->Value(uv.x, uv.y).Z()};
}

std::vector<double> SeatedBuilder::samples_of(const PathPiece& piece, int level) const {
  double step = line_step;
  if (plan_.levels[level].kind == Level::Kind::skin) {
    const double at = -plan_.to_tube.origin.z;
    const double reach = std::max(std::abs(piece.at(0.0).x), std::abs(piece.at(1.0).x)) + piece.length();
    for (const FineRange& range : ridge_ranges(tube_)) {
      if (range.from < at + reach && range.to > at - reach) step = ridge_line_step;
    }
  }
  int steps = static_cast<int>(std::ceil(piece.length() / step));
  if (piece.is_arc()) {
    steps = std::max(
        steps, static_cast<int>(std::ceil(std::abs(piece.last_angle() - piece.first_angle()) / arc_step)));
  }
  return even_values(0.0, 1.0, std::max(least_steps, steps) + 1);
}

SeatedUse SeatedBuilder::on_level(int level, const PathPiece& piece) {
  const int first = corner(level, piece.at(0.0));
  const int last = corner(level, piece.at(1.0));
  for (std::size_t i = 0; i < edges_.size(); ++i) {
    const SeatedEdge& known = edges_[i];
    if (known.level != level) continue;
    const bool same = known.corner[0] == first && known.corner[1] == last;
    const bool turned = known.corner[0] == last && known.corner[1] == first;
    if (!same && !turned) continue;
    const Vec2 middle = known.xy[known.xy.size() / 2];
    if (piece.distance(middle) < same_place) return {static_cast<int>(i), same};
  }
  SeatedEdge made;
  made.level = level;
  made.corner[0] = first;
  made.corner[1] = last;
  made.t = samples_of(piece, level);
  Vec2 place{NAN, NAN};
  for (const double t : made.t) {
    made.xy.push_back(piece.at(t));
    made.points.push_back(point_on(level, made.xy.back(), &place));
    if (plan_.levels[level].kind == Level::Kind::skin) made.on_skin.push_back(place);
  }
  made.curve = curve_through(made.t, made.points);
  made.edge = make_.edge(made.curve, 0.0, 1.0, corners_[first].vertex, corners_[last].vertex);
  edges_.push_back(std::move(made));
  return {static_cast<int>(edges_.size()) - 1, true};
}

SeatedUse SeatedBuilder::straight_edge(int from, int to) {
  for (std::size_t i = 0; i < edges_.size(); ++i) {
    const SeatedEdge& known = edges_[i];
    if (known.level >= 0 || known.points.size() != 2) continue;
    if (known.corner[0] == from && known.corner[1] == to) return {static_cast<int>(i), true};
    if (known.corner[0] == to && known.corner[1] == from) return {static_cast<int>(i), false};
  }
  SeatedEdge made;
  made.corner[0] = from;
  made.corner[1] = to;
  made.t = {0.0, 1.0};
  made.points = {point(from), point(to)};
  made.curve = straight(point(from), point(to));
  made.edge = make_.edge(made.curve, 0.0, 1.0, corners_[from].vertex, corners_[to].vertex);
  edges_.push_back(std::move(made));
  return {static_cast<int>(edges_.size()) - 1, true};
}

int SeatedBuilder::free_edge(const std::vector<double>& t, const std::vector<Vec3>& points, int from,
                             int to) {
  SeatedEdge made;
  made.corner[0] = from;
  made.corner[1] = to;
  made.t = t;
  made.points = points;
  made.curve = curve_through(t, points);
  made.edge = make_.edge(made.curve, t.front(), t.back(), corners_[from].vertex, corners_[to].vertex);
  edges_.push_back(std::move(made));
  return static_cast<int>(edges_.size()) - 1;
}

SeatedWire SeatedBuilder::upright(int low, int high) {
  const Vec3 foot = point(low);
  const Vec3 head = point(high);
  std::vector<int> column{low};
  for (std::size_t i = 0; i < corners_.size(); ++i) {
    const Vec3 p = corners_[i].point;
    if (near(Vec2{p.x, p.y}, Vec2{foot.x, foot.y}) && p.z > foot.z + same_place && p.z < head.z - same_place)
      column.push_back(static_cast<int>(i));
  }
  std::sort(column.begin(), column.end(), [&](int a, int b) { return point(a).z < point(b).z; });
  column.push_back(high);
  SeatedWire wire;
  for (std::size_t i = 1; i < column.size(); ++i) wire.push_back(straight_edge(column[i - 1], column[i]));
  return wire;
}

std::pair<Vec2, Vec2> SeatedBuilder::window_of(int level) const {
  Vec2 low{1e300, 1e300};
  Vec2 high{-1e300, -1e300};
  const auto add = [&](const OutlinePath& path, double lean) {
    for (const PathPiece& piece : path) {
      for (int k = 0; k <= 8; ++k) {
        const Vec2 p = piece.at(k / 8.0) + piece.inward(k / 8.0) * lean;
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
      }
    }
  };
  for (const SeatedWall& wall : plan_.walls) {
    if (wall.low == level) add(wall.path, 0.0);
    if (wall.high == level) add(wall.path, wall.lean);
  }
  for (const SeatedFace& face : plan_.faces) {
    if (face.level != level) continue;
    for (const SeatedLoop& loop : face.loops) add(loop.path, 0.0);
  }
  return {low, high};
}

SeatedBuilder::Surface SeatedBuilder::make_skin(int level) const {
  const double offset = plan_.levels[level].offset;
  const auto [low, high] = window_of(level);
  const Angle middle = Angle::from_radians(skin_middle_[level]);
  double theta[2] = {1e300, -1e300};
  double at[2] = {1e300, -1e300};
  for (int i = 0; i <= 2; ++i) {
    for (int k = 0; k <= 2; ++k) {
      const Vec2 xy{low.x - skin_margin + (high.x - low.x + 2.0 * skin_margin) * 0.5 * i,
                    low.y - skin_margin + (high.y - low.y + 2.0 * skin_margin) * 0.5 * k};
      const SkinHit hit = skin_hit(tube_, plan_.to_tube, xy, offset);
      const double turn = (hit.theta - middle).normalized().radians();
      const double place = -plan_.to_tube.apply({xy.x, xy.y, hit.height}).z;
      theta[0] = std::min(theta[0], turn);
      theta[1] = std::max(theta[1], turn);
      at[0] = std::min(at[0], place);
      at[1] = std::max(at[1], place);
    }
  }
  const RigidMotion to_part = plan_.to_tube.inverse();
  std::optional<Section> section;
  const auto f = [&](double t, double place) {
    if (!section || section->at() != place) section = tube_.section(place);
    const Angle angle = middle + Angle::from_radians(t);
    const SurfaceJet h = section->support(angle);
    const Vec2 p = direction(angle) * (h.f + offset) + tangent(angle) * h.f_t;
    return to_part.apply({p.x, p.y, -place});
  };
  const double turn = nudge_ / std::max(1.0, length(Vec2{plan_.to_tube.origin.x, plan_.to_tube.origin.y}));
  const int steps = std::max(6, static_cast<int>(std::ceil((theta[1] - theta[0]) / skin_step_around)));
  std::vector<double> along =
      graded_values(at[0] + nudge_, at[1] + nudge_, skin_step_along, ridge_step, ridge_ranges(tube_));
  if (along.size() < 7) along = even_values(at[0] + nudge_, at[1] + nudge_, 7);
  Surface made;
  made.patch = windowed_patch(f, even_values(theta[0] + turn, theta[1] + turn, steps + 1), along);
  made.surface = made.patch;
  made.swaps = true;
  return made;
}

SeatedBuilder::Surface SeatedBuilder::make_graph(int level) const {
  const Level& graph = plan_.levels[level];
  Surface made;
  if (graph.kind == Level::Kind::plane) {
    const Vec3 x = unit(Vec3{1.0, 0.0, graph.slope.x});
    const Vec3 z = unit(Vec3{-graph.slope.x, -graph.slope.y, 1.0});
    made.plane = new Geom_Plane(gp_Ax3({0, 0, graph.height}, direction_of(z), direction_of(x)));
    made.surface = made.plane;
    return made;
  }
  const auto [low, high] = window_of(level);
  const auto values = [&](double from, double to) {
    const double a = from - graph_margin + nudge_;
    const double b = to + graph_margin + nudge_;
    const int steps = std::max(least_graph_steps, static_cast<int>(std::ceil((b - a) / graph_step)));
    return even_values(a, b, steps + 1);
  };
  const auto f = [&](double x, double y) { return Vec3{x, y, graph_jet(graph, {x, y}).z}; };
  made.patch = windowed_patch(f, values(low.x, high.x), values(low.y, high.y));
  made.surface = made.patch;
  return made;
}

const SeatedBuilder::Surface& SeatedBuilder::surface(int level) {
  if (surfaces_[level].surface.IsNull()) {
    surfaces_[level] = plan_.levels[level].kind == Level::Kind::skin ? make_skin(level) : make_graph(level);
  }
  return surfaces_[level];
}

void SeatedBuilder::lay_on_level(int index, int level) {
  if (!laid_.insert({index, level}).second) return;
  const Surface& on = surface(level);
  const SeatedEdge& edge = edges_[index];
  const int samples = std::max(23, samples_per_step * static_cast<int>(edge.t.size()));
  if (!on.plane.IsNull()) {
    make_.lay(edge.edge, on.surface, on_plane(edge.curve, on.plane->Position()), samples);
  } else {
    make_.lay(edge.edge, on.surface, curve_through(edge.t, on.swaps ? edge.on_skin : edge.xy), samples);
  }
}

void SeatedBuilder::plane_face(Vec3 point, Vec3 normal, Vec3 x, std::vector<SeatedWire> wires) {
  const gp_Ax3 axes(point_of(point), direction_of(normal), direction_of(x));
  const Handle(Geom_Plane) plane = new Geom_Plane(axes);
  std::vector<WirePath> paths;
  for (std::size_t i = 0; i < wires.size(); ++i) {
    std::vector<Vec2> corners;
    for (const SeatedUse& use : wires[i]) {
      const SeatedEdge& edge = edges_[use.edge];
      make_.lay(edge.edge, plane, on_plane(edge.curve, axes), 23);
      const std::size_t count = edge.points.size();
      for (std::size_t k = 0; k + 1 < count; ++k) {
        const Vec3 off = edge.points[use.forward ? k : count - 1 - k] - point;
        corners.push_back({dot(off, x), dot(off, cross(normal, x))});
      }
    }
    const bool counter_clockwise = polygon_area(corners) > 0.0;
    const WirePath path = path_of(wires[i]);
    paths.push_back(counter_clockwise == (i == 0) ? path : turned_round(path));
  }
  make_.face(plane, FaceSide::along, paths);
}

WirePath SeatedBuilder::path_of(const SeatedWire& wire) const {
  WirePath path;
  for (const SeatedUse& use : wire) path.push_back({edges_[use.edge].edge, use.forward});
  return path;
}

}  // namespace culmwright
