#pragma once
/// Survey plates as numbers: two equal plates with n flats, fixed to the ends of a piece and pressed flat on
/// a board together. Rolled from flat to flat, the line between the plates always lies half the across-flats
/// above the board. Each plate is drawn as it is printed: outer face on the bed (z = 0), the collar that
/// takes the tube's end upward, x toward flat 0.
///
///             collar  |~~~tube's end~~~|
///          .----------|                |----------.   z = thickness
///   flat   |          '-- .  hole .  --'          |   recess
///          '--------------'       '---------------'   z = 0, on the bed
///
/// Flat i lies at θ = 360° · i / n in the tube's frame. The plate of end A is printed looking at the tube
/// from A's side, so its flats run the other way round than those of end B: the two are mirror images, and
/// their marks agree when both reference flats point to the reference line.
#include <vector>

#include "plan/expectation.hpp"
#include "tube/tube.hpp"

namespace culmwright {

/// Sizes of survey plates. Common practice.
namespace plate_sizes {
constexpr int flats = 16;
constexpr double least_across = 60.0;
constexpr double thickness = 8.0;
constexpr double recess_depth = 3.0;
constexpr double collar_height = 6.0;  ///< above the plate: tape binds it to the tube
constexpr double collar_wall = 2.4;
constexpr double room = 0.5;         ///< around the tube's end, each side
constexpr double clear_board = 4.0;  ///< between the tube and the board, at least
constexpr double hole_radius = 3.0;  ///< in the middle: to see through, and to push the end out
constexpr double notch_width = 1.2;
constexpr double notch_depth = 1.0;
constexpr double notch_pitch = 2.4;
}  // namespace plate_sizes

/// So many notches side by side in the middle of a flat.
struct FlatMark {
  int flat = 0;
  int notches = 1;
};

struct PlatePlan {
  End end = End::a;
  int flats = plate_sizes::flats;
  double across_flats = 0.0;
  double recess_radius = 0.0;
  /// Flat 0, the reference, has one notch; the flats a quarter, a half and three quarters round have two,
  /// three and four. Where n is not a multiple of four, only flat 1 is marked beside it, with two.
  std::vector<FlatMark> marks;

  std::string part() const { return end == End::a ? "survey plate A" : "survey plate B"; }
  double collar_radius() const { return recess_radius + plate_sizes::collar_wall; }
  double flat_length() const;
  /// Direction of a flat's normal in the plate's frame.
  Angle facing(int flat) const;
  /// From the plate's frame to the tube's, its recess floor against the end at `end_at`.
  RigidMotion to_tube(double end_at) const;
};

/// The outline of the plate, notches included, counter-clockwise.
std::vector<Vec2> outline(const PlatePlan& plan);

/// Both plates for a piece of which only rough widths are known: at its thicker end, and overall with its
/// bow. The plates are as wide as need be for the tube to clear the board. Throws GeometryError for fewer
/// than eight flats or flats too short for their marks.
std::vector<PlatePlan> plan_plates(double widest_end, double widest_overall, int flats = plate_sizes::flats);
std::vector<PlatePlan> plan_plates(const Tube& tube, int flats = plate_sizes::flats);

/// What the solid must be; volume and areas in closed form.
Expectation expectation_of(const PlatePlan& plan);

}  // namespace culmwright
