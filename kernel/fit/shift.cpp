#include "fit/shift.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "fit/assemble.hpp"
#include "fit/frame.hpp"
#include "fit/sign.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

[[noreturn]] void refuse(const char* code, std::string found, std::string allowed, std::string advice = {}) {
  Place where;
  where.file = placement_document;
  throw InputError({{code, where, std::move(found), std::move(allowed), std::move(advice)}});
}

template <class T>
bool drilled(const Tracked<T>& number) {
  return number.origin == Origin::drilled;
}

bool is_drilled(const PlacedId& placed) {
  return drilled(placed.at) || drilled(placed.around);
}

bool stays(const PlacedId& placed) {
  return is_drilled(placed) || placed.at.locked || placed.around.locked;
}

template <class List>
auto entry_of(List& list, const std::string& id) {
  return std::find_if(list.begin(), list.end(), [&](const PlacedId& placed) { return placed.id == id; });
}

/// Numbers are kept to thousandths; finer is not measured.
double thousandths(double value) {
  return std::round(value * 1000.0) / 1000.0 + 0.0;
}

void set(Tracked<double>& number, double value, int revision) {
  if (std::abs(value - number.value) < 5e-4) return;
  number.value = value;
  number.origin = Origin::shifted;
  number.revision = revision;
  number.error.reset();
}

class Shifter {
 public:
  Shifter(const Tube& tube, const KeyLayout& layout, const Placement& before)
      : layout_(layout),
        instrument_(assemble(tube, layout, before)),
        frame_(tube, before.mouth_end, before.mouth_cut_at.value, before.foot_cut_at.value,
               before.facing.value),
        before_(before) {
    result_.placement = before;
    // A placement without a list of revisions is its first.
    if (result_.placement.revisions.empty())
      result_.placement.revisions.push_back({1, "", "First placement"});
    revision_ = result_.placement.revision() + 1;
  }

  Shifted run(const std::vector<ShiftOrder>& orders, const std::string& date) {
    std::string what = "Shifted: ";
    for (std::size_t i = 0; i < orders.size(); ++i) {
      carry_out(orders[i]);
      what += (i > 0 ? "; " : "") + words_of(orders[i]);
    }
    Revision entry;
    entry.number = revision_;
    entry.date = date;
    entry.what = what;
    result_.placement.revisions.push_back(entry);
    remember(before_, result_.placement);
    return std::move(result_);
  }

 private:
  void carry_out(const ShiftOrder& order) {
    if (order.what == ShiftOrder::What::hand) {
      move_hand(order);
      return;
    }
    const bool is_key = order.what == ShiftOrder::What::key;
    if (!moved_.insert(order.id).second) {
      refuse("shift-twice", quoted(order.id) + " in two orders", "each key and part moved once",
             "Put both moves into one order");
    }
    std::vector<PlacedId>& list = is_key ? result_.placement.keys : result_.placement.parts;
    if (entry_of(list, order.id) == list.end()) list.push_back(where_it_stands(order.id, is_key));
    const std::string why = move(*entry_of(list, order.id), order);
    if (!why.empty()) refuse("shift-fixed", why.substr(0, why.size() - 1), "keys and parts that may still be moved", "");
  }

  /// As explicit_placement (fit/assemble.hpp) lists what was not listed.
  PlacedId where_it_stands(const std::string& id, bool is_key) const {
    PlacedId placed;
    placed.id = id;
    SkinPlace place;
    if (is_key) {
      for (const PlacedKey& key : instrument_.keys) {
        if (key.key.id == id) place = key.place;
      }
    } else {
      for (const PlacedPart& part : instrument_.parts) {
        if (part.part.id == id) place = part.place;
      }
    }
    placed.at.value = place.at;
    placed.around.value = place.around;
    placed.at.revision = placed.around.revision = before_.revision();
    return placed;
  }

  /// Says why it stays, or nothing when it has moved.
  std::string move(PlacedId& placed, const ShiftOrder& order) const {
    if (is_drilled(placed)) return placed.id + " is drilled: it stays where it is.";
    if (order.along != 0.0 && placed.at.locked) return placed.id + " is locked along the tube.";
    if (order.around != 0.0 && placed.around.locked) return placed.id + " is locked around the tube.";
    const PlayedPlace now = frame_.played(placed.place());
    const double at = frame_.at(now.along + order.along);
    const Tube& tube = tube_of();
    if (at < tube.end_a_at() || at > tube.end_b_at()) {
      refuse("place-outside", placed.id + " moved to " + millimetres(at),
             "a place on the tube, between " + millimetres(tube.end_a_at()) + " and " +
                 millimetres(tube.end_b_at()));
    }
    const SkinPlace to = frame_.on_tube({now.along + order.along, now.around + order.around});
    set(placed.at, thousandths(to.at), revision_);
    // A lock around holds the number itself, wherever the key line runs.
    if (!placed.around.locked) set(placed.around, thousandths(to.around), revision_);
    return {};
  }

  const Tube& tube_of() const { return frame_.tube(); }

  void move_hand(const ShiftOrder& order) {
    const bool left = order.hand == Hand::left;
    if (!moved_.insert(left ? "left hand" : "right hand").second) {
      refuse("shift-twice", "one hand in two orders", "each hand moved once",
             "Put both moves into one order");
    }
    std::size_t members = 0;
    const std::size_t stayed = result_.stayed.size();
    for (const Key& key : layout_.keys) {
      if (key.hand == order.hand) members += move_member(result_.placement.keys, key.id, order);
    }
    for (const Part& part : layout_.parts) {
      if (part.from == (left ? From::left_hand : From::right_hand)) {
        members += move_member(result_.placement.parts, part.id, order);
      }
    }
    if (members > 0 && result_.stayed.size() - stayed == members) {
      refuse("shift-fixed", "everything of the " + std::string(left ? "left" : "right") + " hand is fixed",
             "keys and parts that may still be moved");
    }
    std::optional<HandMark>& mark = left ? result_.placement.left_mark : result_.placement.right_mark;
    if (!mark) mark = left ? layout_.left : layout_.right;
    mark->along += order.along;
    mark->around += order.around;
    if (mark->along < 0.0) {
      refuse("place-outside", "the hand's mark " + millimetres(-mark->along) + " beyond the mouth cut",
             "a mark between the cuts");
    }
  }

  /// What is not listed follows the mark by itself.
  std::size_t move_member(std::vector<PlacedId>& list, const std::string& id, const ShiftOrder& order) {
    if (!moved_.insert(id).second) {
      refuse("shift-twice", quoted(id) + " by itself and with its hand", "each key and part moved once",
             "Shift the hand first, then the key");
    }
    const auto entry = entry_of(list, id);
    if (entry == list.end()) return 1;
    const std::string why = move(*entry, order);
    if (!why.empty()) result_.stayed.push_back(why);
    return 1;
  }

  const KeyLayout& layout_;
  Instrument instrument_;
  PlayedFrame frame_;
  const Placement& before_;
  Shifted result_;
  std::set<std::string> moved_;
  int revision_ = 1;
};

template <class T>
bool same_number(const Tracked<T>& a, const Tracked<T>& b) {
  return a.value == b.value && a.origin == b.origin && a.revision == b.revision && a.locked == b.locked &&
         a.error == b.error;
}

void remember_list(const std::vector<PlacedId>& before, const std::vector<PlacedId>& after,
                   std::vector<PlacedId>& kept, std::vector<std::string>& unlisted) {
  for (const PlacedId& now : after) {
    const auto then = entry_of(before, now.id);
    if (then == before.end()) {
      unlisted.push_back(now.id);
    } else if (!same_number(then->at, now.at) || !same_number(then->around, now.around)) {
      kept.push_back(*then);
    }
  }
  for (const PlacedId& then : before) {
    if (entry_of(after, then.id) == after.end()) kept.push_back(then);
  }
}

/// What stands fixed now stays; everything else goes back.
void restore(std::vector<PlacedId>& list, const std::vector<PlacedId>& earlier,
             const std::vector<std::string>& unlisted) {
  for (const PlacedId& then : earlier) {
    const auto now = entry_of(list, then.id);
    if (now != list.end() && !stays(*now)) *now = then;
    if (now == list.end()) list.push_back(then);
  }
  const auto goes = [&](const PlacedId& now) {
    return !stays(now) && std::find(unlisted.begin(), unlisted.end(), now.id) != unlisted.end();
  };
  list.erase(std::remove_if(list.begin(), list.end(), goes), list.end());
}

bool same_held(const Placement& a, const Placement& b) {
  return a.mouth_end == b.mouth_end && same_number(a.facing, b.facing) &&
         same_number(a.mouth_cut_at, b.mouth_cut_at) && same_number(a.foot_cut_at, b.foot_cut_at);
}

/// The last revision that is neither undone nor an undoing.
const Revision& to_undo(const Placement& placement) {
  const std::vector<Revision>& all = placement.revisions;
  int number = placement.revision();
  while (true) {
    const auto entry =
        std::find_if(all.begin(), all.end(), [&](const Revision& r) { return r.number == number; });
    if (entry == all.end()) refuse("undo-nothing", "no revision before", "a revision to undo");
    if (entry->undoes) {
      number = *entry->undoes - 1;
      continue;
    }
    if (!entry->before) {
      refuse("undo-nothing",
             "revision " + std::to_string(entry->number) +
                 (entry->what.empty() ? "" : " (" + entry->what + ")") + " does not say what stood before",
             "a revision made by shifting, measuring, proposing or transferring");
    }
    return *entry;
  }
}

/// ", signed off by the bench, 2026-03-01, accepting web-along about L1 and L2 (the wall is thick there)".
std::string signed_words(const Signature& signature) {
  SignMark mark;
  mark.state = SignState::signed_off;
  mark.by = signature.by;
  mark.date = signature.date;
  std::string words = ", signed off " + sign_detail(mark);
  for (std::size_t i = 0; i < signature.accepted.size(); ++i) {
    words += (i == 0 ? ", accepting " : "; ") + accepted_words(signature.accepted[i]);
  }
  return words;
}

}  // namespace

Shifted shift(const Tube& tube, const KeyLayout& layout, const Placement& placement,
              const std::vector<ShiftOrder>& orders, const std::string& date) {
  Shifted shifted = Shifter(tube, layout, placement).run(orders, date);
  assemble(tube, layout, shifted.placement);  // throws where something would stand off the tube
  return shifted;
}

void remember(const Placement& before, Placement& after) {
  require(!after.revisions.empty(), "a change has a revision of its own");
  Earlier earlier;
  remember_list(before.keys, after.keys, earlier.keys, earlier.unlisted);
  remember_list(before.parts, after.parts, earlier.parts, earlier.unlisted);
  earlier.left_mark = before.left_mark;
  earlier.right_mark = before.right_mark;
  if (!same_held(before, after)) {
    earlier.held = Held{before.mouth_end, before.mouth_cut_at, before.foot_cut_at, before.facing};
  }
  after.revisions.back().before = std::move(earlier);
}

Placement undone(const Placement& placement, const std::string& date) {
  const Revision& taken_back = to_undo(placement);
  const Earlier& earlier = *taken_back.before;
  Placement result = placement;
  if (earlier.held) {
    const bool drilled_since = std::any_of(placement.keys.begin(), placement.keys.end(), is_drilled);
    const bool turns = earlier.held->mouth_end != placement.mouth_end ||
                       !(earlier.held->facing.value == placement.facing.value);
    if (drilled_since && turns) {
      refuse("undo-drilled", "holes drilled since revision " + std::to_string(taken_back.number),
             "a revision that does not turn the tube", "Shift what is not drilled yet");
    }
    result.mouth_end = earlier.held->mouth_end;
    result.facing = earlier.held->facing;
    if (!placement.mouth_cut_at.locked) result.mouth_cut_at = earlier.held->mouth_cut_at;
    if (!placement.foot_cut_at.locked) result.foot_cut_at = earlier.held->foot_cut_at;
  }
  restore(result.keys, earlier.keys, earlier.unlisted);
  restore(result.parts, earlier.parts, earlier.unlisted);
  result.left_mark = earlier.left_mark;
  result.right_mark = earlier.right_mark;
  Revision entry;
  entry.number = placement.revision() + 1;
  entry.date = date;
  entry.what = "Undone: revision " + std::to_string(taken_back.number) + " (" + taken_back.what + ")";
  entry.undoes = taken_back.number;
  result.revisions.push_back(entry);
  remember(placement, result);
  return result;
}

std::vector<std::string> history(const Placement& placement) {
  std::vector<std::string> lines;
  for (const Revision& revision : placement.revisions) {
    std::string line = "Revision " + std::to_string(revision.number);
    if (!revision.date.empty()) line += ", " + revision.date;
    line += revision.signature ? signed_words(*revision.signature) : ", draft";
    lines.push_back(line + (revision.what.empty() ? "." : ": " + revision.what));
  }
  return lines;
}

}  // namespace culmwright
