#pragma once
/// What is to be placed, and what keeps it apart from everything else, as the search reads it. Internal to
/// proposing.
///
/// Two coordinates along the tube, both growing toward the foot: y = at with mouth end A, −at with mouth end
/// B, known before any cut is; along = y − y of the mouth cut.
#include <optional>
#include <string>
#include <vector>

#include "fit/propose.hpp"
#include "fit/propose_shape.hpp"
#include "fit/propose_skin.hpp"

namespace culmwright {

/// Over every demand: what tables and rounding to hundredths may take.
constexpr double demand_grain = 0.03;

enum class Anchor { left_hand, right_hand, mouth_end, foot_end };

/// A key or a part that stands on the skin.
struct Item {
  std::string id;
  std::string words;  ///< "L1", "the thumb rest “rest”"
  bool is_key = true;
  std::size_t index = 0;  ///< in the key layout's keys or parts
  Anchor anchor = Anchor::left_hand;
  double along = 0.0;   ///< from the anchor toward the foot
  double around = 0.0;  ///< from the key line, the hand's mark included
  Leeway leeway;
  double weight = 1.0;  ///< points per mm² of shift
  PartKind kind = PartKind::other;
  bool under_hand = false;
  double diameter = 0.0;             ///< of a key's hole, a cut's width around
  std::optional<FlatOutline> cut;    ///< a key's hole, an opening
  std::optional<FlatOutline> touch;  ///< a key's touch, a part's footprint
  double mass_g = 0.0;
  std::optional<SkinPlace> fixed;  ///< locked or drilled
  double mouth_room = 0.0;         ///< from the mouth cut at least
  double foot_room = 0.0;          ///< from the foot cut at least
};

enum class DemandKind { web, opening, touches, hands_apart, hands_order };

/// Two items that must keep clear of each other.
struct PairRule {
  int a = 0;
  int b = 0;
  DemandKind kind = DemandKind::web;
  const FlatOutline* of_a = nullptr;  ///< none for the order of the hands
  const FlatOutline* of_b = nullptr;
  RoomWanted clearance;
  int order = 0;  ///< +1 a nearer to the mouth, −1 b, 0 either
};

/// Where an item's middle may not be, and why.
struct Keepout {
  enum class Why { node, blemish, groove, end, width, break_through, rule };
  double from = 0.0;  ///< y
  double to = 0.0;
  Why why = Why::node;
  int which = 0;  ///< node or blemish
};

/// One way to hold the tube.
struct Stand {
  End mouth_end = End::a;
  double sense = 1.0;
  Angle facing;
  std::vector<double> around;  ///< of each item where the hand has it; of a fixed one where it is
  double y(double at) const { return sense * at; }
};

/// Cuts and hand marks; all y.
struct Setting {
  double mouth = 0.0;
  double foot = 0.0;
  double left = 0.0;
  double right = 0.0;
};

struct Model {
  Model(const Tube& tube_in, const PieceFacts& facts_in, const KeyLayout& layout_in,
        const ProposeOptions& options_in);
  Model(const Model&) = delete;
  Model& operator=(const Model&) = delete;

  const Tube& tube;
  const PieceFacts& facts;
  const KeyLayout& layout;
  const ProposeOptions& options;
  SkinTable skin;
  HandMark marks[2];  ///< left, right: where the hands want them
  std::vector<Item> items;
  std::vector<PairRule> pairs;
  bool any_fixed = false;    ///< a place is locked or drilled: mouth end and facing stay
  bool any_drilled = false;  ///< the tube was cut before it was drilled: the cuts stay too
  Hand upper = Hand::left;
  double ring_mass_g = 0.0;  ///< of mouthpieces
  double ring_moment = 0.0;  ///< g · along

  Stand stand(End mouth_end, Angle facing) const;
  double anchor_y(const Item& item, const Setting& setting) const;
  double nominal_y(const Item& item, const Setting& setting) const {
    return anchor_y(item, setting) + item.along;
  }
  /// `around`: where the item's middle lies, from the key line.
  std::vector<Keepout> keepouts(const Item& item, const Stand& stand, double around) const;
  /// Unsigned distance around between two items whose middles lie at y and `around`.
  double apart_around(const Stand& stand, double y_a, double around_a, double y_b, double around_b) const;
};

/// Why, in words, after "keeps it out": "node 2 (at 352.0 mm)".
std::string words_of(const Model& model, const Keepout& keepout);

}  // namespace culmwright
