#pragma once
/// How comfortable a hand is on its tube: figures for each key, and points for the whole hand.
///
/// It advises; touch decides, and it is no medical advice. Points are common practice, no source: about one
/// for what a player would just notice.
#include <optional>
#include <string>
#include <vector>

#include "hand/hand_solve.hpp"

namespace culmwright {

/// How far a touch could be moved before its finger no longer reaches it, the palm held and the other fingers
/// where they are; millimetres of skin, `farthest_margin` where it goes on. On the cone of
/// TubeNearHand, to 0.25.
struct ReachMargin {
  double toward_mouth = 0.0;
  double toward_foot = 0.0;
  double to_left = 0.0;  ///< the player's
  double to_right = 0.0;
  double least() const;
};
constexpr double farthest_margin = 30.0;

struct PlaceComfort {
  ReachedPlace place;
  ReachMargin margin;   ///< all zero where the place is not reached
  double strain = 0.0;  ///< root mean square of (turn − relaxed) / scale: 1 is felt (FingerModel::scale)
};

/// Between the fingers of two neighbouring places, sideways at the knuckles.
struct SpreadComfort {
  std::string a;  ///< place of the finger nearer to the thumb
  std::string b;
  double spread = 0.0;    ///< radians; negative: toward each other
  double greatest = 0.0;  ///< published mean (greatest_spreads)
  double share() const { return spread / greatest; }
};

/// A finger's way between its own places, the palm held and the others where they are.
struct WayComfort {
  Finger finger = Finger::index;
  std::string from;
  std::string to;
  double distance = 0.0;  ///< of the pad, straight, mm
  double turn = 0.0;      ///< of the joint that turns most, radians
  /// Least room between the flesh of its outer segments and that of a neighbouring finger which holds any of
  /// its places, every joint turning evenly; negative: they press on each other. None without a neighbour.
  std::optional<double> room;
};

struct HandComfort {
  HandOnTube laid;
  std::vector<PlaceComfort> places;
  std::vector<SpreadComfort> spreads;  ///< the widest for each pair of neighbouring fingers
  std::vector<WayComfort> ways;        ///< between places of one finger that follow each other
  // Points; each its own part of the sum.
  double strain_points = 0.0;  ///< joints away from relaxed: strain² for each place
  double square_points = 0.0;  ///< pads of fingers aslant: 0.5 · (angle / 30°)²
  double margin_points = 0.0;  ///< 0.5 · ((8 − least margin) / 4 mm)² where it is less than 8
  double spread_points = 0.0;  ///< 0.5 · ((share − ½) / ¼)² beyond half of the greatest (common practice)
  double way_points = 0.0;     ///< 0.25 · (distance / 20 mm)² + 0.25 · (overlap / 2 mm)² for each way
  double wrist_points = 0.0;  ///< 0.25 · (bend / 20°)² + 0.25 · (sideways / 12°)², from relaxed
  double miss_points = 0.0;   ///< of thumbs out of reach: miss / 2 mm, at most 10 each
  double points() const {
    return strain_points + square_points + margin_points + spread_points + way_points + wrist_points +
           miss_points;
  }
};

HandComfort hand_comfort(const HandModel& hand, const HandTask& task);

/// Where a finger's touch could be, as offsets from where it is: a closed outline, `along` toward the foot,
/// `around` to the player's left, at most `farthest` in every direction. Star-shaped about the place by
/// construction: what lies behind a stretch out of reach is not shown.
struct Offset {
  double along = 0.0;
  double around = 0.0;
};
std::vector<Offset> reach_area(const HandModel& hand, const HandTask& task, const HandOnTube& laid,
                               std::size_t place, double farthest = 40.0, int directions = 32);

}  // namespace culmwright
