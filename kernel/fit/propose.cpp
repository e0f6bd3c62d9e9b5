#include "fit/propose.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "fit/assemble.hpp"
#include "fit/frame.hpp"
#include "fit/played_hands.hpp"
#include "fit/propose_score.hpp"
#include "fit/propose_words.hpp"
#include "fit/shift.hpp"
#include "fit/words.hpp"

namespace culmwright {

namespace {

constexpr int most_tightenings = 8;
// How many candidates may fail before the search ends.
constexpr int most_blocked = 100;
constexpr int most_broken = 8;
/// Where comfort decides: so many times the placements that are wanted are settled and judged by it.
constexpr int judged_for_each = 3;

/// A candidate on its way: bounded, then settled, then checked.
struct Entry {
  Candidate candidate;
  double estimate = 0.0;
  std::optional<Laid> laid;
};

double hundredths(double value) {
  return std::round(value * 100.0) / 100.0 + 0.0;
}

template <class T>
Tracked<T> proposed(T value, int revision) {
  Tracked<T> number;
  number.value = value;
  number.origin = Origin::proposed;
  number.revision = revision;
  return number;
}

class Proposer {
 public:
  Proposer(const Tube& tube, const PieceFacts& facts, const KeyLayout& layout, const ProposeOptions& options)
      : model_(tube, facts, layout, options), options_(options) {
    if (options.placement) assemble(tube, layout, *options.placement);
  }

  std::variant<std::vector<Proposal>, Refusal> run() {
    make_stands();
    if (const auto refusal = refused_outright(model_, few_stands())) return *refusal;
    needs_ = loose_needs(model_, stands_.front());
    for (const Stand& stand : stands_) bound_stand(stand);
    choose();
    if (options_.figures != nullptr) *options_.figures = figures_;
    if (!accepted_.empty()) return finished();
    return refusal();
  }

 private:
  void make_stands();
  std::vector<Stand> few_stands() const;
  void bound_stand(const Stand& stand);
  void choose();
  bool comfort_decides() const { return options_.judge_comfort && model_.layout.hand_size.has_value(); }
  int wanted() const { return options_.count * (comfort_decides() ? judged_for_each : 1); }
  std::optional<double> discomfort_of(const Instrument& instrument);
  bool like_an_accepted(const Candidate& candidate) const;
  bool like_a_broken(const Candidate& candidate) const;
  void work_through();
  void note_broken(const Candidate& candidate, Refusal refusal);
  Refusal blocked_refusal(const Candidate& candidate) const;
  void settle_entry(Entry entry);
  void check_entry(const Entry& entry);
  Placement placement_of(const Candidate& candidate, const Laid& laid) const;
  bool is_fact(const Finding& finding) const;
  std::vector<std::string> remarks_on(const std::vector<Finding>& findings) const;
  Refusal refusal();
  std::vector<Proposal> finished();
  void push(Entry entry);

  Model model_;
  const ProposeOptions& options_;
  std::vector<Stand> stands_;
  std::vector<LooseNeed> needs_;
  std::vector<Entry> queue_;  ///< a heap, the least estimate first
  struct Accepted {
    Candidate candidate;
    Proposal proposal;
  };
  std::vector<Accepted> accepted_;
  std::vector<Candidate> broken_;  ///< settled, but a rule could not be kept
  std::vector<Entry> deferred_;    ///< like one of these
  int blocked_ = 0;
  std::optional<Candidate> nearest_;  ///< of the blocked ones
  double nearest_lack_ = std::numeric_limits<double>::infinity();
  std::optional<Refusal> broken_refusal_;
  ProposeFigures figures_;
};

bool later(const Entry& a, const Entry& b) {
  return a.estimate > b.estimate;
}

void Proposer::push(Entry entry) {
  queue_.push_back(std::move(entry));
  std::push_heap(queue_.begin(), queue_.end(), later);
}

void Proposer::make_stands() {
  std::vector<End> ends{End::a, End::b};
  std::vector<Angle> facings;
  const int steps = std::max(1, static_cast<int>(std::lround(360.0 / options_.facing_step.degrees())));
  for (int i = 0; i < steps; ++i) {
    facings.push_back(Angle::from_degrees(360.0 * i / steps).normalized());
  }
  const Placement* base = options_.placement ? &*options_.placement : nullptr;
  if (options_.mouth_end) ends = {*options_.mouth_end};
  if (options_.facing) facings = {*options_.facing};
  if (base != nullptr) {
    if (model_.any_fixed || base->mouth_cut_at.locked || base->foot_cut_at.locked) ends = {base->mouth_end};
    if (model_.any_fixed || base->facing.locked) facings = {base->facing.value};
  }
  for (const End end : ends) {
    for (const Angle facing : facings) stands_.push_back(model_.stand(end, facing));
  }
}

std::vector<Stand> Proposer::few_stands() const {
  std::vector<Stand> few;
  const std::size_t step = std::max<std::size_t>(1, stands_.size() / 24);
  for (std::size_t i = 0; i < stands_.size(); i += step) few.push_back(stands_[i]);
  return few;
}

void Proposer::bound_stand(const Stand& stand) {
  StandSearch search(model_, needs_, stand);
  for (Candidate& candidate : search.candidates()) {
    Entry entry;
    entry.estimate = candidate.bound;
    entry.candidate = std::move(candidate);
    queue_.push_back(std::move(entry));
  }
  figures_.marks_judged += search.marks_judged();
  figures_.pairs_judged += search.pairs_judged();
}

/// Not different, as a maker would see it.
bool alike(const Candidate& a, const Candidate& b) {
  if (a.stand.mouth_end != b.stand.mouth_end) return false;
  if (a.internode[0] != b.internode[0] || a.internode[1] != b.internode[1]) return false;
  const Angle apart = (a.stand.facing - b.stand.facing).normalized();
  return std::abs(apart.degrees()) <= different_facing_degrees + 1e-9;
}

bool Proposer::like_an_accepted(const Candidate& candidate) const {
  return std::any_of(accepted_.begin(), accepted_.end(),
                     [&](const Accepted& accepted) { return alike(accepted.candidate, candidate); });
}

bool Proposer::like_a_broken(const Candidate& candidate) const {
  return std::any_of(broken_.begin(), broken_.end(),
                     [&](const Candidate& broken) { return alike(broken, candidate); });
}

void Proposer::choose() {
  std::make_heap(queue_.begin(), queue_.end(), later);
  work_through();
  if (!accepted_.empty()) return;
  // What looked like a candidate that failed may still do where nothing else does.
  queue_ = std::move(deferred_);
  std::make_heap(queue_.begin(), queue_.end(), later);
  broken_.clear();
  work_through();
}

void Proposer::work_through() {
  while (!queue_.empty() && static_cast<int>(accepted_.size()) < wanted()) {
    if (blocked_ >= most_blocked || static_cast<int>(broken_.size()) >= most_broken) return;
    std::pop_heap(queue_.begin(), queue_.end(), later);
    Entry entry = std::move(queue_.back());
    queue_.pop_back();
    if (like_an_accepted(entry.candidate)) continue;
    if (like_a_broken(entry.candidate)) {
      deferred_.push_back(std::move(entry));
    } else if (entry.laid) {
      check_entry(entry);
    } else {
      settle_entry(std::move(entry));
    }
  }
}

void Proposer::settle_entry(Entry entry) {
  StandSearch search(model_, needs_, entry.candidate.stand);
  entry.candidate = search.polished(entry.candidate);
  const Setting& setting = entry.candidate.setting;
  double hands = 0.0;
  const double marks[2] = {setting.left, setting.right};
  for (int which = 0; which < 2; ++which) {
    const HandBounds& hand = search.hand(which);
    const long index =
        std::clamp(std::lround(marks[which] - hand.y0), 0L, static_cast<long>(hand.cost.size()) - 1);
    hands += hand.cost[static_cast<std::size_t>(index)];
  }
  ++figures_.settled;
  Settler settler(model_, entry.candidate);
  const auto result = settler.run();
  if (const Laid* laid = std::get_if<Laid>(&result)) {
    entry.estimate = entry.candidate.bound - hands + laid->cost;
    entry.laid = *laid;
    push(std::move(entry));
    return;
  }
  ++blocked_;
  const Blocked& why = std::get<Blocked>(result);
  const double lack = why.chains.empty() ? 1e9 : why.chains.front().lack;
  if (nearest_ && lack >= nearest_lack_) return;
  nearest_lack_ = lack;
  nearest_ = entry.candidate;
}

void Proposer::note_broken(const Candidate& candidate, Refusal refusal) {
  broken_.push_back(candidate);
  if (!broken_refusal_) broken_refusal_ = std::move(refusal);
}

/// What only holes that are facts break among themselves.
bool Proposer::is_fact(const Finding& finding) const {
  if (finding.ids.empty()) return false;
  return std::all_of(finding.ids.begin(), finding.ids.end(), [&](const std::string& id) {
    return std::any_of(model_.items.begin(), model_.items.end(),
                       [&](const Item& item) { return item.id == id && item.fixed; });
  });
}

Placement Proposer::placement_of(const Candidate& candidate, const Laid& laid) const {
  const Placement* base = options_.placement ? &*options_.placement : nullptr;
  Placement placement;
  if (base != nullptr) placement = *base;
  const bool fresh = base == nullptr;
  const int revision = fresh || base->revisions.empty() ? (fresh ? 1 : 2) : base->revision() + 1;
  if (fresh) {
    placement.id =
        options_.placement_id.empty() ? model_.layout.id + "-on-" + model_.tube.id() : options_.placement_id;
    placement.tube_id = model_.tube.id();
    placement.layout_id = model_.layout.id;
  }
  const double sense = candidate.stand.sense;
  const Setting& s = candidate.setting;
  placement.mouth_end = candidate.stand.mouth_end;
  const auto set_cut = [&](Tracked<double>& cut, double at) {
    if (!cut.locked || fresh) cut = proposed(at, revision);
  };
  set_cut(placement.mouth_cut_at, sense * s.mouth + 0.0);
  set_cut(placement.foot_cut_at, sense * s.foot + 0.0);
  if (fresh || !placement.facing.locked) placement.facing = proposed(candidate.stand.facing, revision);
  placement.left_mark = HandMark{s.left - s.mouth, model_.marks[0].around};
  placement.right_mark = HandMark{s.right - s.mouth, model_.marks[1].around};
  const PlayedFrame frame(model_.tube, placement.mouth_end, placement.mouth_cut_at.value,
                          placement.foot_cut_at.value, placement.facing.value);
  const auto listed = [](const std::vector<PlacedId>& list, const std::string& id) {
    return std::find_if(list.begin(), list.end(), [&](const PlacedId& p) { return p.id == id; });
  };
  std::vector<PlacedId> keys;
  std::vector<PlacedId> parts;
  for (std::size_t i = 0; i < model_.items.size(); ++i) {
    const Item& item = model_.items[i];
    const std::vector<PlacedId>& before = item.is_key ? placement.keys : placement.parts;
    const auto entry = listed(before, item.id);
    PlacedId placed;
    if (item.fixed) {
      placed = *entry;
    } else {
      const SkinPlace place = frame.on_tube({laid.along[i], laid.around[i]});
      placed.id = item.id;
      placed.at = proposed(hundredths(place.at), revision);
      placed.around = proposed(hundredths(place.around), revision);
    }
    (item.is_key ? keys : parts).push_back(placed);
  }
  placement.keys = keys;
  placement.parts = parts;
  Revision entry;
  entry.number = revision;
  entry.date = options_.date;
  entry.what = "Proposed";
  if (base != nullptr && base->revisions.empty()) placement.revisions.push_back({1, "", "First placement"});
  placement.revisions.push_back(entry);
  if (base != nullptr) remember(*base, placement);
  return placement;
}

std::vector<std::string> Proposer::remarks_on(const std::vector<Finding>& findings) const {
  std::vector<std::string> remarks;
  for (const Finding& finding : findings) {
    if (finding.passes) continue;
    const bool fact = finding.severity == Severity::hard;
    remarks.push_back((fact ? "Drilled or locked already: " : "") + finding.sentence);
  }
  return remarks;
}

std::string amount_of(const Finding& finding) {
  const auto rule =
      std::find_if(rules().begin(), rules().end(), [&](const Rule& r) { return r.id == finding.rule; });
  const double lack = -finding.margin;
  switch (rule->unit) {
    case Unit::millimetre:
      return millimetres(lack, true);
    case Unit::degree:
      return degrees_of(std::ceil(lack * 10.0) / 10.0);
    case Unit::share:
      return percent(lack);
    case Unit::count:
      break;
  }
  return std::to_string(std::lround(lack));
}

/// A placing that settles, but breaks rules that no shift of keys mends.
Refusal broken_rules(const Candidate& candidate, const std::vector<Finding>& broken) {
  Refusal refusal;
  refusal.sentence = std::string("No placement: the nearest, mouth at ") +
                     (candidate.stand.mouth_end == End::a ? "A" : "B") + ", facing " +
                     std::to_string(std::lround(candidate.stand.facing.degrees())) +
                     "°, breaks what cannot be mended by shifting keys.";
  std::vector<Finding> worst;
  for (const Finding& finding : broken) {
    refusal.demands.push_back(finding.sentence);
    const auto same =
        std::find_if(worst.begin(), worst.end(), [&](const Finding& w) { return w.rule == finding.rule; });
    if (same == worst.end()) {
      worst.push_back(finding);
    } else if (finding.margin < same->margin) {
      *same = finding;
    }
  }
  for (const Finding& finding : worst) {
    const auto rule =
        std::find_if(rules().begin(), rules().end(), [&](const Rule& r) { return r.id == finding.rule; });
    refusal.relaxations.push_back("The limit of the rule “" + rule->title + "” relaxed by " +
                                  amount_of(finding) + ".");
  }
  return refusal;
}

/// Points of both hands together; none where comfort does not decide.
std::optional<double> Proposer::discomfort_of(const Instrument& instrument) {
  if (!comfort_decides()) return std::nullopt;
  double points = 0.0;
  for (const PlayedHand& hand : played_hands(model_.tube, model_.layout, instrument)) {
    points += hand_comfort(hand.model, hand.task).points();
    ++figures_.hands_judged;
  }
  return points;
}

void Proposer::check_entry(const Entry& entry) {
  const Tube& tube = model_.tube;
  Settler settler(model_, entry.candidate);
  Laid laid = *entry.laid;
  std::vector<Finding> broken;
  std::size_t fewest = std::numeric_limits<std::size_t>::max();
  int stale = 0;
  for (int round = 0; round <= most_tightenings; ++round) {
    ++figures_.checked;
    Proposal proposal;
    proposal.placement = placement_of(entry.candidate, laid);
    try {
      proposal.instrument = assemble(tube, model_.layout, proposal.placement);
    } catch (const InputError& error) {
      Refusal refusal;
      refusal.sentence = "No placement: the nearest stands off the tube or its hole is too wide for it.";
      for (const Problem& problem : error.problems()) {
        refusal.demands.push_back("Found " + problem.found + "; allowed: " + problem.allowed + ". " +
                                  problem.advice + ".");
      }
      note_broken(entry.candidate, std::move(refusal));
      return;
    }
    proposal.findings = check(tube, model_.layout, proposal.instrument);
    broken.clear();
    for (const Finding& finding : proposal.findings) {
      if (!finding.passes && finding.severity == Severity::hard && !is_fact(finding))
        broken.push_back(finding);
    }
    if (broken.empty()) {
      proposal.balance = balance_of(tube, proposal.instrument, model_.layout.playing_angle,
                                    model_.facts.mass_sigma_g, model_.facts.centre_sigma);
      proposal.terms = score_terms(model_, proposal.placement, proposal.instrument, proposal.balance,
                                   discomfort_of(proposal.instrument));
      for (const ScoreTerm& term : proposal.terms) proposal.score += term.points();
      proposal.character =
          character_of(model_, proposal.instrument, entry.candidate.internode, proposal.balance);
      proposal.placement.revisions.back().what = "Proposed: " + proposal.character;
      proposal.remarks = remarks_on(proposal.findings);
      accepted_.push_back({entry.candidate, std::move(proposal)});
      return;
    }
    // Where the same number of rules stays broken, shifting does not mend them.
    stale = broken.size() < fewest ? 0 : stale + 1;
    fewest = std::min(fewest, broken.size());
    if (stale > 1) break;
    bool any = false;
    for (const Finding& finding : broken) any = settler.tighten(finding, laid) || any;
    if (!any) break;
    const auto result = settler.run();
    if (!std::holds_alternative<Laid>(result)) break;
    laid = std::get<Laid>(result);
  }
  note_broken(entry.candidate, broken_rules(entry.candidate, broken));
}

/// Nothing could be placed: the candidate that comes nearest, with leeway added until one is found.
Refusal Proposer::refusal() {
  if (broken_refusal_) return *broken_refusal_;
  std::optional<Candidate> nearest = nearest_;
  for (double extra = 1.0; extra < 100.0 && !nearest; extra *= 2.0) {
    for (const Stand& stand : few_stands()) {
      StandSearch search(model_, needs_, stand, extra);
      for (const Candidate& candidate : search.candidates()) {
        if (!nearest || candidate.bound < nearest->bound) nearest = candidate;
      }
    }
  }
  if (!nearest) {
    Candidate candidate;
    candidate.stand = stands_.front();
    const double a = candidate.stand.y(model_.tube.end_a_at());
    const double b = candidate.stand.y(model_.tube.end_b_at());
    Setting& s = candidate.setting;
    s.mouth = std::min(a, b) + model_.layout.least_cut;
    s.foot = std::max(a, b) - model_.layout.least_cut;
    if (options_.mouth_cut_at) s.mouth = candidate.stand.y(*options_.mouth_cut_at);
    if (options_.foot_cut_at) s.foot = candidate.stand.y(*options_.foot_cut_at);
    if (model_.layout.greatest_length > 0.0) {
      s.foot = std::min(s.foot, s.mouth + model_.layout.greatest_length);
    }
    s.left = s.mouth + model_.marks[0].along;
    s.right = s.mouth + model_.marks[1].along;
    nearest = candidate;
  }
  return blocked_refusal(*nearest);
}

Refusal Proposer::blocked_refusal(const Candidate& candidate) const {
  // Farther than the leeway, so that a relaxation finds room to ask for.
  constexpr double far_beyond = 20.0;
  Settler settler(model_, candidate, far_beyond);
  const auto result = settler.run();
  if (const Blocked* why = std::get_if<Blocked>(&result)) {
    return refusal_of(model_, candidate, settler.blocked_problem(), *why);
  }
  Refusal refusal;
  refusal.sentence =
      "No placement: the hands' marks cannot be put where their keys have room. Shift the marks, or allow "
      "them "
      "more than " +
      millimetres(model_.layout.mark_leeway) + " of leeway.";
  return refusal;
}

std::vector<Proposal> Proposer::finished() {
  std::stable_sort(accepted_.begin(), accepted_.end(),
                   [](const Accepted& a, const Accepted& b) { return a.proposal.score < b.proposal.score; });
  const auto kept = static_cast<std::size_t>(options_.count);
  if (accepted_.size() > kept) accepted_.erase(accepted_.begin() + options_.count, accepted_.end());
  std::vector<Proposal> proposals;
  for (Accepted& accepted : accepted_) proposals.push_back(std::move(accepted.proposal));
  return proposals;
}

}  // namespace

PieceFacts facts_of(const Survey& survey) {
  PieceFacts facts;
  facts.butt = survey.butt;
  facts.handsome = survey.handsome;
  facts.mass_sigma_g = survey.errors.scale_g;
  facts.centre_sigma = survey.errors.balance;
  return facts;
}

std::variant<std::vector<Proposal>, Refusal> propose(const Tube& tube, const PieceFacts& facts,
                                                     const KeyLayout& layout, const ProposeOptions& options) {
  return Proposer(tube, facts, layout, options).run();
}

std::variant<std::vector<Proposal>, Refusal> propose(const TubeFit& fit, const KeyLayout& layout,
                                                     const ProposeOptions& options) {
  const PieceFacts facts = facts_of(fit.survey());
  return propose(fit.tube(), facts, layout, options);
}

}  // namespace culmwright
