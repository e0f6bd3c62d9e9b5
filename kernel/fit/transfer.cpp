#include "fit/transfer.hpp"

#include <algorithm>
#include <cmath>

#include "fit/assemble.hpp"
#include "fit/frame.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

/// Below this nothing has moved: places are kept to hundredths.
constexpr double moved_grain = 0.05;
constexpr double hundredth = 0.01;

Weights least_movement(Weights weights) {
  for (double* weight : {&weights.torque, &weights.roll, &weights.handsome, &weights.blemishes, &weights.butt,
                         &weights.wall, &weights.cut_off}) {
    *weight *= hundredth;
  }
  return weights;
}

HandMark mark_of(const KeyLayout& layout, const Placement& placement, Hand hand) {
  return hand == Hand::left ? placement.left_mark.value_or(layout.left)
                            : placement.right_mark.value_or(layout.right);
}

template <class Placed>
void set_transferred(std::vector<Placed>& list) {
  for (PlacedId& placed : list) {
    for (Tracked<double>* number : {&placed.at, &placed.around}) {
      if (number->origin == Origin::proposed) number->origin = Origin::transferred;
    }
  }
}

/// Where everything would stand with nothing moved, held against the rules.
std::vector<Finding> unmoved_findings(const Tube& tube, const KeyLayout& as_placed,
                                      const Placement& placement) {
  Placement bare = placement;
  bare.keys.clear();
  bare.parts.clear();
  try {
    return check(tube, as_placed, assemble(tube, as_placed, bare));
  } catch (const InputError&) {
    return {};
  }
}

std::string reason_for(const std::string& id, const std::vector<Finding>& unmoved,
                       const std::vector<Displacement>& moved) {
  for (const Finding& finding : unmoved) {
    if (finding.passes || finding.severity != Severity::hard) continue;
    if (std::find(finding.ids.begin(), finding.ids.end(), id) == finding.ids.end()) continue;
    return "Unmoved: " + finding.sentence;
  }
  std::vector<std::string> others;
  for (const Displacement& other : moved) {
    if (other.id != id) others.push_back(other.id);
  }
  return others.empty() ? "It stands better so in the score."
                        : "To make room for, or keep even with, " + listing(others) + ".";
}

}  // namespace

KeyLayout layout_as_placed(const Tube& tube, const KeyLayout& layout, const Placement& placement) {
  const Instrument instrument = assemble(tube, layout, placement);
  KeyLayout result = layout;
  result.left = mark_of(layout, placement, Hand::left);
  result.right = mark_of(layout, placement, Hand::right);
  for (std::size_t i = 0; i < result.keys.size(); ++i) {
    const HandMark mark = result.keys[i].hand == Hand::left ? result.left : result.right;
    result.keys[i].along = instrument.keys[i].along - mark.along;
    result.keys[i].around = instrument.keys[i].around - mark.around;
  }
  for (std::size_t i = 0; i < result.parts.size(); ++i) {
    Part& part = result.parts[i];
    const PlacedPart& placed = instrument.parts[i];
    const HandMark none;
    const HandMark mark = part.from == From::left_hand    ? result.left
                          : part.from == From::right_hand ? result.right
                                                          : none;
    part.along = part.from == From::foot_end ? instrument.length() - placed.along : placed.along - mark.along;
    part.around = placed.around - mark.around;
  }
  return result;
}

std::variant<Transferred, Refusal> transfer(const Tube& from, const KeyLayout& layout,
                                            const Placement& placement, const Tube& to,
                                            const PieceFacts& facts, const ProposeOptions& options) {
  KeyLayout as_placed = layout_as_placed(from, layout, placement);
  as_placed.weights = least_movement(layout.weights);
  ProposeOptions one = options;
  one.count = 1;
  one.judge_comfort = false;  // the hand keeps its places; comfort would move them
  auto result = propose(to, facts, as_placed, one);
  if (Refusal* refusal = std::get_if<Refusal>(&result)) return std::move(*refusal);
  Transferred transferred;
  transferred.proposal = std::move(std::get<std::vector<Proposal>>(result).front());
  Proposal& best = transferred.proposal;
  Placement& placed = best.placement;
  const std::vector<Finding> unmoved = unmoved_findings(to, as_placed, placed);

  const auto note = [&](const std::string& id, double along, double around) {
    if (std::max(std::abs(along), std::abs(around)) >= moved_grain) {
      transferred.moved.push_back({id, along, around, ""});
    }
  };
  const HandMark marks[2] = {mark_of(as_placed, placed, Hand::left), mark_of(as_placed, placed, Hand::right)};
  for (const PlacedKey& key : best.instrument.keys) {
    const HandMark mark = marks[key.key.hand == Hand::right];
    note(key.key.id, key.along - mark.along - key.key.along,
         wrapped(key.around - mark.around - key.key.around, to.girth(key.place.at)));
  }
  for (const PlacedPart& part : best.instrument.parts) {
    if (part.part.kind == PartKind::mouthpiece) continue;
    const HandMark mark = part.part.from == From::left_hand    ? marks[0]
                          : part.part.from == From::right_hand ? marks[1]
                                                               : HandMark{};
    const double along = part.part.from == From::foot_end
                             ? part.along - (best.instrument.length() - part.part.along)
                             : part.along - mark.along - part.part.along;
    note(part.part.id, along, wrapped(part.around - mark.around - part.part.around, to.girth(part.place.at)));
  }
  for (Displacement& moved : transferred.moved) {
    moved.forced_by = reason_for(moved.id, unmoved, transferred.moved);
  }

  set_transferred(placed.keys);
  set_transferred(placed.parts);
  for (Tracked<double>* cut : {&placed.mouth_cut_at, &placed.foot_cut_at}) {
    if (cut->origin == Origin::proposed) cut->origin = Origin::transferred;
  }
  if (placed.facing.origin == Origin::proposed) placed.facing.origin = Origin::transferred;
  placed.revisions.back().what = "Transferred from " + from.id() + " (" + placement.id + ", revision " +
                                 std::to_string(placement.revision()) + "): " + best.character;
  best.instrument = assemble(to, layout, placed);
  return transferred;
}

std::variant<Transferred, Refusal> transfer(const Tube& from, const KeyLayout& layout,
                                            const Placement& placement, const TubeFit& to,
                                            const ProposeOptions& options) {
  return transfer(from, layout, placement, to.tube(), facts_of(to.survey()), options);
}

KeyLayout mirrored(const KeyLayout& layout) {
  KeyLayout result = layout;
  const auto letter = [](Hand hand) { return hand == Hand::left ? 'L' : 'R'; };
  const bool lettered = std::all_of(layout.keys.begin(), layout.keys.end(), [&](const Key& key) {
    return key.id.size() > 1 && key.id.front() == letter(key.hand);
  });
  result.left = {layout.right.along, -layout.right.around};
  result.right = {layout.left.along, -layout.left.around};
  for (Key& key : result.keys) {
    key.hand = key.hand == Hand::left ? Hand::right : Hand::left;
    key.around = -key.around + 0.0;
    if (lettered) key.id.front() = letter(key.hand);
  }
  for (Part& part : result.parts) {
    if (part.from == From::left_hand || part.from == From::right_hand) {
      part.from = part.from == From::left_hand ? From::right_hand : From::left_hand;
    }
    part.around = -part.around + 0.0;
  }
  return result;
}

}  // namespace culmwright
