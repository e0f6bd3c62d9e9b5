#pragma once
/// A placement: this key layout on this tube, in the tube's own coordinates, with where every number came
/// from.
#include <optional>
#include <string>
#include <vector>

#include "layout/key_layout.hpp"
#include "layout/signature.hpp"
#include "tube/directions.hpp"

namespace culmwright {

enum class Origin { given, proposed, transferred, shifted, measured, drilled };

/// A number with its history. `revision` is the one that set it.
template <class T>
struct Tracked {
  T value{};
  Origin origin = Origin::given;
  int revision = 1;
  bool locked = false;
  std::optional<double> error;  ///< one standard deviation where it was measured: mm, of an angle radians
};

/// A key's hole or a part's middle, in tube coordinates.
struct PlacedId {
  std::string id;
  Tracked<double> at;
  Tracked<double> around;
  SkinPlace place() const { return {at.value, around.value}; }
};

/// How the tube is held and cut.
struct Held {
  End mouth_end = End::a;
  Tracked<double> mouth_cut_at;
  Tracked<double> foot_cut_at;
  Tracked<Angle> facing;
};

/// What a revision changed, as it stood before: enough to take it back (fit/shift.hpp).
struct Earlier {
  std::vector<PlacedId> keys;  ///< that were listed, with their numbers
  std::vector<PlacedId> parts;
  std::vector<std::string> unlisted;  ///< keys and parts that stood at their key layout offset
  std::optional<HandMark> left_mark;  ///< both as they were; none: the key layout's
  std::optional<HandMark> right_mark;
  std::optional<Held> held;  ///< where that was changed
};

/// One entry of the append-only list. A revision without a signature is a draft; with one it is never changed
/// again: whatever comes after is a new revision.
struct Revision {
  int number = 1;
  std::string date;
  std::string what;
  std::optional<Signature> signature = std::nullopt;
  std::optional<Earlier> before = std::nullopt;
  std::optional<int> undoes = std::nullopt;  ///< the number of the revision that this one takes back
};

struct Placement {
  std::string id;
  std::string tube_id;
  std::string layout_id;
  std::string note;
  End mouth_end = End::a;
  Tracked<double> mouth_cut_at;
  Tracked<double> foot_cut_at;
  Tracked<Angle> facing;  ///< of the key line, in the tube's frame
  /// Hand marks in the played frame; a key or part that is not listed below stands at its key layout offset
  /// from its mark.
  std::optional<HandMark> left_mark;
  std::optional<HandMark> right_mark;
  std::vector<PlacedId> keys;
  std::vector<PlacedId> parts;
  std::vector<Revision> revisions;

  int revision() const { return revisions.empty() ? 1 : revisions.back().number; }
  /// That of the last revision, or none. Whether it still holds: files/sign_state.hpp.
  const Signature* signature() const {
    return revisions.empty() || !revisions.back().signature ? nullptr : &*revisions.back().signature;
  }
};

}  // namespace culmwright
