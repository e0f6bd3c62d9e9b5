#include "fit/compare.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "fit/assemble.hpp"
#include "fit/frame.hpp"

namespace culmwright {

namespace {

[[noreturn]] void refuse(std::string found, std::string allowed) {
  Place where;
  where.file = placement_document;
  throw InputError({{"no-revision", where, std::move(found), std::move(allowed), ""}});
}

void put_back(std::vector<PlacedId>& list, const std::vector<PlacedId>& earlier,
              const std::vector<std::string>& unlisted) {
  for (const PlacedId& then : earlier) {
    const auto now =
        std::find_if(list.begin(), list.end(), [&](const PlacedId& placed) { return placed.id == then.id; });
    if (now == list.end()) {
      list.push_back(then);
    } else {
      *now = then;
    }
  }
  const auto goes = [&](const PlacedId& placed) {
    return std::find(unlisted.begin(), unlisted.end(), placed.id) != unlisted.end();
  };
  list.erase(std::remove_if(list.begin(), list.end(), goes), list.end());
}

void take_back_last(Placement& placement) {
  const Revision last = placement.revisions.back();
  if (!last.before) {
    refuse("revision " + std::to_string(last.number) + (last.what.empty() ? "" : " (" + last.what + ")") +
               ", which does not say what stood before",
           "revisions from there on");
  }
  const Earlier& earlier = *last.before;
  put_back(placement.keys, earlier.keys, earlier.unlisted);
  put_back(placement.parts, earlier.parts, earlier.unlisted);
  placement.left_mark = earlier.left_mark;
  placement.right_mark = earlier.right_mark;
  if (earlier.held) {
    placement.mouth_end = earlier.held->mouth_end;
    placement.mouth_cut_at = earlier.held->mouth_cut_at;
    placement.foot_cut_at = earlier.held->foot_cut_at;
    placement.facing = earlier.held->facing;
  }
  placement.revisions.pop_back();
}

const std::string& id_of(const PlacedKey& placed) {
  return placed.key.id;
}
const std::string& id_of(const PlacedPart& placed) {
  return placed.part.id;
}

template <class List>
auto find_in(const List& list, const std::string& id) {
  return std::find_if(list.begin(), list.end(), [&](const auto& placed) { return id_of(placed) == id; });
}

/// A mouthpiece may stand before the end: around, it is held at the end itself.
PlayedPlace played(const PlayedFrame& frame, SkinPlace place) {
  const double at = std::clamp(place.at, frame.tube().end_a_at(), frame.tube().end_b_at());
  return {frame.along(place.at), frame.played({at, place.around}).around};
}

double noticed(double move) {
  return std::abs(move) < least_move ? 0.0 : move;
}

template <class List>
void compare_lists(const PlayedFrame& frame, const List& was, const List& now, bool keys, Compared& out) {
  for (const auto& after : now) {
    const auto before = find_in(was, id_of(after));
    if (before == was.end()) {
      out.added.push_back(id_of(after));
      continue;
    }
    const PlayedPlace from = played(frame, before->place);
    const PlayedPlace to = played(frame, after.place);
    const double girth = frame.tube().girth(frame.at(std::clamp(to.along, 0.0, frame.length())));
    Moved moved{id_of(after), keys, before->place, after.place, 0.0, 0.0};
    moved.along = noticed(to.along - from.along);
    moved.around = noticed(wrapped(to.around - from.around, girth));
    if (moved.along != 0.0 || moved.around != 0.0) out.moved.push_back(moved);
  }
  for (const auto& before : was) {
    if (find_in(now, id_of(before)) == now.end()) out.gone.push_back(id_of(before));
  }
}

bool same_finding(const std::optional<Finding>& a, const std::optional<Finding>& b) {
  if (!a || !b) return !a && !b;
  return a->passes == b->passes && a->ids == b->ids && noticed(a->margin - b->margin) == 0.0;
}

}  // namespace

Placement as_of(const Placement& placement, int revision) {
  if (revision < 1 || revision > placement.revision()) {
    refuse("revision " + std::to_string(revision), "1 to " + std::to_string(placement.revision()));
  }
  Placement result = placement;
  while (result.revision() > revision) take_back_last(result);
  return result;
}

Compared compare(const Tube& tube, const Instrument& was, const std::vector<Finding>& findings_was,
                 const Instrument& now, const std::vector<Finding>& findings_now) {
  const PlayedFrame frame(tube, now.mouth_end, now.mouth_cut_at, now.foot_cut_at, now.facing);
  Compared out;
  compare_lists(frame, was.keys, now.keys, true, out);
  compare_lists(frame, was.parts, now.parts, false, out);
  out.turned_end_for_end = was.mouth_end != now.mouth_end;
  const bool turned = out.turned_end_for_end;
  out.mouth_cut = noticed(-frame.along(turned ? was.foot_cut_at : was.mouth_cut_at));
  out.foot_cut = noticed(frame.length() - frame.along(turned ? was.mouth_cut_at : was.foot_cut_at));
  const double sense = now.mouth_end == End::a ? 1.0 : -1.0;
  const Angle turn = (now.facing - was.facing).normalized();
  constexpr double least_turn = 1e-4;  // radians: 0.006°, 2 µm of skin
  if (std::abs(turn.radians()) > least_turn) out.facing = Angle::from_radians(sense * turn.radians());
  for (const Rule& rule : rules()) {
    RuleChange change{rule.id, tightest(findings_was, rule.id), tightest(findings_now, rule.id)};
    if (!same_finding(change.was, change.now)) out.rules.push_back(std::move(change));
  }
  return out;
}

std::string move_words(double along, double around) {
  std::string words;
  if (noticed(along) != 0.0) {
    words = fixed_text(std::abs(along), 1) + (along > 0.0 ? " toward foot" : " toward mouth");
  }
  if (noticed(around) != 0.0) {
    words += (words.empty() ? "" : ", ") + fixed_text(std::abs(around), 1) +
             (around > 0.0 ? " to player's left" : " to player's right");
  }
  return words.empty() ? "stays" : words;
}

}  // namespace culmwright
