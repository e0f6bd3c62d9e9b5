#pragma once
/// What one hand has to do on a tube, as numbers: the places it must reach and what is in its way.
/// Millimetres in one right-handed frame (the tube's, where a task comes from hand/hand_on_tube.hpp).
#include <string>
#include <vector>

#include "base/vec.hpp"
#include "layout/key_layout.hpp"

namespace culmwright {

/// A place counts as reached when the finger comes within this of it, mm: what its flesh gives.
constexpr double reached_within = 0.5;

/// A place that a finger must touch. Several may belong to one finger: it plays them one after another, with
/// the palm where it is.
struct ReachTask {
  std::string id;
  Finger finger = Finger::index;
  Vec3 point;            ///< of the skin, in the middle of the touch
  Vec3 normal;           ///< outward, unit
  bool is_rest = false;  ///< a thumb rest, not a key
};

/// The tube near the hand: a cone about a straight axis, for clearance. Over the span of a hand it departs
/// from the true skin by ovality and bow, a millimetre or two; clearance asks for no more.
struct TubeNearHand {
  Vec3 middle;          ///< on the axis
  Vec3 toward_foot;     ///< unit, along the axis
  double radius = 0.0;  ///< at `middle`
  double slope = 0.0;   ///< radius gained per mm toward the foot
};

struct HandTask {
  Hand hand = Hand::right;
  std::vector<ReachTask> places;
  TubeNearHand tube;
  Vec3 front;  ///< unit, square to the tube: toward the one who looks at it
  Vec3 elbow;  ///< from where the forearm comes; common practice
};

/// The mirror image in the plane y = 0, played by the other hand.
HandTask mirrored(HandTask task);

/// The place moved on the cone: along it toward the foot, and around it to the player's left, in millimetres
/// of skin.
ReachTask moved_on_tube(const ReachTask& place, const HandTask& task, double along, double around);

}  // namespace culmwright
