#include "hand/comfort.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "hand/hand_chain.hpp"
#include "hand/hand_objective.hpp"

namespace culmwright {

namespace {

constexpr double degree = pi / 180.0;
constexpr double march = 3.0;      // mm of one step outward
constexpr double accuracy = 0.25;  // mm

double square(double value) {
  return value * value;
}

/// How far the finger follows in one direction. Marches outward from its own turns, then halves.
double follows(const HandModel& hand, const HandTask& task, const HandOnTube& laid, std::size_t i, Offset way,
               double farthest) {
  ChainTurns turns = laid.places[i].turns;
  const auto reaches = [&](double distance) {
    const ReachTask moved = moved_on_tube(task.places[i], task, way.along * distance, way.around * distance);
    const FingerAt at = move_finger(hand, task, laid, moved, turns);
    if (at.miss <= reached_within) turns = at.turns;
    return at.miss <= reached_within;
  };
  double good = 0.0;
  double bad = march;
  while (reaches(std::min(bad, farthest))) {
    if (bad >= farthest) return farthest;
    good = bad;
    bad += march;
  }
  bad = std::min(bad, farthest);
  while (bad - good > accuracy) {
    const double middle = 0.5 * (good + bad);
    (reaches(middle) ? good : bad) = middle;
  }
  return good;
}

ReachMargin margin_of(const HandModel& hand, const HandTask& task, const HandOnTube& laid, std::size_t i) {
  if (!laid.places[i].reached) return {};
  const auto far = [&](Offset way) { return follows(hand, task, laid, i, way, farthest_margin); };
  return {far({-1, 0}), far({1, 0}), far({0, 1}), far({0, -1})};
}

double strain_of(const FingerModel& finger, const ChainTurns& turns) {
  double sum = 0.0;
  int count = 0;
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    if (finger.greatest[t] <= finger.least[t]) continue;
    sum += square((turns[t] - finger.relaxed[t]) / finger.scale[t]);
    ++count;
  }
  return std::sqrt(sum / count);
}

/// The widest spread between two neighbouring fingers, over all their places.
std::vector<SpreadComfort> spreads_of(const HandOnTube& laid) {
  std::vector<SpreadComfort> spreads;
  for (int first = 1; first < 4; ++first) {
    SpreadComfort widest;
    widest.greatest = greatest_spreads()[static_cast<std::size_t>(first)].mean;
    bool any = false;
    for (const ReachedPlace& a : laid.places) {
      if (static_cast<int>(a.finger) != first) continue;
      for (const ReachedPlace& b : laid.places) {
        if (static_cast<int>(b.finger) != first + 1) continue;
        const double spread = b.turns[0] - a.turns[0];
        if (any && spread <= widest.spread) continue;
        any = true;
        widest.a = a.id;
        widest.b = b.id;
        widest.spread = spread;
      }
    }
    if (any) spreads.push_back(widest);
  }
  return spreads;
}

/// The joints of a finger that are angles: not the place along a segment.
double greatest_turn(Finger finger, const ChainTurns& a, const ChainTurns& b) {
  double greatest = 0.0;
  for (std::size_t t = 0; t < turns_per_chain; ++t) {
    const bool place =
        (finger == Finger::side && t == 2) || (finger != Finger::side && finger != Finger::thumb && t == 3);
    if (!place) greatest = std::max(greatest, std::abs(a[t] - b[t]));
  }
  return greatest;
}

/// The side of the hand is the index finger's.
int number_of(Finger finger) {
  return static_cast<int>(finger == Finger::side ? Finger::index : finger);
}

bool are_neighbours(Finger a, Finger b) {
  return a != Finger::thumb && b != Finger::thumb && std::abs(number_of(a) - number_of(b)) == 1;
}

ChainTurns between(const ChainTurns& a, const ChainTurns& b, double share) {
  ChainTurns turns{};
  for (std::size_t t = 0; t < turns_per_chain; ++t) turns[t] = a[t] + share * (b[t] - a[t]);
  return turns;
}

std::optional<double> room_on_the_way(const HandModel& hand, const HandOnTube& laid, const ReachedPlace& from,
                                      const ReachedPlace& to) {
  constexpr int steps = 8;
  std::optional<double> least;
  for (const ReachedPlace& held : laid.places) {
    if (!are_neighbours(held.finger, from.finger)) continue;
    const ChainPose other = chain_pose(hand, held.finger, held.turns);
    for (int i = 0; i <= steps; ++i) {
      const ChainTurns turns = between(from.turns, to.turns, static_cast<double>(i) / steps);
      const ChainPose pose = chain_pose(hand, from.finger, turns);
      const double room =
          gap_between_fingers(hand.finger(from.finger), pose, hand.finger(held.finger), other);
      least = least ? std::min(*least, room) : room;
    }
  }
  return least;
}

std::vector<WayComfort> ways_of(const HandModel& hand, const HandTask& task, const HandOnTube& laid) {
  std::vector<WayComfort> ways;
  for (std::size_t i = 0; i < laid.places.size(); ++i) {
    const ReachedPlace& from = laid.places[i];
    for (std::size_t j = i + 1; j < laid.places.size(); ++j) {
      const ReachedPlace& to = laid.places[j];
      if (to.finger != from.finger || to.is_rest || from.is_rest) continue;
      ways.push_back({from.finger, from.id, to.id, length(task.places[j].point - task.places[i].point),
                      greatest_turn(from.finger, from.turns, to.turns),
                      room_on_the_way(hand, laid, from, to)});
      break;
    }
  }
  return ways;
}

void add_points(const HandModel& hand, HandComfort& comfort) {
  for (const PlaceComfort& at : comfort.places) {
    if (!at.place.reached) {
      comfort.miss_points += std::min(at.place.miss / 2.0, 10.0);
      continue;
    }
    comfort.strain_points += square(at.strain);
    const bool pad = at.place.finger != Finger::thumb && at.place.finger != Finger::side;
    if (pad) comfort.square_points += 0.5 * square(at.place.off_square / (30.0 * degree));
    comfort.margin_points += 0.5 * square(std::max(8.0 - at.margin.least(), 0.0) / 4.0);
  }
  for (const SpreadComfort& spread : comfort.spreads) {
    comfort.spread_points += 0.5 * square(std::max(spread.share() - 0.5, 0.0) / 0.25);
  }
  for (const WayComfort& way : comfort.ways) {
    const double overlap = std::max(-way.room.value_or(0.0), 0.0);
    comfort.way_points += 0.25 * (square(way.distance / 20.0) + square(overlap / 2.0));
  }
  const double bend = comfort.laid.extension - hand.wrist.extension_relaxed;
  const double sideways = comfort.laid.wrist_sideways - hand.wrist.sideways_relaxed;
  comfort.wrist_points = 0.25 * (square(bend / (20.0 * degree)) + square(sideways / (12.0 * degree)));
}

}  // namespace

double ReachMargin::least() const {
  return std::min({toward_mouth, toward_foot, to_left, to_right});
}

HandComfort hand_comfort(const HandModel& hand, const HandTask& task) {
  HandComfort comfort;
  comfort.laid = lay_hand(hand, task);
  for (std::size_t i = 0; i < comfort.laid.places.size(); ++i) {
    const ReachedPlace& place = comfort.laid.places[i];
    comfort.places.push_back(
        {place, margin_of(hand, task, comfort.laid, i), strain_of(hand.finger(place.finger), place.turns)});
  }
  comfort.spreads = spreads_of(comfort.laid);
  comfort.ways = ways_of(hand, task, comfort.laid);
  add_points(hand, comfort);
  return comfort;
}

std::vector<Offset> reach_area(const HandModel& hand, const HandTask& task, const HandOnTube& laid,
                               std::size_t place, double farthest, int directions) {
  std::vector<Offset> outline;
  for (int k = 0; k < directions; ++k) {
    const double angle = 2.0 * pi * k / directions;
    const Offset way{std::cos(angle), std::sin(angle)};
    const double far = laid.places[place].reached ? follows(hand, task, laid, place, way, farthest) : 0.0;
    outline.push_back({way.along * far, way.around * far});
  }
  return outline;
}

}  // namespace culmwright
