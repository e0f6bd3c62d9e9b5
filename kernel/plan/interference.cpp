#include "plan/interference.hpp"

#include <cmath>

#include "base/words.hpp"

namespace culmwright {

namespace {

using Kind = StandingPart::Kind;

constexpr double under_the_skin = 0.2;
constexpr int corner_steps = 12;  ///< of an opening's rounded corner

std::vector<Vec2> corners_of(const RoundedRectangle& outline) {
  std::vector<Vec2> points;
  const double x = 0.5 * outline.length - outline.corner, y = 0.5 * outline.width - outline.corner;
  const Vec2 middles[4] = {{x, y}, {-x, y}, {-x, -y}, {x, -y}};
  const int steps = outline.corner > 0.0 ? corner_steps : 0;
  for (int quarter = 0; quarter < 4; ++quarter) {
    for (int i = 0; i <= steps; ++i) {
      const double turn = 0.5 * pi * (quarter + (steps > 0 ? 1.0 * i / steps : 0.0));
      const Vec2 p = middles[quarter] + Vec2{std::cos(turn), std::sin(turn)} * outline.corner;
      if (points.empty() || length(p - points.back()) > 1e-9) points.push_back(p);
    }
  }
  if (length(points.front() - points.back()) < 1e-9) points.pop_back();
  return points;
}

/// Over a convex outline about the origin.
Mesh prism(const std::vector<Vec2>& outline, double low, double high) {
  Mesh mesh;
  const int n = static_cast<int>(outline.size());
  for (const double z : {low, high}) {
    for (const Vec2& p : outline) mesh.vertices.push_back({p.x, p.y, z});
  }
  mesh.vertices.push_back({0, 0, low});
  mesh.vertices.push_back({0, 0, high});
  for (int i = 0; i < n; ++i) {
    const int k = (i + 1) % n;
    mesh.triangles.push_back({i, k, n + k});
    mesh.triangles.push_back({i, n + k, n + i});
    mesh.triangles.push_back({k, i, 2 * n});
    mesh.triangles.push_back({n + i, n + k, 2 * n + 1});
  }
  return mesh;
}

std::string mm(double value) {
  return fixed_text(value, 2) + " mm";
}

std::string what_to_do(const StandingPart& first, const StandingPart& second) {
  if (second.kind == Kind::tube || first.kind == Kind::tube)
    return "look at the survey near there, or make its spigot or seat smaller";
  if (second.kind == Kind::opening || first.kind == Kind::opening)
    return "move it from the opening, or make its touch or footprint smaller";
  return "move one of them, or make a touch or footprint smaller";
}

std::string sentence_of(const StandingPart& first, const StandingPart& second, const Clearance& clearance) {
  const MeshDistance& found = clearance.found;
  const std::string where =
      " at " + fixed_text(-found.on_first.z, 0) + " along the tube" + (clearance.inside ? ", inside it" : "");
  const std::string both = first.name + " and " + second.name;
  std::string text;
  if (!found.meet()) {
    text = both + " stand " + mm(found.distance) + " apart" + where;
  } else if (found.depth >= 0.01) {
    text = both + " run into each other by " + mm(found.depth) + where;
  } else {
    text = both + " touch" + where;
  }
  if (!clearance.fails) return text;
  if (clearance.least > 0.0) text += ", " + mm(clearance.least) + " at least";
  return text + ": " + what_to_do(first, second);
}

bool is_pair(Kind a, Kind b) {
  return a == Kind::fitted || b == Kind::fitted;
}

Clearance judged(const StandingPart& first, const StandingPart& second, const MeshDistance& found,
                 const Tube& tube, const ClearanceLimits& limits) {
  Clearance clearance{first.name, second.name, found, 0.0, false, false, ""};
  const bool with_tube = first.kind == Kind::tube || second.kind == Kind::tube;
  clearance.inside = tube.outside((found.on_first + found.on_second) * 0.5) < -under_the_skin;
  if (with_tube) {
    clearance.fails = found.depth > limits.seeming_depth;
  } else {
    clearance.least = limits.parts_apart;
    clearance.fails = found.distance < limits.parts_apart;
  }
  clearance.sentence = sentence_of(first, second, clearance);
  return clearance;
}

}  // namespace

StandingPart space_over(const BodyCut& opening, double height) {
  const Mesh space = prism(corners_of(opening.outline), -under_the_skin, height);
  return {Kind::opening, opening.name, MeshTree(moved(space, opening.frame))};
}

std::vector<Clearance> clearances(const std::vector<StandingPart>& parts, const Tube& tube,
                                  const ClearanceLimits& limits) {
  std::vector<Clearance> all;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (std::size_t k = i + 1; k < parts.size(); ++k) {
      if (!is_pair(parts[i].kind, parts[k].kind)) continue;
      if (box_gap(parts[i].mesh, parts[k].mesh) > limits.listed_within) continue;
      const auto found = parts[i].mesh.distance(parts[k].mesh, limits.listed_within);
      if (found) all.push_back(judged(parts[i], parts[k], *found, tube, limits));
    }
  }
  return all;
}

}  // namespace culmwright
