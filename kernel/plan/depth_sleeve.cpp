#include "plan/depth_sleeve.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "plan/flat_expectation.hpp"

namespace culmwright {

using namespace sleeve_sizes;

namespace {

constexpr double same_drill = 0.05;
constexpr double length_step = 0.5;
constexpr double depth_step = 0.1;

/// Flutes of jobber drills, DIN 338, from memory.
struct FluteRow {
  double up_to;
  double flutes;
};
constexpr FluteRow flute_rows[] = {{1.06, 12}, {1.5, 18},  {2.12, 24}, {2.65, 30}, {3.0, 33},  {3.35, 36},
                                   {3.75, 39}, {4.25, 43}, {4.75, 47}, {5.3, 52},  {6.0, 57},  {6.7, 63},
                                   {7.5, 69},  {8.5, 75},  {9.5, 81},  {10.6, 87}, {11.8, 94}, {13.2, 101}};

double flutes_of(const Shop& shop, double diameter) {
  for (const Drill& drill : shop.drills) {
    const bool straight = drill.kind == DrillKind::twist || drill.kind == DrillKind::brad_point;
    if (straight && std::abs(drill.diameter - diameter) <= same_drill && drill.flute_length > 0.0)
      return drill.flute_length;
  }
  for (const FluteRow& row : flute_rows) {
    if (diameter <= row.up_to) return row.flutes;
  }
  return std::end(flute_rows)[-1].flutes;
}

/// A hole and the depths that serve it.
struct Wanted {
  const DepthAtHole* hole = nullptr;
  double least = 0.0;
  double most = 0.0;
};

double room_around(const DepthAtHole& hole) {
  if (hole.bush_outside <= 0.0) return room;
  return std::clamp(0.5 * (hole.bush_outside - hole.drill) - least_bearing, 0.1, room);
}

bool go_together(const DepthAtHole& a, const DepthAtHole& b) {
  return std::abs(a.drill - b.drill) < 1e-9 && std::abs(a.bush_outside - b.bush_outside) < 1e-9;
}

double rounded_up(double value, double step) {
  return step * std::ceil(value / step - 1e-9);
}

/// Frame of a flat's writing: along the sleeve from its lower end, z out of the material.
RigidMotion flat_frame(const DepthSleeve& sleeve, int flat) {
  const Vec2 out = direction(Angle::from_degrees(360.0 * flat / flats));
  const Vec3 z{out.x, out.y, 0.0};
  const Vec3 x{0, 0, 1};
  return {x, cross(z, x), z, z * (0.5 * sleeve.across) + x * (0.5 * sleeve.length)};
}

PlaneText text_on(const DepthSleeve& sleeve, int flat, const std::string& words) {
  const Lettering letters = lettering(words);
  PlaneText text{words, flat_frame(sleeve, flat), letters.strokes};
  for (StrokeOutline& stroke : text.strokes) {
    for (Vec2& p : stroke) p = p - Vec2{0.5 * letters.width, 0.5 * letters.height};
  }
  return text;
}

bool fits(const DepthSleeve& sleeve, const std::string& words) {
  return lettering(words).width <= sleeve.length - 2.0 * text_margin;
}

/// Depth and length first, then as many holes as the other flats take.
void engrave(DepthSleeve& sleeve) {
  std::vector<std::string> lines{"D" + fixed_text(sleeve.depth, 1), "L" + fixed_text(sleeve.length, 1)};
  std::vector<std::string> without;
  std::string line;
  for (const std::string& id : sleeve.ids) {
    const std::string longer = line.empty() ? id : line + " " + id;
    if (fits(sleeve, longer)) {
      line = longer;
      continue;
    }
    if (!line.empty()) lines.push_back(line);
    line = fits(sleeve, id) ? id : "";
    if (line.empty()) without.push_back(id);
  }
  if (!line.empty()) lines.push_back(line);
  for (const std::string& words : lines) {
    const int flat = static_cast<int>(sleeve.texts.size());
    if (flat < flats && fits(sleeve, words)) {
      sleeve.texts.push_back(text_on(sleeve, flat, words));
    } else {
      without.push_back(words);
    }
  }
  if (!without.empty())
    sleeve.notes.push_back("no room to engrave " + listed(without, " and ") + ": write it on with a pen");
}

DepthSleeve sleeve_for(const std::vector<Wanted>& group, double depth, const Shop& shop) {
  const DepthAtHole& first = *group.front().hole;
  DepthSleeve sleeve;
  sleeve.drill = first.drill;
  sleeve.depth = depth;
  sleeve.length = length_step * std::floor((drill_reach(shop, first.drill) - depth) / length_step + 1e-9);
  sleeve.bore_radius = 0.5 * first.drill + room_around(first);
  sleeve.across = std::max({least_across, first.bush_outside + over_bush, 2.0 * (sleeve.bore_radius + wall)});
  sleeve.room_left = 1e300;
  for (const Wanted& wanted : group) {
    sleeve.ids.push_back(wanted.hole->id);
    sleeve.room_left = std::min(sleeve.room_left, wanted.hole->depth.far_wall - depth);
  }
  return sleeve;
}

/// Of holes in order of their greatest depths: those that go with the first, and the depth that serves them.
std::vector<Wanted> take_group(std::vector<Wanted>& open, double& depth) {
  std::vector<Wanted> group;
  std::vector<Wanted> rest;
  depth = 0.0;
  for (const Wanted& wanted : open) {
    const bool served = go_together(*wanted.hole, *open.front().hole) && wanted.least <= open.front().most;
    (served ? group : rest).push_back(wanted);
    if (served) depth = std::max(depth, wanted.least);
  }
  open = rest;
  return group;
}

}  // namespace

double DepthSleeve::flat_width() const {
  return across / std::sqrt(3.0);
}

double drill_reach(const Shop& shop, double diameter) {
  return flutes_of(shop, diameter) + shank_free;
}

DepthSleeves plan_depth_sleeves(const std::vector<DepthAtHole>& holes, const Shop& shop) {
  DepthSleeves planned;
  std::vector<Wanted> open;
  for (const DepthAtHole& hole : holes) {
    const double least = rounded_up(hole.depth.stop_at, depth_step);
    const double most = std::min(hole.depth.far_wall - least_room, least + deeper_at_most);
    if (most < least) {
      planned.left_out.push_back(hole.id + ": the far wall is nearer than " + number_text(least_room) +
                                 " beyond its stop; drill it by feel against a backing stick");
    } else if (drill_reach(shop, hole.drill) - least < least_length) {
      planned.left_out.push_back(hole.id + ": a drill of " + number_text(hole.drill) + " that stands " +
                                 fixed_text(drill_reach(shop, hole.drill), 0) +
                                 " out of its chuck is too short for a sleeve over " + fixed_text(least, 1) +
                                 ": mark the depth on it with tape");
    } else {
      open.push_back({&hole, least, std::min(most, drill_reach(shop, hole.drill) - least_length)});
    }
  }
  std::stable_sort(open.begin(), open.end(),
                   [](const Wanted& a, const Wanted& b) { return a.most < b.most; });
  while (!open.empty()) {
    double depth = 0.0;
    const std::vector<Wanted> group = take_group(open, depth);
    planned.sleeves.push_back(sleeve_for(group, depth, shop));
  }
  std::stable_sort(planned.sleeves.begin(), planned.sleeves.end(),
                   [](const DepthSleeve& a, const DepthSleeve& b) { return a.depth < b.depth; });
  for (std::size_t i = 0; i < planned.sleeves.size(); ++i) {
    planned.sleeves[i].number = static_cast<int>(i) + 1;
    engrave(planned.sleeves[i]);
  }
  return planned;
}

Expectation expectation_of(const DepthSleeve& sleeve) {
  const double r = sleeve.bore_radius;
  const double ends = 0.5 * std::sqrt(3.0) * sleeve.across * sleeve.across - pi * r * r;
  Expectation expected;
  expected.part = sleeve.part();
  expected.genus = 1;
  expected.volume = ends * sleeve.length;
  for (int i = 0; i < flats; ++i) {
    const RigidMotion frame = flat_frame(sleeve, i);
    FaceExpectation face =
        plane_face("flat " + std::to_string(i), frame.origin, frame.z, sleeve.flat_width() * sleeve.length);
    for (const PlaneText& text : sleeve.texts) {
      if (length(text.frame.origin - frame.origin) < 1e-9) expect_text(expected, text, engraving, face);
    }
    expected.faces.push_back(face);
  }
  expected.faces.push_back(plane_face("lower end", {}, {0, 0, 1}, ends));
  expected.faces.push_back(plane_face("upper end", {0, 0, sleeve.length}, {0, 0, 1}, ends));
  expected.faces.push_back(
      {"bore", [r](Vec3 p) { return std::abs(std::hypot(p.x, p.y) - r); }, 2.0 * pi * r * sleeve.length});
  expected.bores.push_back(
      {"bore", {0, 0, -1.0}, {0, 0, sleeve.length + 1.0}, r + 1.0, {1.0 + 0.5 * sleeve.length}});
  return expected;
}

}  // namespace culmwright
