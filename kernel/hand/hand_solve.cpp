#include "hand/hand_solve.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/angle.hpp"
#include "hand/hand_objective.hpp"

namespace culmwright {

namespace {

constexpr double degree = pi / 180.0;
/// A step that gains less than this share of the cost ends the search.
constexpr double least_gain = 1e-6;
/// While the best start is looked for.
constexpr double least_gain_at_first = 1e-3;
constexpr double first_damping = 1e-3;
/// Once it is about right: small steps, so that no finger leaps to another way of reaching its place.
constexpr double careful_damping = 1.0;
constexpr double greatest_damping = 1e8;
/// Against unknowns that nothing depends on.
constexpr double tiny = 1e-12;
constexpr int most_finger_steps = 20;
constexpr double least_finger_gain = 1e-5;

HandTask right_handed(const HandTask& task) {
  return task.hand == Hand::right ? task : mirrored(task);
}

/// What a joint does in a step if it is not free: the step that takes it to its limit, or none at all.
using HeldSteps = std::array<std::optional<double>, turns_per_chain>;

/// Joints that cannot move, or stand at a limit and want beyond it.
HeldSteps held_at_limits(const FingerModel& finger, const ChainTurns& turns, const Vector4& gradient) {
  HeldSteps held;
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    const double g = gradient[static_cast<int>(t)];
    if (finger.least[t] >= finger.greatest[t] || (turns[t] <= finger.least[t] && g > 0.0) ||
        (turns[t] >= finger.greatest[t] && g < 0.0)) {
      held[t] = 0.0;
    }
  }
  return held;
}

/// A chain with the damping added and its held joints taken out: their steps go to the right-hand sides.
struct Prepared {
  Matrix4 own;
  Vector4 gradient;
  Matrix64 with_palm;
  Vector6 to_palm = Vector6::Zero();
};

Prepared prepare(const Arrow::Chain& chain, const HeldSteps& held, double damping) {
  Prepared ready{chain.own, chain.gradient, chain.with_palm, Vector6::Zero()};
  ready.own.diagonal() += damping * chain.own.diagonal() + Vector4::Constant(tiny);
  for (int t = 0; t < turns_per_chain; ++t) {
    const std::optional<double>& step = held[static_cast<std::size_t>(t)];
    if (!step) continue;
    if (*step != 0.0) {
      ready.gradient += *step * chain.own.col(t);
      ready.to_palm += *step * chain.with_palm.col(t);
    }
  }
  for (int t = 0; t < turns_per_chain; ++t) {
    if (!held[static_cast<std::size_t>(t)]) continue;
    ready.own.row(t).setZero();
    ready.own.col(t).setZero();
    ready.own(t, t) = 1.0;
    ready.gradient[t] = 0.0;
    ready.with_palm.col(t).setZero();
  }
  return ready;
}

/// Joints that the step would take past a limit stop there; true if there were any.
bool stop_at_limits(const FingerModel& finger, const ChainTurns& turns, const Vector4& step,
                    HeldSteps& held) {
  bool any = false;
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    if (held[t]) continue;
    const double next = turns[t] + step[static_cast<int>(t)];
    if (next >= finger.least[t] && next <= finger.greatest[t]) continue;
    held[t] = std::clamp(next, finger.least[t], finger.greatest[t]) - turns[t];
    any = true;
  }
  return any;
}

ChainTurns stepped(const FingerModel& finger, const ChainTurns& turns, const Vector4& step,
                   const HeldSteps& held) {
  ChainTurns next = turns;
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    next[t] = std::clamp(turns[t] + held[t].value_or(step[static_cast<int>(t)]), finger.least[t],
                         finger.greatest[t]);
  }
  return next;
}

/// The step of everything for given held joints: every chain eliminated, the palm solved, the chains found.
struct Step {
  Vector6 palm;
  std::vector<Vector4> chains;
};

Step solved_step(const Arrow& arrow, const std::vector<HeldSteps>& held, double damping) {
  Matrix6 palm = arrow.palm;
  palm.diagonal() += damping * arrow.palm.diagonal() + Vector6::Constant(tiny);
  Vector6 right = arrow.gradient;
  const std::size_t count = arrow.chains.size();
  std::vector<Matrix64> through(count);
  Step step;
  step.chains.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const Prepared ready = prepare(arrow.chains[i], held[i], damping);
    const Eigen::LLT<Matrix4> factor(ready.own);
    through[i] = factor.solve(ready.with_palm.transpose()).transpose();
    step.chains[i] = factor.solve(ready.gradient);
    palm.noalias() -= through[i] * ready.with_palm.transpose();
    right.noalias() += ready.to_palm - through[i] * ready.gradient;
  }
  step.palm = -Eigen::LDLT<Matrix6>(palm).solve(right);
  for (std::size_t i = 0; i < count; ++i) {
    step.chains[i] = -step.chains[i] - through[i].transpose() * step.palm;
  }
  return step;
}

/// One damped step. Joints that it would take past their limits are stopped there and the rest solved again.
HandState step_from(const HandModel& hand, const HandTask& task, const HandState& state, const Arrow& arrow,
                    double damping) {
  constexpr int most_rounds = 4;
  const auto finger = [&](std::size_t i) -> const FingerModel& { return hand.finger(task.places[i].finger); };
  const std::size_t count = arrow.chains.size();
  std::vector<HeldSteps> held(count);
  for (std::size_t i = 0; i < count; ++i) {
    held[i] = held_at_limits(finger(i), state.turns[i], arrow.chains[i].gradient);
  }
  Step step = solved_step(arrow, held, damping);
  for (int round = 0; round < most_rounds; ++round) {
    bool any = false;
    for (std::size_t i = 0; i < count; ++i) {
      any = stop_at_limits(finger(i), state.turns[i], step.chains[i], held[i]) || any;
    }
    if (!any) break;
    step = solved_step(arrow, held, damping);
  }
  HandState next;
  next.palm = moved_palm(state.palm, step.palm);
  next.turns.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    next.turns.push_back(stepped(finger(i), state.turns[i], step.chains[i], held[i]));
  }
  return next;
}

struct Settled {
  HandState state;
  double cost = 0.0;
  int steps = 0;
};

struct SettleLimits {
  int most_steps;
  double end_gain;  ///< a step that gains less than this share ends it
  double damping;   ///< to begin with
};

Settled settle_from(const HandModel& hand, const HandTask& task, HandState state, Firmness firmness,
                    const SettleLimits& limits) {
  Arrow arrow;
  judge(hand, task, state, firmness, arrow);
  Settled settled{std::move(state), arrow.cost, 0};
  double damping = limits.damping;
  while (settled.steps < limits.most_steps && damping < greatest_damping) {
    ++settled.steps;
    HandState next = step_from(hand, task, settled.state, arrow, damping);
    const double cost = cost_of(hand, task, next, firmness);
    if (!(cost < settled.cost)) {
      damping *= 6.0;
      continue;
    }
    const double gain = settled.cost - cost;
    settled.state = std::move(next);
    settled.cost = cost;
    damping = std::max(damping / 5.0, 1e-9);
    if (gain < limits.end_gain * cost) break;
    judge(hand, task, settled.state, firmness, arrow);
  }
  return settled;
}

struct SettledChain {
  ChainTurns turns{};
  double cost = 0.0;
};

/// One chain alone, the palm held.
SettledChain settle_chain(const HandModel& hand, const HandTask& task, const ReachTask& place,
                          const RigidMotion& palm, const ChainTurns& from, Firmness firmness) {
  const FingerModel& finger = hand.finger(place.finger);
  SettledChain at{from, 0.0};
  Arrow::Chain chain;
  at.cost = judge_chain(hand, task, place, palm, at.turns, firmness, chain);
  double damping = first_damping;
  for (int step = 0; step < most_finger_steps && damping < greatest_damping; ++step) {
    HeldSteps held = held_at_limits(finger, at.turns, chain.gradient);
    const auto solved = [&] {
      const Prepared ready = prepare(chain, held, damping);
      return Vector4(-Eigen::LLT<Matrix4>(ready.own).solve(ready.gradient));
    };
    Vector4 way = solved();
    while (stop_at_limits(finger, at.turns, way, held)) way = solved();
    const ChainTurns next = stepped(finger, at.turns, way, held);
    Arrow::Chain next_chain;
    const double cost = judge_chain(hand, task, place, palm, next, firmness, next_chain);
    if (!(cost < at.cost)) {
      damping *= 6.0;
      continue;
    }
    const double gain = at.cost - cost;
    at = {next, cost};
    chain = next_chain;
    damping = std::max(damping / 5.0, 1e-9);
    if (gain < least_finger_gain * cost) break;
  }
  return at;
}

/// The turns from which a finger is looked for anew: a finger reaches many places bent or straight, and a
/// step does not lead from one to the other.
std::array<ChainTurns, 2> other_ways(const FingerModel& finger) {
  ChainTurns bent = finger.relaxed;
  bent[1] = 0.5 * finger.relaxed[1];
  bent[2] = 2.0 * finger.relaxed[2];
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    bent[t] = std::clamp(bent[t], finger.least[t], finger.greatest[t]);
  }
  return {finger.relaxed, bent};
}

/// Every chain the best of the ways it has, the palm held.
void choose_ways(const HandModel& hand, const HandTask& task, Firmness firmness, HandState& state) {
  for (std::size_t i = 0; i < task.places.size(); ++i) {
    const ReachTask& place = task.places[i];
    SettledChain best = settle_chain(hand, task, place, state.palm, state.turns[i], firmness);
    for (const ChainTurns& from : other_ways(hand.finger(place.finger))) {
      const SettledChain other = settle_chain(hand, task, place, state.palm, from, firmness);
      if (other.cost < best.cost) best = other;
    }
    state.turns[i] = best.turns;
  }
}

/// How the palm lies before anything is solved: pitched about its own x, slanted about its own z.
struct Start {
  double pitch, slant;
};
constexpr Start starts[] = {{50, 0}, {75, 0}, {60, 20}, {60, -20}};

RigidMotion started_palm(const HandTask& task, const Start& start) {
  const Vec3 foot = task.tube.toward_foot;
  RigidMotion palm{foot, cross(task.front, foot), task.front, {}};
  Vector6 turn = Vector6::Zero();
  turn[3] = start.pitch * degree;
  palm = moved_palm(palm, turn);
  turn[3] = 0.0;
  turn[5] = start.slant * degree;
  return moved_palm(palm, turn);
}

/// Every joint relaxed, the palm where the pads then miss their places least.
HandState started(const HandModel& hand, const HandTask& task, const Start& start) {
  HandState state;
  state.palm = started_palm(task, start);
  Vec3 sum;
  double weights = 0.0;
  for (const ReachTask& place : task.places) {
    state.turns.push_back(hand.finger(place.finger).relaxed);
    const ChainPose pose = chain_pose(hand, place.finger, state.turns.back());
    const double weight = place.finger == Finger::thumb || place.finger == Finger::side ? 0.1 : 1.0;
    sum = sum + (place.point + place.normal * pose.radius - state.palm.turn(pose.middle)) * weight;
    weights += weight;
  }
  state.palm.origin = sum * (1.0 / weights);
  return state;
}

double miss_of(const HandModel& hand, const ReachTask& place, const RigidMotion& palm,
               const ChainTurns& turns) {
  const ChainPose pose = chain_pose(hand, place.finger, turns);
  return length(palm.apply(pose.middle) - (place.point + place.normal * pose.radius));
}

ReachedPlace reached_place(const HandModel& hand, const HandTask& task, const HandState& state,
                           std::size_t i) {
  const ReachTask& place = task.places[i];
  const ChainPose pose = chain_pose(hand, place.finger, state.turns[i]);
  ReachedPlace reached;
  reached.id = place.id;
  reached.finger = place.finger;
  reached.is_rest = place.is_rest;
  reached.turns = state.turns[i];
  reached.miss = miss_of(hand, place, state.palm, state.turns[i]);
  reached.reached = reached.miss <= reached_within;
  reached.off_square = std::acos(std::clamp(-dot(state.palm.turn(pose.facing), place.normal), -1.0, 1.0));
  reached.clearance = clearance_of(hand, task, place, state, i);
  return reached;
}

}  // namespace

bool HandOnTube::fingers_reach() const {
  return std::all_of(places.begin(), places.end(), [](const ReachedPlace& place) {
    return place.reached || place.finger == Finger::thumb;
  });
}

namespace {

struct Solved {
  HandState state;
  double cost = 0.0;
  int steps = 0;
};

/// Every place of the task together: the best of the starts, then ever firmer.
Solved solve(const HandModel& hand, const HandTask& task, int most_steps) {
  Settled best;
  int steps = 0;
  bool first = true;
  for (const Start& start : starts) {
    Settled settled = settle_from(hand, task, started(hand, task, start), yielding,
                                  {most_steps, least_gain_at_first, first_damping});
    steps += settled.steps;
    if (first || settled.cost < best.cost) best = std::move(settled);
    first = false;
  }
  choose_ways(hand, task, firmer, best.state);
  best = settle_from(hand, task, std::move(best.state), firmer,
                     {most_steps, least_gain_at_first, careful_damping});
  steps += best.steps;
  best = settle_from(hand, task, std::move(best.state), firm, {most_steps, least_gain, careful_damping});
  return {std::move(best.state), best.cost, steps + best.steps};
}

/// The place that is missed by most, if a finger misses any.
std::optional<std::size_t> worst_missed(const HandModel& hand, const HandTask& task, const HandState& state) {
  std::optional<std::size_t> worst;
  double most = reached_within;
  bool finger_misses = false;
  for (std::size_t i = 0; i < task.places.size(); ++i) {
    const double miss = miss_of(hand, task.places[i], state.palm, state.turns[i]);
    if (miss > reached_within && task.places[i].finger != Finger::thumb) finger_misses = true;
    if (miss <= most) continue;
    most = miss;
    worst = i;
  }
  return finger_misses ? worst : std::nullopt;
}

/// The turns for a place that the hand was not asked to reach, as near as its finger comes.
ChainTurns nearest_turns(const HandModel& hand, const HandTask& task, const ReachTask& place,
                         const RigidMotion& palm) {
  const ChainTurns& from = hand.finger(place.finger).relaxed;
  return settle_chain(hand, task, place, palm, from, firmest).turns;
}

}  // namespace

HandOnTube lay_hand(const HandModel& hand, const HandTask& given, const SolveOptions& options) {
  const HandTask task = right_handed(given);
  HandTask asked = task;
  std::vector<std::size_t> which(task.places.size());
  for (std::size_t i = 0; i < which.size(); ++i) which[i] = i;
  Solved solved = solve(hand, asked, options.most_steps);
  int steps = solved.steps;
  // What cannot be reached must not pull the other fingers off theirs: it is left out, the worst first.
  while (asked.places.size() > 1) {
    const std::optional<std::size_t> worst = worst_missed(hand, asked, solved.state);
    if (!worst) break;
    asked.places.erase(asked.places.begin() + static_cast<std::ptrdiff_t>(*worst));
    which.erase(which.begin() + static_cast<std::ptrdiff_t>(*worst));
    solved = solve(hand, asked, options.most_steps);
    steps += solved.steps;
  }
  HandState state{solved.state.palm, std::vector<ChainTurns>(task.places.size())};
  std::vector<bool> found(task.places.size(), false);
  for (std::size_t k = 0; k < which.size(); ++k) {
    state.turns[which[k]] = solved.state.turns[k];
    found[which[k]] = true;
  }
  HandOnTube laid;
  laid.palm = state.palm;
  laid.cost = solved.cost;
  laid.steps = steps;
  const WristBend bend = wrist_bend(state.palm, task.elbow);
  laid.extension = bend.extension;
  laid.wrist_sideways = bend.sideways;
  for (std::size_t i = 0; i < task.places.size(); ++i) {
    if (!found[i]) state.turns[i] = nearest_turns(hand, task, task.places[i], state.palm);
    laid.places.push_back(reached_place(hand, task, state, i));
  }
  return laid;
}

FingerAt move_finger(const HandModel& hand, const HandTask& given, const HandOnTube& laid,
                     const ReachTask& place, const ChainTurns& from) {
  HandTask task;
  task.hand = given.hand;
  task.tube = given.tube;
  task.places = {place};
  task = right_handed(task);
  const ReachTask& there = task.places.front();
  const SettledChain settled = settle_chain(hand, task, there, laid.palm, from, firmest);
  return {settled.turns, miss_of(hand, there, laid.palm, settled.turns)};
}

Vec3 in_space(const HandTask& task, const HandOnTube& laid, Vec3 point) {
  const Vec3 placed = laid.palm.apply(point);
  return task.hand == Hand::right ? placed : Vec3{placed.x, -placed.y, placed.z};
}

ChainInSpace chain_in_space(const HandModel& hand, const HandTask& task, const HandOnTube& laid,
                            Finger finger, const ChainTurns& turns) {
  const ChainPose pose = chain_pose(hand, finger, turns);
  ChainInSpace chain;
  for (std::size_t i = 0; i < 4; ++i) chain.joints[i] = in_space(task, laid, pose.joints[i]);
  chain.radius = hand.finger(finger).radius;
  chain.pad = in_space(task, laid, pose.middle);
  return chain;
}

}  // namespace culmwright
