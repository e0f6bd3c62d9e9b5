#pragma once
/// A hand laid on a tube: one palm for all its places, one chain of joints for each.
///
/// Nonlinear least squares with joint limits (hand/hand_objective.hpp says of what), by Levenberg–Marquardt
/// with the chains eliminated one by one: with n places a step costs n factorings of 4 × 4 and one of 6 × 6.
/// A joint at its limit that wants beyond it is held there for the step. Several starts, the best is kept;
/// the same input gives the same bytes. Tests hold the result against a general library's solution of the
/// same problem (Ceres); that library itself takes many times the 2 ms that a solve may last (its figures are
/// in the benchmark), because it lists, orders and allocates anew for every start.
///
/// Accuracy: a place counts as reached when the flesh of the finger lies within 0.5 mm of it; where it can be
/// reached it is met to 0.05 mm.
#include <string>
#include <vector>

#include "hand/hand_chain.hpp"
#include "hand/hand_task.hpp"

namespace culmwright {

struct ReachedPlace {
  std::string id;
  Finger finger = Finger::index;
  bool is_rest = false;
  bool reached = false;
  double miss = 0.0;  ///< mm from the flesh to where it should be
  ChainTurns turns{};
  double off_square = 0.0;  ///< radians between the pad and square to the skin
  double clearance = 0.0;   ///< of the finger from the tube; negative: it would have to dip in
};

struct HandOnTube {
  RigidMotion palm;                  ///< palm frame to the task's frame; of the mirror image for a left hand
  std::vector<ReachedPlace> places;  ///< as the task's
  double cost = 0.0;
  double extension = 0.0;       ///< of the wrist, radians; negative: bent toward the palm
  double wrist_sideways = 0.0;  ///< toward the little finger, radians
  int steps = 0;                ///< over all starts

  /// Every place but the thumb's, which only warns.
  bool fingers_reach() const;
};

struct SolveOptions {
  int most_steps = 40;  ///< for each start
};

/// Precondition: at least one place.
HandOnTube lay_hand(const HandModel& hand, const HandTask& task, const SolveOptions& options = {});

/// One finger moved to another place while the palm stays: its turns, or how far it misses.
struct FingerAt {
  ChainTurns turns{};
  double miss = 0.0;
};
/// `place` in the task's own frame; `from` is where the finger starts.
FingerAt move_finger(const HandModel& hand, const HandTask& task, const HandOnTube& laid,
                     const ReachTask& place, const ChainTurns& from);

/// Joints of a chain in the task's frame: base, two joints, tip, and the middle of the pad's flesh.
struct ChainInSpace {
  std::array<Vec3, 4> joints;
  std::array<double, 3> radius;
  Vec3 pad;
};
ChainInSpace chain_in_space(const HandModel& hand, const HandTask& task, const HandOnTube& laid,
                            Finger finger, const ChainTurns& turns);
/// A point of the palm frame in the task's frame.
Vec3 in_space(const HandTask& task, const HandOnTube& laid, Vec3 point);

}  // namespace culmwright
