#pragma once
/// A small part that sits on the tube's skin, as numbers: key cups, thumb rests, slider shoes, ring seats.
/// One plan for all of them, one builder (solid/seated_solid.hpp), one expectation for the gate.
///
/// The part has a frame of its own, z outward from the tube, x along the tube toward end B (rim_frame of a
/// drilling, or the like). Seen along z every face is one of three things:
///
///   - a FACE that lies on a level, a surface z = f(x, y): a plane, the skin offset outward or inward, a dish
///     or a dome. It looks up (out) or down (toward the tube) and is bounded by closed paths;
///   - a WALL along a path, from one level up to another: upright, or leaning inward by a fixed amount
///     (chamfers, countersinks, lead-ins);
///   - letters cut into a face: walls and faces again (engrave()).
///
///        top ──────────╮ ← chamfer: wall from `shoulder` to `top`, leaning in
///        shoulder ─────┤
///                      │ ← wall of the outline, from `seat` to `shoulder`
///        seat  ~~╮  ╭~~╯ ← face on skin(glue line), looks down; its loops: outline, then the spigot's circle
///                │  │    ← wall of the spigot's circle, from `end` to `seat`
///        end     ╰~~╯    ← face on skin(−length), looks down
///
/// How to plan one: add levels; add walls (material on the LEFT of the path); add faces with the same paths.
/// Edges are shared where path piece and level are the same, so use the same OutlinePath values in walls and
/// faces; the run of a loop does not matter for sharing. Where several walls stand on one corner one above
/// the other, the builder divides the upright edge by itself. Then set genus, bores and notes, and ask
/// expectation_of() and seated_solid().
#include <optional>
#include <string>
#include <vector>

#include "plan/expectation.hpp"
#include "plan/path.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// A surface z = f(x, y) of the part's frame.
struct Level {
  enum class Kind { plane, skin, dish, dome };
  Kind kind = Kind::plane;
  double height = 0.0;   ///< z at the origin; of a dish or dome: of the plane that it departs from
  Vec2 slope;            ///< dz/dx, dz/dy of that plane
  double offset = 0.0;   ///< of skin: outward from it; inward is negative
  double depth = 0.0;    ///< of a dish below its plane; of a dome above it, at the middle
  double reach_x = 0.0;  ///< a dish: radius of its rim; a dome: where it has fallen to the plane, along x
  double reach_y = 0.0;

  static Level plane(double z, Vec2 slope = {});
  /// The skin offset by that much in its sections: support h + offset.
  static Level skin(double offset);
  /// A part of a sphere (sheared by the slope) about the z axis, as deep as that below the plane.
  static Level dish(double z, double rim, double depth, Vec2 slope = {});
  /// An elliptic paraboloid: z + rise · (1 − (x/reach_x)² − (y/reach_y)²), plus the slope.
  static Level dome(double z, double rise, double reach_x, double reach_y, Vec2 slope = {});
  /// The same surface that much higher; of skin: its offset.
  Level raised(double by) const;
};

struct SeatedWall {
  std::string group;  ///< walls of one group are one surface to the gate: "flange wall"
  OutlinePath path;   ///< at the lower level; material on its left
  int low = 0;        ///< level
  int high = 0;
  double lean = 0.0;  ///< the upper edge lies moved_in by that much; may be negative
};

/// A loop of a face; `on`: the level its edges lie on where that is another one that meets this face there
/// (the rim of a dish lies on the plane too).
struct SeatedLoop {
  OutlinePath path;
  std::optional<int> on;
};

struct SeatedFace {
  std::string name;
  int level = 0;
  bool looks_up = true;
  std::vector<SeatedLoop> loops;  ///< the outer one first, counter-clockwise; holes clockwise
};

/// A lug that stands on a plane level without slope, with a round top and a pin's hole through it along y.
struct SeatedLug {
  int level = 0;
  Vec2 middle;              ///< of its foot
  double thickness = 0.0;   ///< along y
  double half_width = 0.0;  ///< along x: the radius of its round top
  double pin_height = 0.0;  ///< of the pin's axis above the level
  double pin_radius = 0.0;
  RoundedRectangle foot() const { return {2.0 * half_width, thickness, 0.0}; }
};

/// Its face on the level needs the loop reversed(polygon) of the foot: lug_foot().
OutlinePath lug_foot(const SeatedLug& lug);

struct SeatedPart {
  std::string part;  ///< its name, for messages and files: "key cup L3"
  RigidMotion to_tube;
  std::vector<Level> levels;
  std::vector<SeatedWall> walls;
  std::vector<SeatedFace> faces;
  std::vector<SeatedLug> lugs;
  std::vector<BoreExpectation> bores;
  int genus = 0;

  int add(const Level& level);
  void wall(std::string group, OutlinePath path, int low, int high, double lean = 0.0);
  void face(std::string name, int level, bool looks_up, std::vector<SeatedLoop> loops);
  /// The face of that name. Precondition: there is one.
  SeatedFace& named(const std::string& name);
};

/// z of a level there. Precondition for skin: as of skin_hit().
double level_height(const SeatedPart& plan, const Tube& tube, int level, Vec2 xy);

/// Cuts outlines (counter-clockwise, in xy, each convex or not, not touching one another) `depth` into a face
/// on a level: a plane, or skin. Letters in a face that looks down must be mirrored by the caller.
void engrave(SeatedPart& plan, const std::string& face, const std::vector<std::vector<Vec2>>& outlines,
             double depth);

/// What the solid must be; in the part's own frame. Volume and areas by quadrature over the plan.
Expectation expectation_of(const SeatedPart& plan, const Tube& tube);

/// Least and greatest z of the whole part, sampled along its edges and over its faces to about 0.05.
struct SeatedExtent {
  double low = 0.0;
  double high = 0.0;
};
SeatedExtent extent_of(const SeatedPart& plan, const Tube& tube);

/// mm³ to be held up while printing with z up, and upside down: what lies under faces that look down (or,
/// upside down, over those that look up), to the bed. Engraving is not counted.
struct SeatedSupport {
  double upright = 0.0;
  double upside_down = 0.0;
};
SeatedSupport support_of(const SeatedPart& plan, const Tube& tube);

}  // namespace culmwright
