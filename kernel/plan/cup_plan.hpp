#pragma once
/// A key cup as numbers. It stands on its hole:
///
///       chamfer    dish
///      .--------.       .-------. top   z = the hole's axis, outward; z = 0 at the hole's place on the skin
///     /          `-----'         |      x toward end B, y = z × x (rim_frame of the drilling)
///    |   flange  |pkt|           |
///    |           `-+-'           |      seat: the skin offset by the glue line, at that very place
///  ~~~--.  seat    |way     .--~~~~     spigot: in the hole; ends on the skin offset inward: equally deep
///  skin  `--|  spigot    |--'           all around, and never into the bore
///           `------------'
///
/// Kinds differ in profile only. A notch in the flange's edge points to the mouth end, so that each cup goes
/// back the right way round.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "plan/expectation.hpp"
#include "plan/outline.hpp"

namespace culmwright {

/// Sizes of cups. Common practice of printed parts: walls of 1.2 at least.
namespace cup_sizes {
constexpr double least_wall = 1.2;
constexpr double floor = 1.6;          ///< of the flange under its dish
constexpr double lip = 2.0;            ///< of the flange beyond the hole, at least
constexpr double chamfer = 0.8;        ///< at the touch's edge, 45°
constexpr double land = 0.8;           ///< flat between chamfer and dish
constexpr double dish_depth = 1.0;     ///< at most, and at most a fifth of the dish's radius
constexpr double short_of_bore = 0.5;  ///< the spigot ends this much before the bore
constexpr double least_grip = 1.0;     ///< a spigot shorter than this holds nothing
constexpr double notch_radius = 0.8;
constexpr double least_facing = 0.5;   ///< the skin under the flange may lean away by 60° at most
constexpr double switch_across = 8.6;  ///< a 6 × 6 switch across its corners, 8.49
constexpr double switch_depth = 3.5;   ///< its body
constexpr double pad_depth = 2.0;      ///< of the seat for a pad
constexpr double wire_way = 3.0;       ///< for the wires, as wide as the spigot allows
constexpr double least_wire_way = 1.0;
}  // namespace cup_sizes

/// A spherical hollow: its rim's radius in the top plane and its depth below that plane.
struct Dish {
  double rim = 0.0;
  double depth = 0.0;
  double sphere() const { return (rim * rim + depth * depth) / (2.0 * depth); }
  /// Depth below the top plane at that distance from the axis, ≤ rim.
  double depth_at(double r) const;
};

/// A round recess from the touch down to a flat floor.
struct Pocket {
  double radius = 0.0;
  double floor = 0.0;  ///< z
};

/// What has to be held up while printing, in mm³ of support, for the two ways of laying it down.
struct SupportNeed {
  double touch_down = 0.0;
  double touch_up = 0.0;
};

struct CupPlan {
  std::string key_id;
  CupKind kind = CupKind::touch_cap;
  RigidMotion to_tube;  ///< from the cup's frame to the tube's
  RoundedRectangle flange;
  double seat_offset = 0.0;  ///< of the flange's underside outward from the skin: the glue line
  double seat_low = 0.0;     ///< least and greatest z of the seat under the flange
  double seat_high = 0.0;
  double top = 0.0;  ///< z of the touch's plane
  double chamfer = 0.0;
  double spigot_radius = 0.0;
  double spigot_length = 0.0;  ///< inward from the skin, along its normal
  std::optional<Dish> dish;
  std::optional<Pocket> pocket;
  std::optional<double> way_radius;
  Vec2 notch;  ///< its middle, on the flange's edge toward the mouth end
  SupportNeed support;
  RigidMotion lie;                 ///< turn into the printing position
  std::vector<std::string> notes;  ///< decisions the maker should know of, in plain words

  std::string part() const { return "key cup " + key_id; }
  bool touch_down() const { return support.touch_down <= support.touch_up; }
  /// z of the material's upper limit at that distance from the axis, way and notch not considered.
  double upper(double r) const;
};

/// The cup of one key. The flange is the touch's outline, grown where it must be to lie beyond the hole.
/// Throws GeometryError naming the cup where a wall would come out under 1.2, the wall of the tube is too
/// thin for a spigot, the flange is too wide for the tube or would stand beyond what is known of it.
CupPlan plan_cup(const Tube& tube, const PlacedKey& key, const Shop& shop, End mouth_end);

/// What the solid must be; in the cup's own frame. Volume and areas by quadrature over the plan.
Expectation expectation_of(const CupPlan& plan, const Tube& tube);

/// Lower limit of a twist drill's diameter, h8 (ISO 286; the hole it makes is hardly ever smaller).
double least_drill_diameter(double nominal);

}  // namespace culmwright
