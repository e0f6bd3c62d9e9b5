#pragma once
/// What a key's cup is to be like, where it is not to be as the shop has it. What a kind does not have is an
/// error in the key layout (check_values.hpp).
#include <optional>

#include "base/angle.hpp"

namespace culmwright {

/// The surface under the finger.
enum class TouchSurface { dished, domed, flat };

/// What a pad closes on: a saddle that follows the skin, or a flat filed or spot-faced on the tube.
enum class PadLand { saddle, facet };

/// For a switch or sensor: a rectangle, `length` along the tube; or round, where `width` is 0.
struct Recess {
  double length = 8.6;  ///< a 6 × 6 switch across its corners, 8.49
  double width = 0.0;
  double depth = 3.5;
  bool round() const { return width <= 0.0; }
};

/// Of one key; what is not said is as in CupDefaults.
struct CupShape {
  std::optional<Recess> recess;         ///< switch seat
  std::optional<double> wire_way;       ///< diameter; switch seat, and a touch cap that has one; 0: none
  std::optional<TouchSurface> surface;  ///< all but plug and sleeve
  std::optional<double> rise;           ///< of the touch's middle above the skin
  std::optional<bool> flush;            ///< touch cap: nothing of it stands above the skin
  std::optional<Angle> tilt;            ///< touch cap: of its face, toward the finger
  std::optional<Angle> tilt_toward;     ///< 0: it looks toward the foot; 90°: to the player's left
  std::optional<double> pad_diameter;   ///< padded cup
  std::optional<double> pad_thickness;
  std::optional<PadLand> land;
  std::optional<bool> lugs;         ///< two, with a pin's hole, for an arm
  std::optional<double> pin;        ///< diameter
  std::optional<double> arm_width;  ///< of the arm between the lugs
  std::optional<double> bore;       ///< sleeve: the inner diameter that is wanted
};

/// The shop's own. Common practice.
struct CupDefaults {
  Recess recess;
  double wire_way = 3.0;
  TouchSurface surface = TouchSurface::dished;
  double pad_thickness = 2.5;
  double pad_over_rim = 1.5;  ///< of the pad beyond the hole's edge (practice: 1 to 2)
  PadLand land = PadLand::saddle;
  bool lugs = true;
  double pin = 2.0;
  double arm_width = 4.0;
  double wall_under_facet = 1.5;  ///< what a flat must leave of the wall, at least
};

}  // namespace culmwright
