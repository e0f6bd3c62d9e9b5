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
/// Kinds differ in profile only. A padded cup has no spigot: it is drawn closed, its pad on the skin or on a
/// flat, and an arm lifts it. A notch in the flange's edge points to the mouth end, so that each cup goes
/// back the right way round; opposite it a slot under the flange takes a blade, to lift the cup out again.
///
/// The hole is taken as it came out where it was measured (PlacedKey::drilled): the spigot from the smaller
/// diameter, the flange from the greater one and what chipped out, the wall from the hook gauge.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "plan/expectation.hpp"
#include "plan/outline.hpp"
#include "plan/seated_part.hpp"

namespace culmwright {

/// Sizes of cups. Common practice of printed parts: walls of 1.2 at least.
namespace cup_sizes {
constexpr double least_wall = 1.2;
constexpr double floor = 1.6;          ///< of the flange under its dish
constexpr double lip = 2.0;            ///< of the flange beyond the hole, at least
constexpr double chamfer = 0.8;        ///< at the touch's edge, 45°
constexpr double land = 0.8;           ///< flat between chamfer and dish
constexpr double dish_depth = 1.0;     ///< at most, and at most a fifth of the dish's radius
constexpr double dome_rise = 1.2;      ///< at most, and at most a fifth of half the touch's width
constexpr double short_of_bore = 0.5;  ///< the spigot ends this much before the bore
constexpr double least_grip = 1.0;     ///< a spigot shorter than this holds nothing
constexpr double lead_in = 0.3;        ///< chamfer at the spigot's end
constexpr double notch_radius = 0.8;
constexpr double notch_depth = 0.8;
constexpr double notch_lead = 1.0;       ///< rounds that lead into the notch; more than the chamfer
constexpr double slot_half_width = 1.6;  ///< for the blade of a small screwdriver or a palette knife
constexpr double slot_depth = 1.1;
constexpr double slot_height = 0.7;
constexpr double least_facing = 0.5;  ///< the skin under the flange may lean away by 60° at most
constexpr double least_wire_way = 1.0;
constexpr double countersink = 0.4;     ///< at the upper edge of a sleeve's bore
constexpr double pad_covered = 0.6;     ///< share of the pad's thickness that lies inside the cup
constexpr double pad_room = 0.1;        ///< per side, of the pad in its cup
constexpr double least_pad_hold = 0.6;  ///< of the pad's thickness inside the cup, at least, mm
constexpr double pad_step = 0.5;        ///< pads come in such steps of diameter
constexpr double clear_of_skin = 0.4;   ///< of a padded cup's edge, closed
constexpr double lug_thickness = 2.0;
constexpr double lug_wall = 1.5;    ///< around the pin
constexpr double arm_room = 0.25;   ///< per side, of the arm between the lugs
constexpr double lug_lift = 0.8;    ///< of the lug's round top above the touch
constexpr double engraving = 0.4;   ///< deep
constexpr double id_margin = 0.4;   ///< around the engraved id: a line of the usual nozzle
constexpr double sigmas = 2.0;      ///< of the caliper's error a hole is taken smaller, and larger
constexpr double loose_play = 0.5;  ///< per side; more wants a sleeve or a filler
}  // namespace cup_sizes

/// The hole a cup is made for.
struct CupHole {
  double least = 0.0;     ///< radius that anything in it must pass, measuring error taken off
  double greatest = 0.0;  ///< radius of all that is open at the skin, measuring error added
  double chip_out = 0.0;  ///< skin broken away beyond that
  bool measured = false;
  std::optional<double> wall;  ///< by hook gauge, its error taken off
};

/// A spherical hollow: its rim's radius in the touch's plane and its depth below that plane.
struct Dish {
  double rim = 0.0;
  double depth = 0.0;
};

/// A recess from the touch down to a flat floor.
struct Pocket {
  RoundedRectangle outline;
  double floor = 0.0;  ///< z
};

/// The pad of a padded cup, drawn as it lies when the cup is closed.
struct PadSeat {
  double diameter = 0.0;  ///< of the pad
  double thickness = 0.0;
  double radius = 0.0;  ///< of the hollow it is glued into, as drawn
  PadLand land = PadLand::saddle;
  Level rim;                  ///< the cup's edge
  Level floor;                ///< behind the pad
  double facet_width = 0.0;   ///< of a flat: to be filed or spot-faced so wide,
  double facet_depth = 0.0;   ///< so deep at its middle,
  double facet_leaves = 0.0;  ///< which leaves so much of the wall
  double opens_floor = 0.0;   ///< a quarter of the hole's diameter: πdh = πd²/4, below it the ring chokes
  double opens = 0.0;         ///< a third of it, as published for clarinets: what the arm should give
};

/// Two lugs across the tube, an arm between them.
struct PinLugs {
  double apart = 0.0;  ///< between their inner sides
  double pin_radius = 0.0;
  double half_width = 0.0;
  double pin_height = 0.0;  ///< of the pin's axis above the touch
};

/// The key's id, cut into a face.
struct CupId {
  std::string face;  ///< "seat", "spigot end", "touch"
  double letter_height = 0.0;
  std::vector<std::vector<Vec2>> outlines;
};

struct CupPlan {
  std::string key_id;
  CupKind kind = CupKind::touch_cap;
  CupHole hole;
  double wall = 0.0;           ///< of the tube, at its thinnest under the hole
  RigidMotion to_tube;         ///< from the cup's frame to the tube's
  double toward_mouth = -1.0;  ///< along x: −1 or 1
  bool flush = false;          ///< no flange: nothing stands above the skin
  RoundedRectangle flange;
  double seat_offset = 0.0;  ///< of the flange's underside outward from the skin: the glue line
  double seat_low = 0.0;     ///< least and greatest z of the seat under the flange
  double seat_high = 0.0;
  double top = 0.0;   ///< z of the touch's plane at the axis
  Vec2 slope;         ///< of that plane: its tilt
  double dome = 0.0;  ///< rise of a domed touch's middle above that plane
  double chamfer = 0.0;
  double spigot_radius = 0.0;  ///< as drawn; 0: there is none
  double spigot_length = 0.0;  ///< inward from the skin, along its normal
  double lead_in = 0.0;
  std::optional<Dish> dish;
  std::optional<Pocket> pocket;
  std::optional<double> way_radius;
  double countersink = 0.0;
  std::optional<PadSeat> pad;
  std::optional<PinLugs> lugs;
  bool pry_slot = false;
  Vec2 notch;  ///< on the flange's edge toward the mouth end
  std::optional<CupId> id;
  SeatedSupport support;
  RigidMotion lie;                 ///< turn into the printing position
  std::vector<std::string> notes;  ///< decisions the maker should know of, in plain words

  std::string part() const { return "key cup " + key_id; }
  bool touch_down() const { return support.upside_down <= support.upright; }
  Level touch() const;
  /// z of the material's upper limit there; way, notch and lugs not considered.
  double upper(Vec2 xy) const;
};

/// The cup of one key. The flange is the touch's outline, grown where it must be to lie beyond the hole.
/// Throws GeometryError naming the cup where a wall would come out under 1.2, the wall of the tube is too
/// thin for a spigot or a facet, the flange is too wide for the tube or would stand beyond what is known of
/// it, a recess, a pad or a sleeve's bore does not fit. `caliper_error`, `hook_gauge_error`: standard
/// deviations of the measured holes (AsDrilled).
CupPlan plan_cup(const Tube& tube, const PlacedKey& key, const Shop& shop, End mouth_end,
                 double caliper_error = AsDrilled{}.caliper_error,
                 double hook_gauge_error = AsDrilled{}.hook_gauge_error);

/// The plan as faces and walls.
SeatedPart cup_part(const CupPlan& plan);

/// What the solid must be; in the cup's own frame. Volume and areas by quadrature over the plan.
Expectation expectation_of(const CupPlan& plan, const Tube& tube);

/// Lower limit of a twist drill's diameter, h8 (ISO 286; the hole it makes is hardly ever smaller).
double least_drill_diameter(double nominal);

/// In words: "switch seat".
std::string name_of(CupKind kind);

}  // namespace culmwright
