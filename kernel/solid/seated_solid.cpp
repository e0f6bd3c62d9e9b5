#include "solid/seated_solid.hpp"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <algorithm>
#include <cmath>

#include "solid/curves.hpp"
#include "solid/guarded.hpp"
#include "solid/patch.hpp"
#include "solid/seated_builder.hpp"
#include "solid/sheet_band.hpp"
#include "solid/spline.hpp"

namespace culmwright {

namespace {

/// A cylinder counts its angle from so much before the arc, so that no arc
/// meets its seam.
constexpr double before_arc = 0.1;
constexpr int upright_samples = 8;

/// A straight curve of the parameter plane with the parameters 0 to 1.
Handle(Geom2d_BSplineCurve) segment_2d(Vec2 from, Vec2 to) {
  return curve_through(even_values(0.0, 1.0, 4), std::vector<Vec2>{from, from + (to - from) * (1.0 / 3.0),
                                                                   from + (to - from) * (2.0 / 3.0), to});
}

int samples_of(const SeatedEdge& edge) {
  return std::max(23, 4 * static_cast<int>(edge.t.size()));
}

SeatedWire turned_round(const SeatedWire& wire) {
  SeatedWire other(wire.rbegin(), wire.rend());
  for (SeatedUse& use : other) use.forward = !use.forward;
  return other;
}

SeatedWire joined(std::initializer_list<SeatedWire> wires) {
  SeatedWire all;
  for (const SeatedWire& wire : wires) all.insert(all.end(), wire.begin(), wire.end());
  return all;
}

class WallBuilder {
 public:
  explicit WallBuilder(SeatedBuilder& parts) : parts_(parts) {}

  void upright(const SeatedWall& wall, const PathPiece& piece) {
    const SeatedUse low = parts_.on_level(wall.low, piece);
    const SeatedUse high = parts_.on_level(wall.high, piece);
    const SeatedWire first =
        parts_.upright(parts_.corner(wall.low, piece.at(0.0)), parts_.corner(wall.high, piece.at(0.0)));
    const SeatedWire last =
        parts_.upright(parts_.corner(wall.low, piece.at(1.0)), parts_.corner(wall.high, piece.at(1.0)));
    const SeatedWire around = joined({{low}, last, turned_round({high}), turned_round(first)});
    if (!piece.is_arc()) {
      const Vec2 from = piece.at(0.0);
      const Vec2 along = unit(piece.by_t(0.5));
      parts_.plane_face({from.x, from.y, 0.0}, {along.y, -along.x, 0.0}, {along.x, along.y, 0.0}, {around});
      return;
    }
    on_cylinder(piece, around);
  }

  void leaning(const SeatedWall& wall, const PathPiece& piece) {
    const SeatedUse low = parts_.on_level(wall.low, piece);
    const SeatedUse high = parts_.on_level(wall.high, piece.moved_in(wall.lean));
    const SeatedUse first = parts_.straight_edge(begin(low), begin(high));
    const SeatedUse last = parts_.straight_edge(end(low), end(high));
    const SeatedEdge& lower = parts_.edge(low.edge);
    const SeatedEdge& upper = parts_.edge(high.edge);
    const auto f = [&](double t, double s) {
      const double from = low.forward ? t : 1.0 - t;
      const double to = high.forward ? t : 1.0 - t;
      const Vec3 a = vec_of(lower.curve->Value(from));
      return a + (vec_of(upper.curve->Value(to)) - a) * s;
    };
    const std::vector<double>& t = lower.t.size() >= upper.t.size() ? lower.t : upper.t;
    const Handle(Geom_BSplineSurface) surface = windowed_patch(f, t, even_values(0.0, 1.0, 4));
    const auto lay = [&](const SeatedUse& use, Vec2 from, Vec2 to) {
      parts_.make().lay(parts_.edge(use.edge).edge, surface,
                        use.forward ? segment_2d(from, to) : segment_2d(to, from),
                        samples_of(parts_.edge(use.edge)));
    };
    lay(low, {0, 0}, {1, 0});
    lay(high, {0, 1}, {1, 1});
    lay(first, {0, 0}, {0, 1});
    lay(last, {1, 0}, {1, 1});
    const SeatedWire around = joined({{low}, {last}, turned_round({high}), turned_round({first})});
    parts_.make().face(surface, FaceSide::along, {parts_.path_of(around)});
  }

 private:
  int begin(const SeatedUse& use) const { return parts_.edge(use.edge).corner[use.forward ? 0 : 1]; }
  int end(const SeatedUse& use) const { return parts_.edge(use.edge).corner[use.forward ? 1 : 0]; }

  void on_cylinder(const PathPiece& piece, const SeatedWire& around) {
    const double zero = std::min(piece.first_angle(), piece.last_angle()) - before_arc;
    const Vec2 middle = piece.middle();
    const Vec2 x{std::cos(zero), std::sin(zero)};
    const gp_Ax3 axes({middle.x, middle.y, 0.0}, {0, 0, 1}, {x.x, x.y, 0.0});
    const Handle(Geom_CylindricalSurface) cylinder = new Geom_CylindricalSurface(axes, piece.radius());
    for (const SeatedUse& use : around) {
      const SeatedEdge& edge = parts_.edge(use.edge);
      std::vector<Vec2> places;
      for (const Vec3& p : edge.points) {
        const Vec2 out = Vec2{p.x, p.y} - middle;
        places.push_back({std::atan2(cross(x, out), dot(x, out)), p.z});
        if (places.back().x < 0.0) places.back().x += 2.0 * pi;
      }
      parts_.make().lay(edge.edge, cylinder,
                        places.size() == 2 ? segment_2d(places[0], places[1]) : curve_through(edge.t, places),
                        places.size() == 2 ? upright_samples : samples_of(edge));
    }
    if (piece.clockwise()) {
      parts_.make().face(cylinder, FaceSide::against, {parts_.path_of(turned_round(around))});
    } else {
      parts_.make().face(cylinder, FaceSide::along, {parts_.path_of(around)});
    }
  }

  SeatedBuilder& parts_;
};

void add_face(SeatedBuilder& parts, const SeatedFace& face) {
  const bool swaps = parts.surface(face.level).swaps;
  std::vector<WirePath> wires;
  for (const SeatedLoop& loop : face.loops) {
    SeatedWire wire;
    for (const PathPiece& piece : loop.path)
      wire.push_back(parts.on_level(loop.on.value_or(face.level), piece));
    for (const SeatedUse& use : wire) parts.lay_on_level(use.edge, face.level);
    wires.push_back(parts.path_of(swaps ? turned_round(wire) : wire));
  }
  parts.make().face(parts.surface(face.level).surface,
                    face.looks_up == swaps ? FaceSide::against : FaceSide::along, wires);
}

/// The lug's two flat sides are at y₀ and y₁; its outline in between is walls.
class LugBuilder {
 public:
  LugBuilder(SeatedBuilder& parts, const SeatedLug& lug, double foot)
      : parts_(parts), lug_(lug), pin_{lug.middle.x, lug.middle.y, foot + lug.pin_height} {}

  void build() {
    Side sides[2];
    for (int k = 0; k < 2; ++k)
      sides[k] = add_side(lug_.middle.y + (k == 0 ? -0.5 : 0.5) * lug_.thickness, k);
    for (int k = 0; k < 2; ++k) {
      const double out = k == 0 ? 1.0 : -1.0;  // the +x end first
      parts_.plane_face({pin_.x + out * lug_.half_width, pin_.y, pin_.z}, {out, 0, 0}, {0, out, 0},
                        {{{sides[0].up[k]},
                          parts_.straight_edge(sides[0].shoulder[k], sides[1].shoulder[k]),
                          {sides[1].up[k].edge, !sides[1].up[k].forward},
                          foot_edge(out)}});
    }
    around(sides[0].round, sides[1].round, lug_.half_width, true);
    for (int half = 0; half < 2; ++half)
      around(sides[0].hole[half], sides[1].hole[half], lug_.pin_radius, false);
  }

 private:
  struct Side {
    SeatedUse up[2];  ///< from the foot to where the round begins, at +x and at −x
    int shoulder[2] = {};
    int round = 0;     ///< from +x to −x
    int hole[2] = {};  ///< the upper half from +x to −x, and the lower half back
  };

  /// Along the level, at x = ± half_width; from y₁ to y₀.
  SeatedUse foot_edge(double out) {
    const double x = lug_.middle.x + out * lug_.half_width;
    const double y = 0.5 * lug_.thickness;
    return parts_.on_level(lug_.level, PathPiece::line({x, lug_.middle.y + y}, {x, lug_.middle.y - y}));
  }
  Vec3 on_circle(double radius, double angle, double y) const {
    return {pin_.x + radius * std::cos(angle), y, pin_.z + radius * std::sin(angle)};
  }
  int arc_edge(double radius, double from, double to, double y) {
    std::vector<double> t = even_values(from, to, 49);
    std::vector<Vec3> points;
    for (const double angle : t) points.push_back(on_circle(radius, angle, y));
    return parts_.free_edge(t, points, parts_.free_corner(points.front()), parts_.free_corner(points.back()));
  }

  Side add_side(double y, int k) {
    Side side;
    int foot[2];
    for (int end = 0; end < 2; ++end) {
      const double x = pin_.x + (end == 0 ? lug_.half_width : -lug_.half_width);
      foot[end] = parts_.corner(lug_.level, {x, y});
      side.shoulder[end] = parts_.free_corner({x, y, pin_.z});
      side.up[end] = parts_.straight_edge(foot[end], side.shoulder[end]);
    }
    side.round = arc_edge(lug_.half_width, 0.0, pi, y);
    side.hole[0] = arc_edge(lug_.pin_radius, 0.0, pi, y);
    side.hole[1] = arc_edge(lug_.pin_radius, pi, 2.0 * pi, y);
    const SeatedUse along_foot = parts_.on_level(
        lug_.level, PathPiece::line({pin_.x - lug_.half_width, y}, {pin_.x + lug_.half_width, y}));
    const double out = k == 0 ? -1.0 : 1.0;
    parts_.plane_face({pin_.x, y, pin_.z}, {0, out, 0}, {1, 0, 0},
                      {{along_foot, side.up[0], {side.round, true}, {side.up[1].edge, !side.up[1].forward}},
                       {{side.hole[0], true}, {side.hole[1], true}}});
    return side;
  }

  /// The cylinder between the same arc on both sides.
  void around(int near, int far, double radius, bool outside) {
    const SeatedEdge a = parts_.edge(near);
    const SeatedEdge b = parts_.edge(far);
    const double from = a.t.front();
    const Vec2 zero{std::cos(from - before_arc), std::sin(from - before_arc)};
    // Its own angle runs from z to x about y, against ours: y is turned round.
    const gp_Ax3 axes(point_of({pin_.x, pin_.y, pin_.z}), gp_Dir(0, -1, 0), gp_Dir(zero.x, 0, zero.y));
    const Handle(Geom_CylindricalSurface) cylinder = new Geom_CylindricalSurface(axes, radius);
    const auto place = [&](double angle, double y) { return Vec2{angle - from + before_arc, pin_.y - y}; };
    const double y0 = a.points.front().y;
    const double y1 = b.points.front().y;
    const SeatedUse first = parts_.straight_edge(a.corner[0], b.corner[0]);
    const SeatedUse last = parts_.straight_edge(a.corner[1], b.corner[1]);
    for (const auto& [edge, y] : {std::pair<const SeatedEdge&, double>{a, y0}, {b, y1}}) {
      parts_.make().lay(edge.edge, cylinder, line_2d(place(0.0, y), {1.0, 0.0}), samples_of(edge));
    }
    for (const auto& [use, angle] : {std::pair<SeatedUse, double>{first, a.t.front()}, {last, a.t.back()}}) {
      const Vec2 ends[2] = {place(angle, use.forward ? y0 : y1), place(angle, use.forward ? y1 : y0)};
      parts_.make().lay(parts_.edge(use.edge).edge, cylinder, segment_2d(ends[0], ends[1]), upright_samples);
    }
    // In (angle, −y) the near side, of lesser y, lies above.
    const SeatedWire wire = joined({{{far, true}}, turned_round({last}), {{near, false}}, {first}});
    parts_.make().face(cylinder, outside ? FaceSide::along : FaceSide::against, {parts_.path_of(wire)});
  }

  SeatedBuilder& parts_;
  const SeatedLug& lug_;
  Vec3 pin_;
};

}  // namespace

Solid build_seated(const SeatedPart& plan, const Tube& tube, double nudge) {
  return guarded(plan.part, "building face by face", [&] {
    SeatedBuilder parts(plan, tube, nudge);
    WallBuilder walls(parts);
    // All corners first: an upright edge is divided where others end on it.
    for (const SeatedWall& wall : plan.walls) {
      for (const PathPiece& piece : wall.path) {
        for (const double t : {0.0, 1.0}) {
          parts.corner(wall.low, piece.at(t));
          parts.corner(wall.high, piece.moved_in(wall.lean).at(t));
        }
      }
    }
    for (const SeatedWall& wall : plan.walls) {
      parts.make().stage(wall.group);
      for (const PathPiece& piece : wall.path) {
        if (wall.lean == 0.0) {
          walls.upright(wall, piece);
        } else {
          walls.leaning(wall, piece);
        }
      }
    }
    for (const SeatedFace& face : plan.faces) {
      parts.make().stage(face.name);
      add_face(parts, face);
    }
    for (const SeatedLug& lug : plan.lugs) {
      parts.make().stage("lug");
      LugBuilder(parts, lug, level_height(plan, tube, lug.level, lug.middle)).build();
    }
    return parts.make().finish();
  });
}

Solid seated_solid(const SeatedPart& plan, const Tube& tube, GateLog& log, const MeshAccuracy& accuracy) {
  return build_sound([&](double nudge) { return build_seated(plan, tube, nudge); },
                     expectation_of(plan, tube), log, accuracy);
}

}  // namespace culmwright
