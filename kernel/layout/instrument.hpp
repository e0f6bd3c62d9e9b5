#pragma once
/// An instrument as placed: tube, key layout and placement brought together, every place solved on the skin.
/// What templates, guides, cups and rules are made from. Made by fit/assemble.hpp.
#include <optional>
#include <string>
#include <vector>

#include "layout/as_drilled.hpp"
#include "layout/key_layout.hpp"
#include "layout/placement.hpp"
#include "layout/signature.hpp"
#include "tube/hole.hpp"

namespace culmwright {

struct PlacedKey {
  Key key;
  SkinPlace place;      ///< tube coordinates
  double along = 0.0;   ///< played frame: from the mouth cut toward the foot
  double around = 0.0;  ///< played frame: from the key line, to the player's left
  Angle theta;          ///< of the section normal at the place
  Drilling drilling;    ///< the finished hole
  double wall = 0.0;    ///< along the axis, at the middle of the hole
  Angle tilt;           ///< axis against the true normal
  Origin origin = Origin::given;
  bool locked = false;
  /// The hole as it came out, pilot or finished; none: not drilled yet. Then `place` is where it is, and of a
  /// finished one `drilling` is the round hole that takes in both its diameters; `key.hole_diameter` stays
  /// what was wanted. `drilled->wall` is what the hook gauge said, `wall` what the tube says after it was
  /// told.
  std::optional<DrilledHole> drilled;
};

struct PlacedPart {
  Part part;
  SkinPlace place;
  double along = 0.0;
  double around = 0.0;
  Angle theta;
  Vec3 point;   ///< on the skin
  Vec3 normal;  ///< outward, in the section plane
  /// An opening as it came out; then `place`, `part.length` and `part.width` are what was measured.
  std::optional<DrilledHole> drilled;
};

/// A hole where none was wanted: it belongs to no key, and everything keeps clear of it.
struct PlacedExtra {
  DrilledHole drilled;
  SkinPlace place;
  double along = 0.0;
  double around = 0.0;
  Angle theta;
  Drilling drilling;  ///< taken to be square to the skin, as round as its greater diameter
  double wall = 0.0;
};

struct Instrument {
  std::string id;
  std::string tube_id;
  std::string layout_id;
  int revision = 1;
  SignMark sign;  ///< a draft, until it has been held against its documents (files/sign_state.hpp)
  End mouth_end = End::a;
  double mouth_cut_at = 0.0;
  double foot_cut_at = 0.0;
  Angle facing;
  std::vector<PlacedKey> keys;
  std::vector<PlacedPart> parts;  ///< openings among them
  std::vector<PlacedExtra> extras;
  double length() const {
    return mouth_cut_at < foot_cut_at ? foot_cut_at - mouth_cut_at : mouth_cut_at - foot_cut_at;
  }
};

}  // namespace culmwright
