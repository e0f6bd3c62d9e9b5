#include "fit/propose_drilled.hpp"

#include <algorithm>

#include "fit/assemble.hpp"
#include "fit/shift.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

using Proposed = std::variant<std::vector<Proposal>, Refusal>;

bool is_extra(const AsDrilled& as_drilled, const std::string& id) {
  return std::any_of(as_drilled.holes.begin(), as_drilled.holes.end(), [&](const DrilledHole& hole) {
    return hole.id == id && hole.state == DrilledState::extra;
  });
}

class AroundFacts {
 public:
  AroundFacts(const DrilledJob& job, const KeyLayout& layout, const Placement& placement,
              const AsDrilled& as_drilled, double pilot_diameter, const ProposeOptions& options)
      : job_(job),
        layout_(layout),
        placement_(placement),
        as_drilled_(as_drilled),
        pilot_diameter_(pilot_diameter),
        options_(options) {}

  Proposed run() const {
    Proposed found =
        propose(job_.fit, layout_as_drilled(layout_, as_drilled_), held(job_.placement, as_drilled_));
    if (auto* refusal = std::get_if<Refusal>(&found)) return with_offers(std::move(*refusal));
    std::vector<Proposal> kept;
    for (Proposal& proposal : std::get<std::vector<Proposal>>(found)) {
      complete(proposal);
      if (is_sound(proposal)) kept.push_back(std::move(proposal));
    }
    if (!kept.empty()) return kept;
    return with_offers({"No placement of the rest keeps every rule beside what is drilled.", {}, {}});
  }

 private:
  /// Everything that the first hole has settled.
  ProposeOptions held(const Placement& facts, const AsDrilled& as_drilled) const {
    ProposeOptions how = options_;
    how.placement = placement_as_drilled(facts, as_drilled);
    how.mouth_end = facts.mouth_end;
    how.facing = facts.facing.value;
    how.mouth_cut_at = facts.mouth_cut_at.value;
    how.foot_cut_at = facts.foot_cut_at.value;
    return how;
  }

  /// Back to the key layout as it is written, with the facts beside it.
  void complete(Proposal& proposal) const {
    Placement& made = proposal.placement;
    const auto extra = [&](const PlacedId& placed) { return is_extra(as_drilled_, placed.id); };
    made.keys.erase(std::remove_if(made.keys.begin(), made.keys.end(), extra), made.keys.end());
    made.mouth_cut_at = placement_.mouth_cut_at;
    made.foot_cut_at = placement_.foot_cut_at;
    made.facing = placement_.facing;
    made.revisions.back().what = "Proposed around what is drilled";
    remember(placement_, made);
    proposal.instrument = assemble_as_drilled(job_.fit.tube(), layout_, made, as_drilled_, pilot_diameter_);
    proposal.findings = check(job_.fit, layout_, proposal.instrument);
    proposal.remarks.clear();
    for (const Finding& finding : proposal.findings) {
      if (!finding.passes) proposal.remarks.push_back(finding.sentence);
    }
  }

  bool is_fact(const Finding& finding) const {
    return !finding.ids.empty() &&
           std::all_of(finding.ids.begin(), finding.ids.end(),
                       [&](const std::string& id) { return is_drilled(job_.instrument, id); });
  }

  bool is_sound(const Proposal& proposal) const {
    return std::all_of(proposal.findings.begin(), proposal.findings.end(), [&](const Finding& finding) {
      return finding.passes || finding.severity == Severity::warning || is_fact(finding);
    });
  }

  /// Whether there is a placement once these holes are filled and count no longer.
  bool goes_without(const std::string& id) const {
    AsDrilled less = as_drilled_;
    less.holes.erase(std::remove_if(less.holes.begin(), less.holes.end(),
                                    [&](const DrilledHole& hole) { return hole.id == id; }),
                     less.holes.end());
    Placement freed = job_.placement;
    for (std::vector<PlacedId>* list : {&freed.keys, &freed.parts}) {
      list->erase(
          std::remove_if(list->begin(), list->end(), [&](const PlacedId& placed) { return placed.id == id; }),
          list->end());
    }
    ProposeOptions how = held(freed, less);
    how.count = 1;
    how.figures = nullptr;
    return std::holds_alternative<std::vector<Proposal>>(
        propose(job_.fit, layout_as_drilled(layout_, less), how));
  }

  /// Whether there is one once the hole is sleeved to the size that was wanted.
  bool goes_sleeved(const std::string& id) const {
    AsDrilled sleeved = as_drilled_;
    for (DrilledHole& hole : sleeved.holes) {
      if (hole.id == id) hole.state = DrilledState::pilot;
    }
    ProposeOptions how = held(job_.placement, sleeved);
    how.count = 1;
    how.figures = nullptr;
    return std::holds_alternative<std::vector<Proposal>>(
        propose(job_.fit, layout_as_drilled(layout_, sleeved), how));
  }

  Refusal with_offers(Refusal refusal) const {
    std::vector<std::string> offers;
    for (const DrilledDeparture& one : job_.holes) {
      const std::string& id = one.hole.id;
      if (one.hole.state == DrilledState::extra) {
        if (goes_without(id)) {
          offers.push_back(
              "Fill " + id +
              " with a glued plug, take it out of the as-drilled document, and bind the tube there: "
              "then there is a placement, with a hole drilled through or beside the plug.");
        }
        continue;
      }
      if (one.hole.state == DrilledState::finished && one.too_wide_by() > 0.0 && goes_sleeved(id)) {
        offers.push_back("Glue a sleeve of " + millimetres(one.hole.greatest_across()) + " outside and " +
                         millimetres(one.wanted_along) + " inside into " + id +
                         ": then there is a placement.");
        continue;
      }
      if (goes_without(id)) {
        offers.push_back("Fill " + id +
                         " with a glued plug and take it out of the as-drilled document: then " +
                         "there is a placement, with " + id + " drilled anew.");
      }
    }
    if (offers.empty()) {
      offers.push_back(
          "Filling no single hole makes room: leave a key out of the key layout, give the rest more "
          "leeway, or keep the piece for another instrument.");
    }
    refusal.sentence = "Around what is drilled: " + refusal.sentence;
    refusal.relaxations.insert(refusal.relaxations.end(), offers.begin(), offers.end());
    return refusal;
  }

  const DrilledJob& job_;
  const KeyLayout& layout_;
  const Placement& placement_;
  const AsDrilled& as_drilled_;
  double pilot_diameter_;
  const ProposeOptions& options_;
};

}  // namespace

Proposed propose_as_drilled(const DrilledJob& job, const KeyLayout& layout, const Placement& placement,
                            const AsDrilled& as_drilled, double pilot_diameter,
                            const ProposeOptions& options) {
  return AroundFacts(job, layout, placement, as_drilled, pilot_diameter, options).run();
}

}  // namespace culmwright
