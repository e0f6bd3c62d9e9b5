#include "hand/hand_model.hpp"

#include <algorithm>

#include "base/angle.hpp"
#include "hand/hand_chain.hpp"

namespace culmwright {

namespace {

constexpr double degree = pi / 180.0;

/// One row of the published fractions.
struct Row {
  double x;  ///< × breadth
  double y;  ///< × length
  std::array<double, 3> segment;
  double thickness;  ///< of the distal segment, × breadth
};

constexpr Row rows[] = {
    {-0.196, 0.073, {0.251, 0.196, 0.158}, 0.21},   // thumb
    {-0.251, 0.447, {0.245, 0.143, 0.097}, 0.175},  // index
    {0.0, 0.446, {0.266, 0.170, 0.108}, 0.18},      // middle
    {0.206, 0.409, {0.244, 0.165, 0.107}, 0.17},    // ring
    {0.402, 0.368, {0.204, 0.117, 0.093}, 0.15},    // little
};

/// Sideways, toward the little finger positive: relaxed, least, greatest, degrees.
struct Sideways {
  double relaxed, least, greatest;
};
constexpr Sideways sideways[] = {{}, {-15, -42, 15}, {-6, -35, 8}, {0, -20, 14}, {7, -19, 33}};

ChainTurns degrees(double a, double b, double c, double d) {
  return {a * degree, b * degree, c * degree, d * degree};
}

FingerModel measured(const Row& row, HandSize size) {
  FingerModel finger;
  finger.base = {row.x * size.breadth, row.y * size.length, 0.0};
  // The flesh grows toward the palm: 1.15 and 1.3 of the tip's. Common practice.
  const double tip = 0.5 * row.thickness * size.breadth;
  finger.radius = {1.3 * tip, 1.15 * tip, tip};
  for (std::size_t i = 0; i < 3; ++i) finger.segment[i] = row.segment[i] * size.length;
  return finger;
}

FingerModel finger_of(std::size_t which, HandSize size) {
  FingerModel finger = measured(rows[which], size);
  const Sideways& side = sideways[which];
  // Knuckle 0 to 90 (45 back), middle joint 0 to 100. The end joint follows to 67, within its 80.
  finger.least = degrees(side.least, -45, 0, 0);
  finger.greatest = degrees(side.greatest, 90, 100, 0);
  finger.relaxed = degrees(side.relaxed, 35, 40, 0);
  finger.scale = degrees(10, 25, 30, 0);
  finger.least[3] = 0.3;
  finger.greatest[3] = 1.0 - finger.radius[2] / finger.segment[2];
  finger.relaxed[3] = pad_share;
  finger.scale[3] = 0.15;
  return finger;
}

FingerModel thumb_of(HandSize size) {
  FingerModel thumb = measured(rows[0], size);
  thumb.radius = {1.5 * thumb.radius[2], 1.1 * thumb.radius[2], thumb.radius[2]};
  thumb.least = degrees(-25, 0, -10, -15);
  thumb.greatest = degrees(35, 60, 55, 80);
  thumb.relaxed = degrees(0, 35, 15, 15);
  thumb.scale = degrees(20, 20, 25, 30);
  return thumb;
}

FingerModel side_of(const FingerModel& index) {
  FingerModel side = index;
  side.least = {index.least[0], index.least[1], 0.1, index.least[2]};
  side.greatest = {index.greatest[0], index.greatest[1], 1.9, index.greatest[2]};
  side.relaxed = {index.relaxed[0], index.relaxed[1], 0.7, index.relaxed[2]};
  side.scale = {index.scale[0], index.scale[1], 0.5, index.scale[2]};
  return side;
}

}  // namespace

HandModel hand_model(HandSize size) {
  HandModel hand;
  hand.size = size;
  hand.fingers[0] = thumb_of(size);
  for (std::size_t i = 1; i < hand.fingers.size(); ++i) hand.fingers[i] = finger_of(i, size);
  hand.side = side_of(hand.fingers[1]);
  hand.palm_radius = 0.15 * size.breadth;
  hand.wrist = {-80 * degree, 70 * degree, 15 * degree, -20 * degree, 30 * degree, 5 * degree};
  return hand;
}

const std::array<Spread, 4>& greatest_spreads() {
  static const std::array<Spread, 4> spreads = {{{53.4 * degree, 6.5 * degree},
                                                 {17.2 * degree, 2.6 * degree},
                                                 {14.3 * degree, 2.3 * degree},
                                                 {32.1 * degree, 7.0 * degree}}};
  return spreads;
}

double greatest_span(const HandModel& hand) {
  const FingerModel& thumb = hand.finger(Finger::thumb);
  const FingerModel& little = hand.finger(Finger::little);
  // The middle finger stays; ring and little finger spread from it as far as hands do, or their joints allow.
  const auto& spreads = greatest_spreads();
  const double out = std::min(hand.finger(Finger::middle).relaxed[0] + spreads[2].mean + spreads[3].mean,
                              little.greatest[0]);
  const ChainPose a = chain_pose(hand, Finger::thumb, {thumb.least[0], 0.0, 0.0, 0.0});
  const ChainPose b = chain_pose(hand, Finger::little, {out, 0.0, 0.0, pad_share});
  const auto tip = [](const ChainPose& pose, const FingerModel& finger) {
    return pose.joints[3] + unit(pose.joints[3] - pose.joints[2]) * finger.radius[2];
  };
  return length(tip(a, thumb) - tip(b, little));
}

}  // namespace culmwright
