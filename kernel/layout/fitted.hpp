#pragma once
/// Thumb rests, slider shoes, strap rings and wires: what a key layout may say of them, and what the shop
/// does where it says nothing.
#include <optional>
#include <vector>

#include "layout/cup_shape.hpp"

namespace culmwright {

/// What holds a part on the tube.
enum class Fastening { screws, glue };

/// Of one thumb rest, slider or strap ring; what is not said is as in FittedDefaults.
struct PartShape {
  /// Above the skin: of a thumb rest's hook, of a slider's bed, of the middle of a ring's eye.
  std::optional<double> height;
  std::optional<double> adjust;        ///< along the tube, each way; 0: round screw holes, no slots
  std::optional<Fastening> fastening;  ///< left out: screws where the wall holds them, else glue
  std::optional<bool> ring;            ///< thumb rest: an eye for the strap stands on it
  std::optional<Recess> recess;        ///< slider: for its control
  std::optional<double> wire_way;      ///< slider: diameter of the hole under its control; 0: none
};

/// The shop's own. Common practice; screws are small countersunk wood screws (heads twice as wide as the
/// screw, from memory), their holes drilled to 0.7 of the screw in hard stuff.
struct FittedDefaults {
  double adjust = 10.0;
  double hook_height = 14.0;
  double slider_height = 6.0;
  double eye = 6.0;  ///< diameter
  double screw = 2.5;
  double screw_head = 5.0;
  std::vector<double> screw_lengths{6.0, 8.0, 10.0, 12.0, 16.0};  ///< in the drawer
  double pilot_share = 0.7;                                       ///< of the screw's diameter
};

/// Wires from switches and sensors through the bore. Common practice.
struct Wiring {
  double diameter = 1.1;            ///< of one wire, over its insulation
  double spare_at_key = 40.0;       ///< so that the cup comes out with its wires on
  double spare_at_opening = 120.0;  ///< to what the wires are joined to
  double slack = 0.05;              ///< share of the way: wires do not lie straight
  double room = 1.3;                ///< a pierced node is at least so many times as wide as the bundle in it
  double piercing_reach = 400.0;    ///< of what pierces nodes, from an end
};

}  // namespace culmwright
