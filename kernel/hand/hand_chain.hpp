#pragma once
/// One finger from the palm to its pad: where everything is for given turns of its joints, and how it moves
/// when they turn. All in the palm frame (hand/hand_model.hpp).
///
/// Every turn is a rotation about a line: a point X beyond it moves by axis × (X − origin), a direction by
/// axis × direction. The derivatives are therefore exact.
#include <array>

#include "hand/hand_model.hpp"

namespace culmwright {

/// A rotation line. Turn `turn` of the chain moves everything on `segment` and beyond by `share` of itself.
struct TurnLine {
  int turn = 0;
  int segment = 0;
  double share = 1.0;
  Vec3 axis;
  Vec3 origin;
};

struct ChainPose {
  std::array<Vec3, 4> joints;  ///< base, two joints, and the middle of the fingertip's round end
  Vec3 middle;                 ///< of the flesh where it touches: on the line of its segment
  double radius = 0.0;         ///< half thickness there: the skin lies so far from `middle`
  int segment = 2;             ///< on which it lies
  Vec3 facing;                 ///< outward from the pad (or the side of the finger), unit
  std::array<TurnLine, 6> lines;
  std::size_t line_count = 0;
  int slide_turn = -1;  ///< the turn that slides `middle` along its segment, if any
  Vec3 slide;           ///< of `middle` for a unit of it

  /// How a point of a segment moves with a turn; d point / d turn.
  Vec3 moved(Vec3 point, int on_segment, int turn) const;
  /// The same for a direction fixed to a segment.
  Vec3 turned(Vec3 way, int on_segment, int turn) const;
  /// For `middle`, the slide included.
  Vec3 middle_moved(int turn) const {
    return turn == slide_turn ? moved(middle, segment, turn) + slide : moved(middle, segment, turn);
  }
};

ChainPose chain_pose(const HandModel& hand, Finger finger, const ChainTurns& turns);

}  // namespace culmwright
