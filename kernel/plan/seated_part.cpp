#include "plan/seated_part.hpp"

#include <algorithm>
#include <cmath>

#include "base/problem.hpp"
#include "plan/seated_levels.hpp"
#include "plan/skin_ray.hpp"

namespace culmwright {

namespace {

const char* const letter_walls = "letters";
const char* const letter_floors = "letter floors";

/// Calls use(xy) over a face's outer loop, edge and inside, and over the edges of its holes.
template <class Use>
void over_samples(const SeatedFace& face, const Use& use) {
  for (std::size_t i = 0; i < face.loops.size(); ++i) {
    const OutlinePath& path = face.loops[i].path;
    Vec2 middle;
    for (const PathPiece& piece : path)
      middle = middle + (piece.at(0.0) + piece.at(0.5)) * (0.5 / static_cast<double>(path.size()));
    for (const PathPiece& piece : path) {
      for (int k = 0; k < 12; ++k) {
        const Vec2 edge = piece.at(k / 12.0);
        for (int ring = 4; ring >= (i == 0 ? 0 : 4); --ring) use(middle + (edge - middle) * (ring / 4.0));
      }
    }
  }
}

/// ∫ f(xy) over the face, seen along z.
double over_face(const SeatedFace& face, const std::function<double(Vec2)>& f) {
  double sum = 0.0;
  for (const SeatedLoop& loop : face.loops) sum += over_path(loop.path, f);
  return sum;
}

}  // namespace

Level Level::plane(double z, Vec2 slope) {
  Level level;
  level.height = z;
  level.slope = slope;
  return level;
}

Level Level::skin(double offset) {
  Level level;
  level.kind = Kind::skin;
  level.offset = offset;
  return level;
}

Level Level::dish(double z, double rim, double depth, Vec2 slope) {
  Level level = plane(z, slope);
  level.kind = Kind::dish;
  level.depth = depth;
  level.reach_x = level.reach_y = rim;
  return level;
}

Level Level::dome(double z, double rise, double reach_x, double reach_y, Vec2 slope) {
  Level level = plane(z, slope);
  level.kind = Kind::dome;
  level.depth = rise;
  level.reach_x = reach_x;
  level.reach_y = reach_y;
  return level;
}

Level Level::raised(double by) const {
  Level level = *this;
  (kind == Kind::skin ? level.offset : level.height) += by;
  return level;
}

OutlinePath lug_foot(const SeatedLug& lug) {
  return rounded_path(lug.foot(), lug.middle);
}

int SeatedPart::add(const Level& level) {
  levels.push_back(level);
  return static_cast<int>(levels.size()) - 1;
}

void SeatedPart::wall(std::string group, OutlinePath path, int low, int high, double lean) {
  walls.push_back({std::move(group), std::move(path), low, high, lean});
}

void SeatedPart::face(std::string name, int level, bool looks_up, std::vector<SeatedLoop> loops) {
  faces.push_back({std::move(name), level, looks_up, std::move(loops)});
}

SeatedFace& SeatedPart::named(const std::string& name) {
  const auto found =
      std::find_if(faces.begin(), faces.end(), [&](const SeatedFace& face) { return face.name == name; });
  require(found != faces.end(), "a face of a seated part that is not there was asked for");
  return *found;
}

GraphJet graph_jet(const Level& level, Vec2 xy) {
  GraphJet jet{level.height + dot(level.slope, xy), level.slope};
  if (level.kind == Level::Kind::dish) {
    const double radius = (level.reach_x * level.reach_x + level.depth * level.depth) / (2.0 * level.depth);
    const double root = std::sqrt(std::max(radius * radius - dot(xy, xy), 1e-12));
    jet.z -= level.depth - radius + root;
    jet.gradient = jet.gradient + xy * (1.0 / root);
  } else if (level.kind == Level::Kind::dome) {
    const Vec2 bend{xy.x / (level.reach_x * level.reach_x), xy.y / (level.reach_y * level.reach_y)};
    jet.z += level.depth * (1.0 - dot(bend, xy));
    jet.gradient = jet.gradient - bend * (2.0 * level.depth);
  }
  return jet;
}

LevelPlace level_place(const SeatedPart& plan, const Tube& tube, int level, Vec2 xy) {
  const Level& surface = plan.levels[level];
  if (surface.kind == Level::Kind::skin) {
    const SkinHit hit = skin_hit(tube, plan.to_tube, xy, surface.offset);
    return {hit.height, hit.facing};
  }
  const GraphJet jet = graph_jet(surface, xy);
  return {jet.z, 1.0 / std::sqrt(1.0 + dot(jet.gradient, jet.gradient))};
}

double level_height(const SeatedPart& plan, const Tube& tube, int level, Vec2 xy) {
  return level_place(plan, tube, level, xy).height;
}

void engrave(SeatedPart& plan, const std::string& face, const std::vector<std::vector<Vec2>>& outlines,
             double depth) {
  const int level = plan.named(face).level;
  const bool up = plan.named(face).looks_up;
  const int floor = plan.add(plan.levels[level].raised(up ? -depth : depth));
  for (const std::vector<Vec2>& corners : outlines) {
    const OutlinePath outline = polygon_path(corners);
    plan.named(face).loops.push_back({reversed(outline), std::nullopt});
    plan.wall(letter_walls, reversed(outline), up ? floor : level, up ? level : floor);
    plan.face(letter_floors, floor, up, {{outline, std::nullopt}});
  }
}

SeatedExtent extent_of(const SeatedPart& plan, const Tube& tube) {
  SeatedExtent extent{1e300, -1e300};
  for (const SeatedFace& face : plan.faces) {
    if (face.name == letter_floors) continue;
    over_samples(face, [&](Vec2 xy) {
      const double z = level_height(plan, tube, face.level, xy);
      extent.low = std::min(extent.low, z);
      extent.high = std::max(extent.high, z);
    });
  }
  for (const SeatedLug& lug : plan.lugs) {
    extent.high = std::max(extent.high,
                           level_height(plan, tube, lug.level, lug.middle) + lug.pin_height + lug.half_width);
  }
  return extent;
}

SeatedSupport support_of(const SeatedPart& plan, const Tube& tube) {
  const SeatedExtent extent = extent_of(plan, tube);
  SeatedSupport support;
  for (const SeatedFace& face : plan.faces) {
    if (face.name == letter_floors) continue;
    const auto height = [&](Vec2 xy) { return level_height(plan, tube, face.level, xy); };
    if (face.looks_up) {
      support.upside_down += over_face(face, [&](Vec2 xy) { return extent.high - height(xy); });
    } else {
      support.upright += over_face(face, [&](Vec2 xy) { return height(xy) - extent.low; });
    }
  }
  return support;
}

}  // namespace culmwright
