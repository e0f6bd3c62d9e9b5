#pragma once
/// A hand as numbers: where its joints lie, how long its segments are, how far each joint turns.
///
/// The palm frame is that of a right hand laid palm down, fingers pointing away: origin at the middle of the
/// wrist, x across toward the little finger, y toward the fingertips, z out of the back of the hand. A left
/// hand is the mirror image: its tasks are reflected before they are solved (hand/hand_task.hpp).
///
///              index middle ring little            segments   0 proximal  1 middle  2 distal   (finger)
///        thumb   o    o    o    o    knuckles                 0 metacarpal 1 proximal 2 distal (thumb)
///           o    |         |         y             turns      sideways about z: positive toward the
///            \   |         |         ^                        little finger; flexion positive toward
///             o--+----o----+         |                        the palm
///                  wrist             o--> x  (z toward the reader)
///
/// Sources: segment lengths as fractions of hand length and joint places as fractions of hand breadth (x) and
/// length (y): Buchholz, Armstrong & Goldstein 1992, Ergonomics 35(3):261–273 (second-hand). Ranges: finger
/// flexion and the thumb's end joints by a hand-surgery handbook's page, ranges sideways by a public model's
/// code (doubtful at the extremes). Thickness of the fingertips: the same code. The thumb's base frame and
/// everything marked so are common practice: a thumb out of reach is a warning, never more.
#include <array>

#include "base/vec.hpp"
#include "layout/key_layout.hpp"

namespace culmwright {

constexpr int turns_per_chain = 4;
/// Radians, of one finger from the palm outward. Fingers: sideways, knuckle, middle joint, place of
/// the touch along the distal segment (a share of it, not an angle; the end joint follows the middle one).
/// Thumb: across the palm, out of the palm, middle joint, end joint. Side of the hand: sideways, knuckle,
/// place of the touch along the proximal (0 to 1) and middle segment (1 to 2; not an angle), middle joint.
using ChainTurns = std::array<double, turns_per_chain>;

/// The end joint of a finger turns with the middle one by this share. Common practice.
constexpr double end_joint_share = 2.0 / 3.0;
/// The pad's middle, as a share of the distal segment from its joint; a finger that stands steeply touches
/// nearer to its tip. Common practice.
constexpr double pad_share = 0.5;

struct FingerModel {
  Vec3 base;                      ///< knuckle of a finger, root joint of the thumb; palm frame
  std::array<double, 3> segment;  ///< lengths
  std::array<double, 3> radius;   ///< half thickness of the flesh about each segment
  ChainTurns least;
  ChainTurns greatest;
  ChainTurns relaxed;
  ChainTurns scale;  ///< what is felt about equally in each joint; common practice
};

/// Angle by which the wrist may be bent, and where it rests. AAOS joint motion, from memory: extension 70,
/// flexion 80, toward the little finger 30, toward the thumb 20 degrees.
struct WristModel {
  double extension_least = 0.0, extension_greatest = 0.0, extension_relaxed = 0.0;
  double sideways_least = 0.0, sideways_greatest = 0.0, sideways_relaxed = 0.0;  ///< toward the little finger
};

struct HandModel {
  HandSize size;
  std::array<FingerModel, 5> fingers;  ///< thumb, index, middle, ring, little: as Finger
  FingerModel side;                    ///< the thumb's side of the index finger, its two inner segments
  WristModel wrist;
  double palm_radius = 0.0;  ///< half its thickness at the knuckles; common practice

  const FingerModel& finger(Finger which) const {
    return which == Finger::side ? side : fingers[static_cast<std::size_t>(which)];
  }
};

/// Precondition: both sizes are positive.
HandModel hand_model(HandSize size);

/// Greatest spread between neighbours, radians, thumb–index first: 53.4, 17.2, 14.3, 32.1 degrees with
/// standard deviations 6.5, 2.6, 2.3, 7.0 (Chatzioglou 2024, Anat. Cell Biol. 57(2), n = 51).
struct Spread {
  double mean = 0.0;
  double deviation = 0.0;
};
const std::array<Spread, 4>& greatest_spreads();

/// From the tip of the thumb to that of the little finger, hand laid out flat, every joint straight and
/// turned sideways as far as the ranges and the greatest spreads allow.
double greatest_span(const HandModel& hand);

}  // namespace culmwright
