#pragma once
/// What a hand on a tube is judged by while it is being solved, with exact derivatives. Internal to the
/// solver (hand/hand_solve.hpp) and its tests.
///
/// Symbols: palm p ↦ R x + o; the unknowns of the palm are a small shift and turn in its own frame, those of
/// a chain its turns q. Half the sum of squares of
///
///     position   firmness · (middle of the flesh − (point + radius · normal)); beyond 0.5 mm it grows only
///     in
///                proportion (Huber), so that one place out of reach does not pull the others off theirs
///     squareness 2.5 · (facing of the pad + normal); 1.5 for the thumb, 0.8 for the side of the hand
///     nail       5 · (facing · normal beyond 0, for the thumb −0.2): nobody plays with the nail
///     posture    (q − relaxed) / scale
///     clearance  0.6 / mm by which a joint or the middle of a segment dips into the tube
///     wrist      (bend − relaxed) / 15°, (sideways − relaxed) / 12°, and 1 / 3° beyond the limits
///     fingers    0.5 / mm by which neighbouring fingers overlap; 1 / 5° of spread beyond the greatest
///
/// Weights: common practice. Everything but `fingers` belongs to the palm and one chain alone, so the normal
/// equations have the shape of an arrow. A term of `fingers` depends on two chains and not on the palm; its
/// gradient is exact, and its curvature is taken twice on each chain's own block instead of across them,
/// which is never less than the true one ((a + b)² ≤ 2 a² + 2 b²).
#include <Eigen/Dense>
#include <vector>

#include "hand/hand_chain.hpp"
#include "hand/hand_task.hpp"

namespace culmwright {

using Vector6 = Eigen::Matrix<double, 6, 1>;
using Matrix6 = Eigen::Matrix<double, 6, 6>;
using Matrix64 = Eigen::Matrix<double, 6, turns_per_chain>;
using Vector4 = Eigen::Matrix<double, turns_per_chain, 1>;
using Matrix4 = Eigen::Matrix<double, turns_per_chain, turns_per_chain>;

/// Where a hand is: its palm and every chain's turns, as the task's places.
struct HandState {
  RigidMotion palm;
  std::vector<ChainTurns> turns;
};

/// Cost, gradient and curvature about a state.
struct Arrow {
  struct Chain {
    Vector4 gradient;
    Matrix4 own;
    Matrix64 with_palm;
  };
  double cost = 0.0;
  Vector6 gradient;  ///< shift, turn
  Matrix6 palm;
  std::vector<Chain> chains;
};

/// How a place is held: per mm, and beyond how many mm only in proportion.
struct Firmness {
  double per_mm;
  double within;
};
constexpr Firmness yielding{0.3, 1e9};  ///< while the palm is looked for
constexpr Firmness firmer{1.0, 1e9};    ///< once it is about right
constexpr Firmness firmest{20.0, 1e9};  ///< of one finger alone, the palm held
constexpr Firmness firm{3.0, reached_within};

/// Precondition: a right hand's task (left ones mirrored), one chain of turns for each place.
void judge(const HandModel& hand, const HandTask& task, const HandState& state, Firmness firmness,
           Arrow& arrow);
/// The cost alone.
double cost_of(const HandModel& hand, const HandTask& task, const HandState& state, Firmness firmness);

/// One chain with the palm held: no wrist, no neighbours. Returns its cost; `with_palm` stays zero.
double judge_chain(const HandModel& hand, const HandTask& task, const ReachTask& place,
                   const RigidMotion& palm, const ChainTurns& turns, Firmness firmness, Arrow::Chain& chain);

/// The state after small unknowns: shift and turn of the palm in its own frame.
RigidMotion moved_palm(const RigidMotion& palm, const Vector6& step);

/// Angles of the wrist for a palm; radians, extension and toward the little finger.
struct WristBend {
  double extension = 0.0;
  double sideways = 0.0;
};
WristBend wrist_bend(const RigidMotion& palm, Vec3 elbow);

/// How far a chain's joints and segments stay clear of the tube; negative: overlap.
double clearance_of(const HandModel& hand, const HandTask& task, const ReachTask& place,
                    const HandState& state, std::size_t i);

/// Least distance between the flesh of two chains' outer segments; negative: overlap.
double gap_between_fingers(const FingerModel& a, const ChainPose& pose_a, const FingerModel& b,
                           const ChainPose& pose_b);

}  // namespace culmwright
