#pragma once
/// The same problem as kernel/hand solves, written anew with rotation matrices and automatic derivatives, for
/// a general least-squares library (Ceres). Fingers and thumb; no side keys.
#include <ceres/ceres.h>
#include <ceres/rotation.h>

#include <Eigen/Dense>
#include <vector>

#include "hand/hand_objective.hpp"
#include "hand/hand_solve.hpp"

namespace culmwright::test {

template <class T>
using Vector3 = Eigen::Matrix<T, 3, 1>;
template <class T>
using Matrix3 = Eigen::Matrix<T, 3, 3>;

inline Eigen::Vector3d as_eigen(Vec3 v) {
  return {v.x, v.y, v.z};
}

/// A turn about one of the palm's axes, against its direction: 0 x, 1 y, 2 z.
template <class T>
Matrix3<T> turn_against(int axis, const T& angle) {
  T angle_axis[3] = {T(0), T(0), T(0)};
  angle_axis[axis] = -angle;
  Matrix3<T> turn;
  ceres::AngleAxisToRotationMatrix(angle_axis, turn.data());
  return turn;
}

/// Six unknowns about a palm: shift and turn in its own frame.
struct PalmAbout {
  RigidMotion palm;
  template <class T>
  void place(const T* unknowns, Matrix3<T>& turn, Vector3<T>& origin) const {
    Eigen::Matrix3d base;
    base << as_eigen(palm.x), as_eigen(palm.y), as_eigen(palm.z);
    Matrix3<T> own;
    ceres::AngleAxisToRotationMatrix(unknowns + 3, own.data());
    turn = base.cast<T>() * own;
    origin =
        as_eigen(palm.origin).cast<T>() + base.cast<T>() * Vector3<T>(unknowns[0], unknowns[1], unknowns[2]);
  }
};

template <class T>
struct ChainByMatrices {
  Vector3<T> joints[4];
  Vector3<T> middle;
  Vector3<T> facing;
};

template <class T>
ChainByMatrices<T> chain_by_matrices(const FingerModel& model, bool thumb, const T* q) {
  const Vector3<T> ahead(T(0), T(1), T(0));
  const Vector3<T> palmward(T(0), T(0), T(-1));
  const T degree(3.14159265358979323846 / 180.0);
  Matrix3<T> turns[3];
  if (thumb) {
    turns[0] = turn_against<T>(2, q[0] - 35.0 * degree) * turn_against<T>(0, q[1]) *
               turn_against<T>(1, q[1] + 88.0 * degree);
    turns[1] = turns[0] * turn_against<T>(0, q[2]);
    turns[2] = turns[1] * turn_against<T>(0, q[3]);
  } else {
    turns[0] = turn_against<T>(2, q[0]) * turn_against<T>(0, q[1]);
    turns[1] = turns[0] * turn_against<T>(0, q[2]);
    turns[2] = turns[1] * turn_against<T>(0, q[2] * T(2.0 / 3.0));
  }
  ChainByMatrices<T> chain;
  chain.joints[0] = as_eigen(model.base).cast<T>();
  const double lengths[3] = {model.segment[0], model.segment[1], model.segment[2] - model.radius[2]};
  for (int i = 0; i < 3; ++i) chain.joints[i + 1] = chain.joints[i] + turns[i] * ahead * T(lengths[i]);
  const T share = thumb ? T(0.5) : q[3];
  chain.middle = chain.joints[2] + turns[2] * ahead * (share * model.segment[2]);
  chain.facing = turns[2] * palmward;
  return chain;
}

/// How far a point with flesh about it lies outside the cone.
template <class T>
T outside_cone(const TubeNearHand& tube, const Vector3<T>& point, double flesh) {
  const Vector3<T> way = as_eigen(tube.toward_foot).cast<T>();
  const Vector3<T> from = point - as_eigen(tube.middle).cast<T>();
  const T s = from.dot(way);
  return (from - way * s).norm() - tube.radius - tube.slope * s - flesh;
}

template <class T>
T only_if_positive(const T& value) {
  return value > T(0) ? value : T(0);
}

struct PositionResidual {
  PalmAbout about;
  FingerModel model;
  ReachTask place;
  double per_mm;
  template <class T>
  bool operator()(const T* palm, const T* turns, T* residual) const {
    Matrix3<T> turn;
    Vector3<T> origin;
    about.place(palm, turn, origin);
    const auto chain = chain_by_matrices(model, place.finger == Finger::thumb, turns);
    const Eigen::Vector3d goal = as_eigen(place.point + place.normal * model.radius[2]);
    Eigen::Map<Vector3<T>> miss(residual);
    miss = (turn * chain.middle + origin - goal.cast<T>()) * T(per_mm);
    return true;
  }
};

struct SoftResidual {
  PalmAbout about;
  FingerModel model;
  ReachTask place;
  TubeNearHand tube;
  template <class T>
  bool operator()(const T* palm, const T* turns, T* residual) const {
    Matrix3<T> turn;
    Vector3<T> origin;
    about.place(palm, turn, origin);
    const bool thumb = place.finger == Finger::thumb;
    const auto chain = chain_by_matrices(model, thumb, turns);
    const Vector3<T> normal = as_eigen(place.normal).cast<T>();
    const Vector3<T> facing = turn * chain.facing;
    Eigen::Map<Vector3<T>> square(residual);
    square = (facing + normal) * T(thumb ? 1.5 : 2.5);
    residual[3] = T(5.0) * only_if_positive<T>(facing.dot(normal) + T(thumb ? 0.2 : 0.0));
    for (std::size_t t = 0; t < 4; ++t) residual[4 + t] = (turns[t] - model.relaxed[t]) / model.scale[t];
    const Vector3<T> points[5] = {0.5 * (chain.joints[0] + chain.joints[1]), chain.joints[1],
                                  0.5 * (chain.joints[1] + chain.joints[2]), chain.joints[2],
                                  chain.joints[3]};
    const double flesh[5] = {model.radius[0], model.radius[1], model.radius[1], model.radius[2],
                             model.radius[2]};
    for (int i = 0; i < 5; ++i) {
      const Vector3<T> at = turn * points[i] + origin;
      residual[8 + i] = T(0.6) * only_if_positive<T>(-outside_cone(tube, at, flesh[i]));
    }
    return true;
  }
};

struct PalmResidual {
  PalmAbout about;
  HandModel hand;
  TubeNearHand tube;
  Vec3 elbow;
  template <class T>
  bool operator()(const T* palm, T* residual) const {
    Matrix3<T> turn;
    Vector3<T> origin;
    about.place(palm, turn, origin);
    const Vec3 index = hand.finger(Finger::index).base;
    const Vec3 little = hand.finger(Finger::little).base;
    const Vec3 points[4] = {index, little, (index + little) * 0.5, (index + little) * 0.25};
    for (int i = 0; i < 4; ++i) {
      const Vector3<T> at = turn * as_eigen(points[i]).cast<T>() + origin;
      residual[i] = T(0.6) * only_if_positive<T>(-outside_cone(tube, at, hand.palm_radius));
    }
    const Vector3<T> forearm = turn.transpose() * (origin - as_eigen(elbow).cast<T>()).normalized();
    const double degree = 3.14159265358979323846 / 180.0;
    using std::atan2;
    const T back = atan2(-forearm[2], forearm[1]);
    const T aside = atan2(-forearm[0], forearm[1]);
    const auto beyond = [&](const T& bend, double least, double greatest) {
      return only_if_positive<T>(bend - T(greatest)) + only_if_positive<T>(T(least) - bend);
    };
    residual[4] = (back - T(15.0 * degree)) / (15.0 * degree);
    residual[5] = (aside - T(5.0 * degree)) / (12.0 * degree);
    residual[6] = beyond(back, -80 * degree, 70 * degree) / (3.0 * degree);
    residual[7] = beyond(aside, -20 * degree, 30 * degree) / (3.0 * degree);
    return true;
  }
};

template <class T>
T from_point_to_segment(const Vector3<T>& point, const Vector3<T>& a, const Vector3<T>& b) {
  const Vector3<T> way = b - a;
  T share = (point - a).dot(way) / way.squaredNorm();
  if (share < T(0)) share = T(0);
  if (share > T(1)) share = T(1);
  return (point - a - way * share).norm();
}

/// Between two straight pieces: either between inner points of both lines, or an end is nearest.
template <class T>
T between_segments(const Vector3<T>& a, const Vector3<T>& b, const Vector3<T>& c, const Vector3<T>& d) {
  const Vector3<T> normal = (b - a).cross(d - c);
  const T squared = normal.squaredNorm();
  if (squared > T(1e-9)) {
    const T s = (c - a).cross(d - c).dot(normal) / squared;
    const T t = (c - a).cross(b - a).dot(normal) / squared;
    if (s > T(0) && s < T(1) && t > T(0) && t < T(1)) {
      const T along = (c - a).dot(normal);
      return (along > T(0) ? along : -along) / normal.norm();
    }
  }
  T least = from_point_to_segment(a, c, d);
  for (const T& other :
       {from_point_to_segment(b, c, d), from_point_to_segment(c, a, b), from_point_to_segment(d, a, b)}) {
    if (other < least) least = other;
  }
  return least;
}

/// Two neighbours: their outer segments press on each other, or are spread beyond the published mean.
struct NeighboursResidual {
  FingerModel first, second;
  double greatest_spread;
  template <class T>
  bool operator()(const T* turns_a, const T* turns_b, T* residual) const {
    const auto a = chain_by_matrices(first, false, turns_a);
    const auto b = chain_by_matrices(second, false, turns_b);
    int k = 0;
    for (std::size_t i = 1; i < 3; ++i) {
      for (std::size_t j = 1; j < 3; ++j) {
        const T apart = between_segments(a.joints[i], a.joints[i + 1], b.joints[j], b.joints[j + 1]);
        residual[k++] = T(0.5) * only_if_positive<T>(T(first.radius[i] + second.radius[j]) - apart);
      }
    }
    const double weight = 36.0 / 3.14159265358979323846;  // 1 for 5 degrees
    residual[k] = T(weight) * only_if_positive<T>(turns_b[0] - turns_a[0] - T(greatest_spread));
    return true;
  }
};

/// Turns that begin at a limit stay there: the library cuts its steps off at bounds, and stalls on them.
inline void hold_at_limits(ceres::Problem& problem, const FingerModel& model, double* turns) {
  std::vector<int> held;
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    if (turns[t] <= model.least[t] || turns[t] >= model.greatest[t]) held.push_back(static_cast<int>(t));
  }
  if (!held.empty()) problem.SetManifold(turns, new ceres::SubsetManifold(turns_per_chain, held));
}

/// What the library makes of it.
struct ByCeres {
  double first_cost = 0.0;
  double cost = 0.0;
  int steps = 0;
  HandState state;
};

/// From `start`, a right hand's task of fingers and thumb, held firm.
inline ByCeres solve_by_ceres(const HandModel& hand, const HandTask& task, const HandState& start) {
  const PalmAbout about{start.palm};
  std::vector<double> palm(6, 0.0);
  ByCeres result;
  result.state = start;
  ceres::Problem problem;
  problem.AddParameterBlock(palm.data(), 6);
  for (std::size_t i = 0; i < task.places.size(); ++i) {
    const ReachTask& place = task.places[i];
    const FingerModel& model = hand.finger(place.finger);
    double* turns = result.state.turns[i].data();
    const double within = firm.within * (place.finger == Finger::thumb ? 0.6 : 1.0);
    problem.AddResidualBlock(new ceres::AutoDiffCostFunction<PositionResidual, 3, 6, 4>(
                                 new PositionResidual{about, model, place, firm.per_mm}),
                             new ceres::HuberLoss(firm.per_mm * within), palm.data(), turns);
    problem.AddResidualBlock(new ceres::AutoDiffCostFunction<SoftResidual, 13, 6, 4>(
                                 new SoftResidual{about, model, place, task.tube}),
                             nullptr, palm.data(), turns);
    hold_at_limits(problem, model, turns);
    for (int t = 0; t < turns_per_chain; ++t) {
      problem.SetParameterLowerBound(turns, t, model.least[static_cast<std::size_t>(t)]);
      problem.SetParameterUpperBound(turns, t, model.greatest[static_cast<std::size_t>(t)]);
    }
  }
  for (std::size_t a = 0; a < task.places.size(); ++a) {
    for (std::size_t b = 0; b < task.places.size(); ++b) {
      const int nearer = static_cast<int>(task.places[a].finger);
      if (nearer < 1 || static_cast<int>(task.places[b].finger) != nearer + 1) continue;
      problem.AddResidualBlock(
          new ceres::AutoDiffCostFunction<NeighboursResidual, 5, 4, 4>(
              new NeighboursResidual{hand.finger(task.places[a].finger), hand.finger(task.places[b].finger),
                                     greatest_spreads()[static_cast<std::size_t>(nearer)].mean}),
          nullptr, result.state.turns[a].data(), result.state.turns[b].data());
    }
  }
  problem.AddResidualBlock(new ceres::AutoDiffCostFunction<PalmResidual, 8, 6>(
                               new PalmResidual{about, hand, task.tube, task.elbow}),
                           nullptr, palm.data());
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_SCHUR;
  options.max_num_iterations = 200;
  options.function_tolerance = 1e-8;
  options.logging_type = ceres::SILENT;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &problem, &summary);
  result.first_cost = summary.initial_cost;
  result.cost = summary.final_cost;
  result.steps = static_cast<int>(summary.iterations.size());
  Vector6 step;
  for (int i = 0; i < 6; ++i) step[i] = palm[static_cast<std::size_t>(i)];
  result.state.palm = moved_palm(start.palm, step);
  return result;
}

}  // namespace culmwright::test
