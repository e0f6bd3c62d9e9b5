#pragma once
/// Thumb rests, slider shoes and strap rings as numbers: printed parts that sit on the skin as key cups do
/// (plan/seated_part.hpp), screwed or glued on.
///
///      hook of a rest          control              eye of a ring
///        .--.                  on top                  .-.
///        |  |   slot         .---------.              ( O )
///      .-'  '--\ ... /-.    |  \ ... /  |        .-\_/--'-'--\_/-.    top
///       `-~~.___________.~-'    the skin, offset by the glue line    x toward end B, z outward
///                |                                                   z = 0: the skin at the part's place
///                V screw: into the wall, never through it
///
/// Screws stand in the middle of their slots: the part may be moved along the tube by `adjust` either way.
/// Where two screws leave no room for all of it, one screw is taken; where even that leaves less, the notes
/// say what there is.
#include <optional>
#include <string>
#include <vector>

#include "layout/instrument.hpp"
#include "layout/shop.hpp"
#include "plan/outline.hpp"
#include "plan/seated_part.hpp"

namespace culmwright {

/// Sizes of fitted parts. Common practice.
namespace fitted_sizes {
constexpr double least_wall = 1.2;
constexpr double wall = 1.6;           ///< beside a slot's countersink
constexpr double chamfer = 0.8;        ///< of upper edges
constexpr double base = 3.0;           ///< of a rest or ring above the skin, at least what a head needs
constexpr double under_head = 1.2;     ///< of plastic under a screw's head
constexpr double screw_room = 0.4;     ///< on diameter, of screw and head
constexpr double screws_apart = 8.0;   ///< in one slot
constexpr double short_of_bore = 0.5;  ///< screws and their holes end this much before the bore
constexpr double grip = 1.0;           ///< least depth in the wall, in diameters of the screw
constexpr double hook = 4.0;           ///< thick, along the tube
constexpr double hook_from_edge = 2.4;
constexpr double eye_wall = 2.5;
constexpr double eye_thickness = 4.0;
constexpr double rides = 0.15;        ///< more than this, moved along, is said
constexpr double least_facing = 0.5;  ///< the skin under it may lean away by 60° at most
constexpr double notch_radius = 0.8;  ///< on the side of the mouth end
constexpr double notch_depth = 0.8;
constexpr double notch_lead = 1.0;
}  // namespace fitted_sizes

/// A slot for countersunk screws along x; round where `travel` is 0.
struct ScrewSlot {
  double middle = 0.0;  ///< x
  double travel = 0.0;  ///< each way, of the slot's own ends about its middle
  double radius = 0.0;  ///< half its width
  double head = 0.0;    ///< half its width at the top
  double floor = 0.0;   ///< z of the top of the countersink: the base's, or the floor of a recess
  RoundedRectangle outline() const { return {2.0 * (travel + radius), 2.0 * radius, radius}; }
};

/// A screw in the middle of the part's freedom.
struct FittedScrew {
  Vec2 xy;
  SkinPlace place;  ///< where its hole is drilled
  double diameter = 0.0;
  double length = 0.0;
  double pilot = 0.0;  ///< diameter of that hole
  double depth = 0.0;  ///< of hole and screw from the skin, at most
  double wall = 0.0;   ///< the thinnest it may meet
};

struct FittedPlan {
  std::string id;
  PartKind kind = PartKind::other;
  RigidMotion to_tube;
  double toward_mouth = -1.0;  ///< along x
  RoundedRectangle base;
  double seat_offset = 0.0;
  double seat_low = 0.0;
  double seat_high = 0.0;
  double top = 0.0;  ///< z of the base's upper face
  std::optional<RoundedRectangle> hook;
  double hook_middle = 0.0;  ///< x
  double hook_top = 0.0;
  std::optional<SeatedLug> eye;
  std::optional<RoundedRectangle> recess;
  double recess_floor = 0.0;
  std::vector<ScrewSlot> slots;
  std::optional<double> way_radius;  ///< for wires, through the base at `way_middle`
  double way_middle = 0.0;
  Fastening fastening = Fastening::screws;
  std::vector<FittedScrew> screws;
  double adjust = 0.0;  ///< each way, as it came out
  double ride = 0.0;    ///< greatest gap under it when moved to either end of that
  SeatedSupport support;
  RigidMotion lie;
  std::vector<std::string> notes;

  std::string part() const;
  bool top_down() const { return support.upside_down <= support.upright; }
};

/// Which parts are printed: thumb rests, sliders and strap rings with a footprint.
bool is_fitted_part(const Part& part);

/// A slider's footprint is its length and its travel together. Throws GeometryError naming the part where it
/// is too wide for the tube, stands beyond its end, has no room for what it carries, or shall be screwed on
/// where the wall does not hold a screw. Precondition: is_fitted_part.
FittedPlan plan_fitted(const Tube& tube, const PlacedPart& part, const Shop& shop, End mouth_end);

/// The plan as faces and walls.
SeatedPart fitted_part(const FittedPlan& plan);

}  // namespace culmwright
