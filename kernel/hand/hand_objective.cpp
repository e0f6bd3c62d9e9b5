#include "hand/hand_objective.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace culmwright {

namespace {

constexpr double degree = pi / 180.0;
constexpr double square_weight = 2.5;
constexpr double thumb_square_weight = 1.5;
constexpr double side_square_weight = 0.8;
constexpr double nail_weight = 5.0;
constexpr double thumb_least_facing = 0.2;
constexpr double clearance_weight = 0.6;
constexpr double fingers_weight = 0.5;
constexpr double spread_weight = 1.0 / (5.0 * degree);
constexpr double extension_weight = 1.0 / (15.0 * degree);
constexpr double sideways_weight = 1.0 / (12.0 * degree);
constexpr double limit_weight = 1.0 / (3.0 * degree);
/// A thumb gives way to the fingers where not all can be reached.
constexpr double thumb_share = 0.6;

/// A residual's row: over the palm's six unknowns and one chain's four.
struct Row {
  Vector6 palm = Vector6::Zero();
  Vector4 chain = Vector4::Zero();
};

/// Where residuals go: into an arrow or only into the cost.
struct Sink {
  double& cost;
  Vector6* palm_gradient;
  Matrix6* palm;
  Arrow::Chain* chain;

  bool wants_rows() const { return chain != nullptr || palm != nullptr; }
  void add(double residual, const Row& row, double curvature_share = 1.0) {
    cost += 0.5 * residual * residual;
    add_rows(residual, row, curvature_share);
  }
  void add_rows(double residual, const Row& row, double share) {
    if (palm != nullptr) {
      palm_gradient->noalias() += residual * row.palm;
      palm->noalias() += share * row.palm * row.palm.transpose();
    }
    if (chain != nullptr) {
      chain->gradient.noalias() += residual * row.chain;
      chain->own.noalias() += share * row.chain * row.chain.transpose();
      if (palm != nullptr) chain->with_palm.noalias() += share * row.palm * row.chain.transpose();
    }
  }
};

double part(Vec3 v, int i) {
  return i == 0 ? v.x : i == 1 ? v.y : v.z;
}

/// The task as the palm sees it.
struct PalmView {
  explicit PalmView(const HandTask& task, const RigidMotion& palm)
      : back(palm.inverse()), middle(back.apply(task.tube.middle)), way(back.turn(task.tube.toward_foot)) {}
  RigidMotion back;
  Vec3 middle;
  Vec3 way;
};

/// Palm columns of a point's or a direction's own movement, seen in the palm frame.
Vector6 palm_row_of_point(Vec3 point, Vec3 unit_row) {
  const Vec3 turn = cross(point, unit_row);
  Vector6 row;
  row << unit_row.x, unit_row.y, unit_row.z, turn.x, turn.y, turn.z;
  return row;
}
Vector6 palm_row_of_direction(Vec3 way, Vec3 unit_row) {
  const Vec3 turn = cross(way, unit_row);
  Vector6 row;
  row << 0, 0, 0, turn.x, turn.y, turn.z;
  return row;
}

constexpr Vec3 axes[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};

void add_position(const ReachTask& place, const ChainPose& pose, const PalmView& view, Firmness firmness,
                  Sink& sink) {
  const Vec3 miss = pose.middle - view.back.apply(place.point + place.normal * pose.radius);
  const double position_weight = firmness.per_mm;
  const double within = firmness.within * (place.finger == Finger::thumb ? thumb_share : 1.0);
  const double distance = length(miss);
  // Huber: the same value and slope at `within`, a straight line beyond it.
  const double share = distance > within ? within / distance : 1.0;
  const double squared = position_weight * position_weight;
  sink.cost +=
      distance > within ? squared * within * (distance - 0.5 * within) : 0.5 * squared * distance * distance;
  if (!sink.wants_rows()) return;
  std::array<Vec3, turns_per_chain> moves;
  for (int t = 0; t < turns_per_chain; ++t) moves[static_cast<std::size_t>(t)] = pose.middle_moved(t);
  const double root = position_weight * std::sqrt(share);
  for (int i = 0; i < 3; ++i) {
    Row row;
    row.palm = root * palm_row_of_point(pose.middle, axes[i]);
    for (int t = 0; t < turns_per_chain; ++t)
      row.chain[t] = root * part(moves[static_cast<std::size_t>(t)], i);
    sink.add_rows(root * part(miss, i), row, 1.0);
  }
}

void add_squareness(const ReachTask& place, const ChainPose& pose, const PalmView& view, Sink& sink) {
  const double weight = place.finger == Finger::thumb  ? thumb_square_weight
                        : place.finger == Finger::side ? side_square_weight
                                                       : square_weight;
  const Vec3 off = pose.facing + view.back.turn(place.normal);
  std::array<Vec3, turns_per_chain> moves;
  for (int t = 0; t < turns_per_chain; ++t) {
    moves[static_cast<std::size_t>(t)] = pose.turned(pose.facing, pose.segment, t);
  }
  for (int i = 0; i < 3; ++i) {
    Row row;
    row.palm = weight * palm_row_of_direction(pose.facing, axes[i]);
    for (int t = 0; t < turns_per_chain; ++t) {
      row.chain[t] = weight * part(moves[static_cast<std::size_t>(t)], i);
    }
    sink.add(weight * part(off, i), row);
  }
}

/// Nobody plays with the nail: the fingertip's round end is the farthest that touches.
void add_nail(const ReachTask& place, const ChainPose& pose, const PalmView& view, Sink& sink) {
  const Vec3 normal = view.back.turn(place.normal);
  const double least = place.finger == Finger::thumb ? thumb_least_facing : 0.0;
  const double beyond = least + dot(pose.facing, normal);
  if (beyond <= 0.0) return;
  Row row;
  row.palm = nail_weight * palm_row_of_direction(pose.facing, normal);
  for (int t = 0; t < turns_per_chain; ++t) {
    row.chain[t] = nail_weight * dot(pose.turned(pose.facing, pose.segment, t), normal);
  }
  sink.add(nail_weight * beyond, row);
}

void add_posture(const FingerModel& finger, const ChainTurns& turns, Sink& sink) {
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    if (finger.greatest[t] <= finger.least[t]) continue;
    Row row;
    row.chain[static_cast<int>(t)] = 1.0 / finger.scale[t];
    sink.add((turns[t] - finger.relaxed[t]) / finger.scale[t], row);
  }
}

/// How far a point on a finger, with the flesh about it, stays clear of the cone; and which way is out.
struct Clear {
  double distance = 0.0;
  Vec3 out;  ///< d distance / d point
};

Clear clear_of(const TubeNearHand& tube, Vec3 middle, Vec3 way, Vec3 point, double flesh) {
  const Vec3 from = point - middle;
  const double s = dot(from, way);
  const Vec3 across = from - way * s;
  const double radial = std::max(length(across), 1e-9);
  return {radial - tube.radius - tube.slope * s - flesh, across * (1.0 / radial) - way * tube.slope};
}

/// A place on a chain that must stay outside the tube.
struct Probe {
  Vec3 point;
  int segment = 0;
  double flesh = 0.0;
};

std::array<Probe, 5> probes_of(const FingerModel& finger, const ChainPose& pose) {
  const auto mid = [&](std::size_t i) { return (pose.joints[i] + pose.joints[i + 1]) * 0.5; };
  return {{{mid(0), 0, finger.radius[0]},
           {pose.joints[1], 0, finger.radius[1]},
           {mid(1), 1, finger.radius[1]},
           {pose.joints[2], 1, finger.radius[2]},
           {pose.joints[3], 2, finger.radius[2]}}};
}

void add_overlap(const Clear& clear, Vec3 point, const ChainPose* pose, int segment, Sink& sink) {
  if (clear.distance >= 0.0) return;
  Row row;
  row.palm = -clearance_weight * palm_row_of_point(point, clear.out);
  if (pose != nullptr) {
    for (int t = 0; t < turns_per_chain; ++t) {
      row.chain[t] = -clearance_weight * dot(clear.out, pose->moved(point, segment, t));
    }
  }
  sink.add(-clearance_weight * clear.distance, row);
}

void add_clearance(const FingerModel& finger, const HandTask& task, const ChainPose& pose,
                   const PalmView& view, Sink& sink) {
  for (const Probe& probe : probes_of(finger, pose)) {
    const Clear clear = clear_of(task.tube, view.middle, view.way, probe.point, probe.flesh);
    add_overlap(clear, probe.point, &pose, probe.segment, sink);
  }
}

void add_chain(const HandModel& hand, const HandTask& task, const ReachTask& place, const ChainTurns& turns,
               const ChainPose& pose, const PalmView& view, Firmness firmness, Sink& sink) {
  const FingerModel& finger = hand.finger(place.finger);
  add_position(place, pose, view, firmness, sink);
  add_squareness(place, pose, view, sink);
  add_nail(place, pose, view, sink);
  add_posture(finger, turns, sink);
  add_clearance(finger, task, pose, view, sink);
}

/// The palm itself must not lie in the tube.
void add_palm(const HandModel& hand, const HandTask& task, const PalmView& view, Sink& sink) {
  const Vec3 index = hand.finger(Finger::index).base;
  const Vec3 little = hand.finger(Finger::little).base;
  for (const Vec3 point : {index, little, (index + little) * 0.5, (index + little) * 0.25}) {
    add_overlap(clear_of(task.tube, view.middle, view.way, point, hand.palm_radius), point, nullptr, 0, sink);
  }
}

/// The forearm's direction in the palm frame, and its change with the palm.
struct Forearm {
  Vec3 way;
  double length = 1.0;
};

Forearm forearm_of(const RigidMotion& palm, Vec3 elbow) {
  const Vec3 from = palm.origin - elbow;
  const double reach = std::max(length(from), 1.0);
  return {palm.inverse().turn(from * (1.0 / reach)), reach};
}

/// Row of a direction's change g · d way: by the shift of the wrist and by the turn of the palm.
Vector6 forearm_row(const Forearm& forearm, Vec3 g) {
  const Vec3 shift = (g - forearm.way * dot(g, forearm.way)) * (1.0 / forearm.length);
  // The forearm stands still while the palm turns: d way = −turn × way.
  const Vec3 turn = cross(g, forearm.way);
  Vector6 row;
  row << shift.x, shift.y, shift.z, turn.x, turn.y, turn.z;
  return row;
}

void add_bend(double bend, double relaxed, double least, double greatest, double weight, const Vector6& row,
              Sink& sink) {
  Row scaled;
  scaled.palm = weight * row;
  sink.add(weight * (bend - relaxed), scaled);
  const double beyond = bend > greatest ? bend - greatest : bend < least ? bend - least : 0.0;
  if (beyond == 0.0) return;
  scaled.palm = limit_weight * row;
  sink.add(limit_weight * beyond, scaled);
}

void add_wrist(const HandModel& hand, const HandTask& task, const RigidMotion& palm, Sink& sink) {
  const Forearm forearm = forearm_of(palm, task.elbow);
  const Vec3 w = forearm.way;
  const WristModel& wrist = hand.wrist;
  const double sagittal = std::max(w.y * w.y + w.z * w.z, 1e-9);
  const double level = std::max(w.y * w.y + w.x * w.x, 1e-9);
  const Vector6 extension = forearm_row(forearm, Vec3{0.0, w.z, -w.y} * (1.0 / sagittal));
  const Vector6 sideways = forearm_row(forearm, Vec3{-w.y, w.x, 0.0} * (1.0 / level));
  add_bend(std::atan2(-w.z, w.y), wrist.extension_relaxed, wrist.extension_least, wrist.extension_greatest,
           extension_weight, extension, sink);
  add_bend(std::atan2(-w.x, w.y), wrist.sideways_relaxed, wrist.sideways_least, wrist.sideways_greatest,
           sideways_weight, sideways, sink);
}

/// The nearest points of two segments, as shares of each.
struct Nearest {
  double s = 0.0;
  double t = 0.0;
};

Nearest nearest_of_segments(Vec3 a, Vec3 a_way, Vec3 b, Vec3 b_way) {
  const Vec3 from = a - b;
  const double aa = dot(a_way, a_way);
  const double bb = dot(b_way, b_way);
  const double ab = dot(a_way, b_way);
  const double fa = dot(a_way, from);
  const double fb = dot(b_way, from);
  const double det = aa * bb - ab * ab;
  double s = det > 1e-12 * aa * bb ? std::clamp((ab * fb - bb * fa) / det, 0.0, 1.0) : 0.0;
  const double t = std::clamp((ab * s + fb) / bb, 0.0, 1.0);
  s = std::clamp((ab * t - fa) / aa, 0.0, 1.0);
  return {s, t};
}

/// Nearest points of one pair of segments with the gap of the flesh between them.
struct Meeting {
  Vec3 a;
  Vec3 b;
  double gap = 0.0;
};

Meeting meeting_of(const FingerModel& a, const ChainPose& pose_a, std::size_t i, const FingerModel& b,
                   const ChainPose& pose_b, std::size_t j) {
  const Vec3 a_way = pose_a.joints[i + 1] - pose_a.joints[i];
  const Vec3 b_way = pose_b.joints[j + 1] - pose_b.joints[j];
  const Nearest near = nearest_of_segments(pose_a.joints[i], a_way, pose_b.joints[j], b_way);
  Meeting meeting{pose_a.joints[i] + a_way * near.s, pose_b.joints[j] + b_way * near.t, 0.0};
  meeting.gap = length(meeting.a - meeting.b) - a.radius[i] - b.radius[j];
  return meeting;
}

void add_to_chain(double residual, const Vector4& row, Arrow::Chain* chain) {
  if (chain == nullptr) return;
  chain->gradient.noalias() += residual * row;
  chain->own.noalias() += 2.0 * row * row.transpose();
}

void add_meeting(const ChainPose& a, const ChainPose& b, const Meeting& meeting, int i, int j, double& cost,
                 Arrow::Chain* chain_a, Arrow::Chain* chain_b) {
  if (meeting.gap >= 0.0) return;
  const double residual = -fingers_weight * meeting.gap;
  cost += 0.5 * residual * residual;
  if (chain_a == nullptr) return;
  const Vec3 between = meeting.a - meeting.b;
  const Vec3 out = between * (1.0 / std::max(length(between), 1e-9));
  Vector4 row_a;
  Vector4 row_b;
  for (int t = 0; t < turns_per_chain; ++t) {
    row_a[t] = -fingers_weight * dot(out, a.moved(meeting.a, i, t));
    row_b[t] = fingers_weight * dot(out, b.moved(meeting.b, j, t));
  }
  add_to_chain(residual, row_a, chain_a);
  add_to_chain(residual, row_b, chain_b);
}

/// `finger` is the nearer to the thumb.
void add_spread(Finger finger, double spread, double& cost, Arrow::Chain* chain_a, Arrow::Chain* chain_b) {
  const double beyond = spread - greatest_spreads()[static_cast<std::size_t>(finger)].mean;
  if (beyond <= 0.0) return;
  const double residual = spread_weight * beyond;
  cost += 0.5 * residual * residual;
  Vector4 row = Vector4::Zero();
  row[0] = spread_weight;
  add_to_chain(residual, -row, chain_a);
  add_to_chain(residual, row, chain_b);
}

/// The side of the hand is the index finger's.
Finger moved_by(Finger finger) {
  return finger == Finger::side ? Finger::index : finger;
}

bool is_neighbour(Finger a, Finger b) {
  const int i = static_cast<int>(moved_by(a));
  return i >= 1 && b != Finger::side && static_cast<int>(b) == i + 1;
}

void add_fingers(const HandModel& hand, const HandTask& task, const HandState& state,
                 const std::vector<ChainPose>& poses, double& cost, std::vector<Arrow::Chain>* chains) {
  for (std::size_t a = 0; a < poses.size(); ++a) {
    for (std::size_t b = 0; b < poses.size(); ++b) {
      const Finger first = task.places[a].finger;
      const Finger second = task.places[b].finger;
      if (!is_neighbour(first, second)) continue;
      Arrow::Chain* chain_a = chains == nullptr ? nullptr : &(*chains)[a];
      Arrow::Chain* chain_b = chains == nullptr ? nullptr : &(*chains)[b];
      for (std::size_t i = 1; i < 3; ++i) {
        for (std::size_t j = 1; j < 3; ++j) {
          const Meeting meeting =
              meeting_of(hand.finger(first), poses[a], i, hand.finger(second), poses[b], j);
          add_meeting(poses[a], poses[b], meeting, static_cast<int>(i), static_cast<int>(j), cost, chain_a,
                      chain_b);
        }
      }
      add_spread(moved_by(first), state.turns[b][0] - state.turns[a][0], cost, chain_a, chain_b);
    }
  }
}

double judge_into(const HandModel& hand, const HandTask& task, const HandState& state, Firmness firmness,
                  Arrow* arrow) {
  double cost = 0.0;
  const PalmView view(task, state.palm);
  Vector6* gradient = arrow == nullptr ? nullptr : &arrow->gradient;
  Matrix6* palm = arrow == nullptr ? nullptr : &arrow->palm;
  std::vector<ChainPose> poses;
  poses.reserve(task.places.size());
  for (std::size_t i = 0; i < task.places.size(); ++i) {
    poses.push_back(chain_pose(hand, task.places[i].finger, state.turns[i]));
    Sink sink{cost, gradient, palm, arrow == nullptr ? nullptr : &arrow->chains[i]};
    add_chain(hand, task, task.places[i], state.turns[i], poses.back(), view, firmness, sink);
  }
  Sink sink{cost, gradient, palm, nullptr};
  add_palm(hand, task, view, sink);
  add_wrist(hand, task, state.palm, sink);
  add_fingers(hand, task, state, poses, cost, arrow == nullptr ? nullptr : &arrow->chains);
  return cost;
}

void clear_chain(Arrow::Chain& chain) {
  chain.gradient.setZero();
  chain.own.setZero();
  chain.with_palm.setZero();
}

}  // namespace

void judge(const HandModel& hand, const HandTask& task, const HandState& state, Firmness firmness,
           Arrow& arrow) {
  arrow.gradient.setZero();
  arrow.palm.setZero();
  arrow.chains.resize(task.places.size());
  for (Arrow::Chain& chain : arrow.chains) clear_chain(chain);
  arrow.cost = judge_into(hand, task, state, firmness, &arrow);
}

double cost_of(const HandModel& hand, const HandTask& task, const HandState& state, Firmness firmness) {
  return judge_into(hand, task, state, firmness, nullptr);
}

double judge_chain(const HandModel& hand, const HandTask& task, const ReachTask& place,
                   const RigidMotion& palm, const ChainTurns& turns, Firmness firmness, Arrow::Chain& chain) {
  clear_chain(chain);
  double cost = 0.0;
  Sink sink{cost, nullptr, nullptr, &chain};
  add_chain(hand, task, place, turns, chain_pose(hand, place.finger, turns), PalmView(task, palm), firmness,
            sink);
  return cost;
}

RigidMotion moved_palm(const RigidMotion& palm, const Vector6& step) {
  const Eigen::Vector3d turn = step.tail<3>();
  const double angle = turn.norm();
  Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();
  if (angle > 0.0) rotation = Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix();
  const auto column = [&](int i) { return palm.turn({rotation(0, i), rotation(1, i), rotation(2, i)}); };
  RigidMotion moved{column(0), column(1), column(2), palm.apply({step[0], step[1], step[2]})};
  // Kept square to rounding through any number of steps.
  moved.x = unit(moved.x);
  moved.y = unit(moved.y - moved.x * dot(moved.x, moved.y));
  moved.z = cross(moved.x, moved.y);
  return moved;
}

WristBend wrist_bend(const RigidMotion& palm, Vec3 elbow) {
  const Vec3 w = forearm_of(palm, elbow).way;
  return {std::atan2(-w.z, w.y), std::atan2(-w.x, w.y)};
}

double clearance_of(const HandModel& hand, const HandTask& task, const ReachTask& place,
                    const HandState& state, std::size_t i) {
  const PalmView view(task, state.palm);
  double least = 1e300;
  const ChainPose pose = chain_pose(hand, place.finger, state.turns[i]);
  for (const Probe& probe : probes_of(hand.finger(place.finger), pose)) {
    least = std::min(least, clear_of(task.tube, view.middle, view.way, probe.point, probe.flesh).distance);
  }
  return least;
}

double gap_between_fingers(const FingerModel& a, const ChainPose& pose_a, const FingerModel& b,
                           const ChainPose& pose_b) {
  double least = 1e300;
  for (std::size_t i = 1; i < 3; ++i) {
    for (std::size_t j = 1; j < 3; ++j) least = std::min(least, meeting_of(a, pose_a, i, b, pose_b, j).gap);
  }
  return least;
}

}  // namespace culmwright
