#pragma once
/// The key layout: one instrument's keys and parts, relative to each hand's mark. It knows no tube.
///
/// Offsets are in the played frame: `along` from the mark toward the FOOT end, `around` to the right of the
/// onlooker with the mouth end up (the player's left), both in millimetres of skin.
#include <optional>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "layout/cup_shape.hpp"
#include "layout/fitted.hpp"
#include "tube/hole.hpp"

namespace culmwright {

enum class Hand { left, right };
enum class Finger { thumb, index, middle, ring, little, side };  ///< side: the side of the hand

/// How far a place may be moved without harm, each way.
struct Leeway {
  double along = 0.0;
  double around = 0.0;
};

/// What the finger presses: a rounded rectangle on the skin; a round touch has length = width = 2 ·
/// corner_radius.
struct Touch {
  double length = 16.0;  ///< along the tube
  double width = 16.0;   ///< around it
  double corner_radius = 8.0;
};

/// One code path, different profiles. Names of what they do.
enum class CupKind { switch_seat, touch_cap, padded_cup, plug, sleeve };

struct Key {
  std::string id;
  Hand hand = Hand::left;
  Finger finger = Finger::index;
  double along = 0.0;  ///< from the hand's mark
  double around = 0.0;
  double hole_diameter = 0.0;
  HoleSquare square = HoleSquare::to_skin;
  Touch touch;
  CupKind cup = CupKind::touch_cap;
  std::optional<CupShape> cup_shape;    ///< where it is not to be as the shop has it
  std::optional<int> wires;             ///< how many; left out: two of a switch seat, one of a cap with a way
  std::optional<std::string> wires_to;  ///< the opening they go to; left out: the one with the easiest way
  Leeway leeway;
  double mass_g = 0.0;  ///< of the fitted key
  std::string note;
};

enum class PartKind { thumb_rest, slider, opening, mouthpiece, strap_ring, other };

/// What a part's place is counted from.
enum class From { mouth_end, foot_end, left_hand, right_hand };

/// `along` from the mouth cut or a hand's mark toward the foot; from the foot cut toward the mouth. `around`
/// from the key line, or from the hand's mark.
struct Part {
  std::string id;
  PartKind kind = PartKind::other;
  From from = From::mouth_end;
  double along = 0.0;
  double around = 0.0;
  double length = 0.0;  ///< footprint along the tube; an opening's own length
  double width = 0.0;   ///< footprint around
  double corner_radius = 0.0;
  double travel = 0.0;             ///< of a slider, along the tube
  std::optional<PartShape> shape;  ///< of a thumb rest, slider or strap ring, where it is not as the shop's
  std::optional<int> wires;        ///< slider: how many; left out: none
  std::optional<std::string> wires_to;
  Leeway leeway;
  double mass_g = 0.0;
  std::string note;
};

/// A hand's mark where no placement says otherwise: `along` from the mouth cut, `around` from the key line.
struct HandMark {
  double along = 0.0;
  double around = 0.0;
};

/// Whose hands a percentile is counted among (hand/hand_sizes.hpp).
enum class HandSet { women, men };

/// The player's hand as the key layout says it: measured, or a percentile of a set of hands.
struct PlayerHand {
  std::optional<double> length;   ///< from the crease of the wrist to the tip of the middle finger
  std::optional<double> breadth;  ///< across the four knuckles; left out: from the length
  std::optional<double> percentile;
  std::optional<HandSet> set;  ///< left out: women
};

/// The same in millimetres (hand/hand_sizes.hpp).
struct HandSize {
  double length = 0.0;
  double breadth = 0.0;
};

/// Limits of the rules (fit/rules.hpp). Defaults: common practice.
struct RuleLimits {
  double node_clearance = 5.0;  ///< hole edge from a node's ridge edge, at least
  double node_clearance_per_diameter = 0.5;
  double web_along = 5.0;  ///< material between two holes along the grain, at least
  double web_along_per_diameter = 1.0 / 3.0;
  double web_around = 6.0;
  double girth_lost = 0.35;     ///< share of the girth lost at any one section, at most
  double end_clearance = 25.0;  ///< hole edge from an end, at least
  double end_clearance_per_diameter = 1.5;
  double hole_to_width = 0.55;                  ///< hole diameter over the tube's width, at most
  Angle fibre_line = Angle::from_degrees(4.0);  ///< holes nearer than this in direction share a fibre line
  int holes_on_fibre_line = 3;                  ///< more than this many: warn
  Angle tilt = Angle::from_degrees(6.0);        ///< axis against the true normal, at most
  double break_through = 3.0;                   ///< room left between drill point and the far wall, at least
  double hands_apart = 20.0;                    ///< between the hands' nearest touches, at least
  double stiffness_left = 0.45;                 ///< of the whole section's, at the weakest one, at least
};

/// What a proposal is judged by: points for each unit of its terms (fit/propose.hpp). Fewer points are
/// better. Common practice, no source: about one point for what a player would just notice.
struct Weights {
  double departure = 1.0;    ///< per mm² of a key's shift from where the hand has it
  double parts = 0.1;        ///< per mm² of a part's shift
  double marks = 0.02;       ///< per mm² of a hand mark's shift along
  double spacing = 0.5;      ///< per mm² that the spacing of two neighbouring finger keys has changed
  double torque = 0.1;       ///< per N·mm about the thumb rest
  double roll = 0.2;         ///< per N·mm of turning about the tube's own axis on the thumb rest
  double handsome = 8.0;     ///< for the handsome side wholly at the back
  double blemishes = 2.0;    ///< per cm² of blemishes to hide that lie in sight
  double butt = 5.0;         ///< for the butt at the mouth end
  double wall = 1.0;         ///< per mm² by which the wall at a hole is thinner than `wall_wanted`
  double cut_off = 0.01;     ///< per mm of tube cut off
  double wall_wanted = 3.0;  ///< mm
};

struct KeyLayout {
  std::string id;
  std::string note;
  HandMark left;
  HandMark right;
  std::vector<Key> keys;
  std::vector<Part> parts;
  std::optional<PlayerHand> hand_size;
  RuleLimits limits;
  double least_length = 0.0;     ///< of the tube between its cuts
  double greatest_length = 0.0;  ///< 0: no limit
  double least_cut = 0.0;        ///< cut off at either end at least, where an end is cracked or uneven
  double mark_leeway = 60.0;     ///< how far a proposal may shift either hand's mark along, each way
  Angle playing_angle = Angle::from_degrees(40.0);  ///< of the tube below the horizontal, mouth end up
  Weights weights;
};

}  // namespace culmwright
