#include "hand/hand_chain.hpp"

#include "base/angle.hpp"

namespace culmwright {

namespace {

constexpr Vec3 back_of_hand{0.0, 0.0, 1.0};

/// The thumb's metacarpal lies in the palm's plane, so far toward the thumb from the fingers' direction, at
/// turn 0: with the range −25 to 35 it opens to 60 degrees, the published radial abduction.
constexpr double thumb_zero = -35.0 * pi / 180.0;
/// Its nail is turned so far about its own length from the fingers' (a public model's code), and goes on
/// turning with the thumb out of the palm, as in opposition. Common practice.
constexpr double thumb_roll = 88.0 * pi / 180.0;

void add_line(ChainPose& pose, TurnLine line) {
  pose.lines[pose.line_count++] = line;
}

/// Direction in the palm's plane, and the axis that bends it toward the palm.
Vec3 heading(double sideways) {
  return {std::sin(sideways), std::cos(sideways), 0.0};
}
Vec3 bending_axis(double sideways) {
  return {-std::cos(sideways), std::sin(sideways), 0.0};
}

/// Segments in the plane of `ahead` and `toward_palm`, bent at each joint.
struct Bent {
  Vec3 ahead;
  Vec3 toward_palm;
  Vec3 direction(double angle) const { return ahead * std::cos(angle) + toward_palm * std::sin(angle); }
  Vec3 pad(double angle) const { return toward_palm * std::cos(angle) - ahead * std::sin(angle); }
};

/// The distal segment ends in flesh that is round about a point so far from its joint.
double round_end(const FingerModel& finger) {
  return finger.segment[2] - finger.radius[2];
}

ChainPose finger_pose(const FingerModel& finger, const ChainTurns& turns) {
  ChainPose pose;
  const Bent bent{heading(turns[0]), -back_of_hand};
  const Vec3 axis = bending_axis(turns[0]);
  const double one = turns[1];
  const double two = one + turns[2];
  const double three = two + end_joint_share * turns[2];
  pose.joints[0] = finger.base;
  pose.joints[1] = pose.joints[0] + bent.direction(one) * finger.segment[0];
  pose.joints[2] = pose.joints[1] + bent.direction(two) * finger.segment[1];
  pose.slide = bent.direction(three) * finger.segment[2];
  pose.slide_turn = 3;
  pose.joints[3] = pose.joints[2] + bent.direction(three) * round_end(finger);
  pose.middle = pose.joints[2] + pose.slide * turns[3];
  pose.radius = finger.radius[2];
  pose.facing = bent.pad(three);
  add_line(pose, {0, 0, 1.0, -back_of_hand, pose.joints[0]});
  add_line(pose, {1, 0, 1.0, axis, pose.joints[0]});
  add_line(pose, {2, 1, 1.0, axis, pose.joints[1]});
  add_line(pose, {2, 2, end_joint_share, axis, pose.joints[2]});
  return pose;
}

ChainPose side_pose(const FingerModel& side, const ChainTurns& turns) {
  ChainPose pose;
  const Bent bent{heading(turns[0]), -back_of_hand};
  const Vec3 axis = bending_axis(turns[0]);
  const double one = turns[1];
  const double two = one + turns[3];
  const double three = two + end_joint_share * turns[3];
  const Vec3 proximal = bent.direction(one) * side.segment[0];
  const Vec3 middle = bent.direction(two) * side.segment[1];
  pose.joints[0] = side.base;
  pose.joints[1] = pose.joints[0] + proximal;
  pose.joints[2] = pose.joints[1] + middle;
  pose.joints[3] = pose.joints[2] + bent.direction(three) * round_end(side);
  pose.segment = turns[2] <= 1.0 ? 0 : 1;
  pose.slide = pose.segment == 0 ? proximal : middle;
  pose.slide_turn = 2;
  pose.middle = pose.segment == 0 ? pose.joints[0] + pose.slide * turns[2]
                                  : pose.joints[1] + pose.slide * (turns[2] - 1.0);
  pose.radius = 0.5 * (side.radius[0] + side.radius[1]);
  pose.facing = axis;  // the bending axis points toward the thumb
  add_line(pose, {0, 0, 1.0, -back_of_hand, pose.joints[0]});
  add_line(pose, {1, 0, 1.0, axis, pose.joints[0]});
  add_line(pose, {3, 1, 1.0, axis, pose.joints[1]});
  add_line(pose, {3, 2, end_joint_share, axis, pose.joints[2]});
  return pose;
}

ChainPose thumb_pose(const FingerModel& thumb, const ChainTurns& turns) {
  ChainPose pose;
  const double across = thumb_zero + turns[0];
  const Vec3 flat = heading(across);
  const Vec3 out_axis = bending_axis(across);
  const Vec3 ahead = flat * std::cos(turns[1]) - back_of_hand * std::sin(turns[1]);
  const Vec3 palmward = -(flat * std::sin(turns[1]) + back_of_hand * std::cos(turns[1]));
  const double roll = thumb_roll + turns[1];
  const Bent bent{ahead, palmward * std::cos(roll) - out_axis * std::sin(roll)};
  const Vec3 axis = cross(ahead, bent.toward_palm);
  const double two = turns[2];
  const double three = two + turns[3];
  pose.joints[0] = thumb.base;
  pose.joints[1] = pose.joints[0] + ahead * thumb.segment[0];
  pose.joints[2] = pose.joints[1] + bent.direction(two) * thumb.segment[1];
  pose.joints[3] = pose.joints[2] + bent.direction(three) * round_end(thumb);
  pose.middle = pose.joints[2] + bent.direction(three) * (pad_share * thumb.segment[2]);
  pose.radius = thumb.radius[2];
  pose.facing = bent.pad(three);
  add_line(pose, {0, 0, 1.0, -back_of_hand, pose.joints[0]});
  add_line(pose, {1, 0, 1.0, out_axis, pose.joints[0]});
  add_line(pose, {1, 0, 1.0, -ahead, pose.joints[0]});  // the roll that goes with it
  add_line(pose, {2, 1, 1.0, axis, pose.joints[1]});
  add_line(pose, {3, 2, 1.0, axis, pose.joints[2]});
  return pose;
}

}  // namespace

Vec3 ChainPose::moved(Vec3 point, int on_segment, int turn) const {
  Vec3 sum;
  for (std::size_t i = 0; i < line_count; ++i) {
    const TurnLine& line = lines[i];
    if (line.turn != turn || line.segment > on_segment) continue;
    sum = sum + cross(line.axis, point - line.origin) * line.share;
  }
  return sum;
}

Vec3 ChainPose::turned(Vec3 way, int on_segment, int turn) const {
  Vec3 sum;
  for (std::size_t i = 0; i < line_count; ++i) {
    const TurnLine& line = lines[i];
    if (line.turn != turn || line.segment > on_segment) continue;
    sum = sum + cross(line.axis, way) * line.share;
  }
  return sum;
}

ChainPose chain_pose(const HandModel& hand, Finger finger, const ChainTurns& turns) {
  const FingerModel& model = hand.finger(finger);
  if (finger == Finger::thumb) return thumb_pose(model, turns);
  if (finger == Finger::side) return side_pose(model, turns);
  return finger_pose(model, turns);
}

}  // namespace culmwright
